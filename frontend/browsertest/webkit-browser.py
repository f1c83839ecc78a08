#!/usr/bin/python3
"""A WebKitGTK browser for tests that keeps its profile: the driver's own
MiniBrowser is private and leaves nothing to be read. Into the folder that it is
given go the engine's data and cache, and what browsers keep of open pages to
restore them: history, titles and the state of each page, as the engine gives it."""

import sys

import gi

gi.require_version("Gtk", "3.0")
gi.require_version("WebKit2", "4.1")
from gi.repository import GLib, Gtk, WebKit2  # noqa: E402

folder = sys.argv[1]
data = WebKit2.WebsiteDataManager(base_data_directory=f"{folder}/data", base_cache_directory=f"{folder}/cache")
context = WebKit2.WebContext(website_data_manager=data)
context.set_automation_allowed(True)
context.get_favicon_database()
view = WebKit2.WebView(web_context=context, is_controlled_by_automation=True)
window = Gtk.Window()
window.set_default_size(1280, 800)
window.add(view)
window.show_all()


def keep(*_):
    """Writes what a browser needs to show the same pages again."""
    state = view.get_session_state().serialize().get_data()
    items = view.get_back_forward_list()
    pages = [items.get_current_item(), *items.get_back_list(), *items.get_forward_list()]
    titles = "\n".join(f"{page.get_uri()}\t{page.get_title()}" for page in pages if page)
    GLib.file_set_contents(f"{folder}/session", state)
    GLib.file_set_contents(f"{folder}/history", titles.encode())
    return True


def started(_context, session):
    session.connect("create-web-view", lambda _session: view)


context.connect("automation-started", started)
view.connect("load-changed", keep)
GLib.timeout_add(250, keep)
Gtk.main()

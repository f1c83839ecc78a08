import { signal, type Signal } from '@preact/signals';
import { useState } from 'preact/hooks';
import { usePlace } from '../ui/address';
import { Button } from '../ui/button';
import { Dialog } from '../ui/dialog';
import { display, switchTheme } from '../ui/display';
import { Icon, type IconName } from '../ui/icon';
import { pageHead } from '../ui/page-head';
import { lock, signOut, syncState } from '../lib';
import { lazy } from './lazy';

/** How many states somebody must act on. */
export const attentionCount: Signal<number> = signal(0);

/** The visit whose screen is at a path, if it is one. */
export function visitAt(path: string): string | undefined {
  const [, first, id] = path.split('/');
  return first === 'visits' && id !== undefined && id !== '' ? id : undefined;
}

function Leave() {
  const [asking, setAsking] = useState(false);
  const leave = () => (syncState.value.waiting > 0 ? setAsking(true) : void signOut());
  const Ask = lazy.value?.SignOutDialog;
  return (
    <>
      <Button class="top-button" onPress={lock}>
        <Icon name="lock" />
        <span class="top-word">Lock</span>
      </Button>
      <Button class="top-button" kind="quiet" onPress={leave}>
        <Icon name="leave" />
        <span class="top-word">Sign out</span>
      </Button>
      {Ask ? <Ask open={asking} onClose={() => setAsking(false)} /> : null}
    </>
  );
}

/** Theme, hand, text size and sound, without leaving the work. */
function ScreenSettings() {
  const [open, setOpen] = useState(false);
  const Settings = lazy.value?.DisplaySettings;
  return (
    <>
      <Button class="top-button" kind="quiet" onPress={() => setOpen(true)}>
        <Icon name="look" />
        <span class="top-word">Screen</span>
      </Button>
      {Settings ? (
        <Dialog title="How the screens look" open={open} onClose={() => setOpen(false)}>
          <Settings />
        </Dialog>
      ) : null}
    </>
  );
}

/** One tap between indoors and outdoors. */
function Outdoors() {
  return (
    <Button class="top-button" kind="quiet" pressed={display.value.theme === 'outdoor'} onPress={switchTheme}>
      <Icon name="sun" />
      <span class="top-word">Outdoors</span>
    </Button>
  );
}

function networkWords(): readonly [icon: IconName, words: string, more: string] {
  const { asked, online } = syncState.value;
  if (!asked) return ['signal', 'Asking', ' the server'];
  return online ? ['signal', 'Connected', ''] : ['no-signal', 'No signal', ', kept on this tablet'];
}

function sentWords(): readonly [icon: IconName, count: string, words: string] {
  const { waiting, running } = syncState.value;
  if (waiting === 0) return ['tick', '', 'All sent'];
  return ['tray', waiting.toLocaleString('en-GB'), running ? 'being sent' : 'not sent yet'];
}

/**
 * Whether there is a network and how much is on this tablet only: both at any
 * time, whatever else there is to say.
 */
function Standing() {
  const [networkIcon, network, more] = networkWords();
  const [sentIcon, count, words] = sentWords();
  return (
    <a class="top-sync" href="/sync">
      <span class="top-chip">
        <Icon name={networkIcon} />
        <span class="top-word">
          {network}
          {more}
        </span>
      </span>
      <span class="top-chip">
        <Icon name={sentIcon} />
        <span class="top-count">
          {count === '' ? null : <strong>{count} </strong>}
          <span class={count === '' ? 'top-word' : 'top-small'}>{words}</span>
        </span>
      </span>
      {attentionCount.value > 0 ? (
        <strong class="top-look">
          {attentionCount.value} <span class="top-word">to look at</span>
        </strong>
      ) : null}
    </a>
  );
}

/** Pinned above every screen: the way back, whose records these are, and whether everything has been sent. */
export function TopBar() {
  const { path } = usePlace();
  const { back, over, overHref } = pageHead.value;
  const visit = visitAt(path);
  const Tools = lazy.value?.VisitTools;
  return (
    <header class="top-bar">
      {back === undefined ? null : (
        <a class="back top-icon" href={back.href}>
          <Icon name="back" />
          <span class="unseen">{back.label}</span>
        </a>
      )}
      {overHref === undefined || over === undefined ? (
        <span class="top-over">{over ?? 'Doorsill'}</span>
      ) : (
        <a class="top-over" href={overHref}>
          {over}
        </a>
      )}
      <Standing />
      <span class="top-tools">
        <Outdoors />
        <ScreenSettings />
        {visit === undefined ? <Leave /> : Tools ? <Tools visit={visit} /> : null}
      </span>
    </header>
  );
}

package main

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/signal"
	"syscall"
	"time"

	"doorsill/server"
	"doorsill/server/certs"
)

// stopWithin is how long stopping may take when nobody says otherwise: less than
// the 10 s after which container runtimes commonly kill.
const stopWithin = 8 * time.Second

// serveApp listens until the context ends or the program is told to stop, and
// lets requests that are under way finish.
func serveApp(ctx context.Context, con console, app *server.App, o serveOptions, log *slog.Logger) error {
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
	defer stop()
	hangups := make(chan os.Signal, 1)
	signal.Notify(hangups, syscall.SIGHUP) // before anybody can be told the address
	defer signal.Stop(hangups)
	listener, err := net.Listen("tcp", o.addr)
	if err != nil {
		return fmt.Errorf("listen: %w", err)
	}
	tlsConfig, reload, err := o.tls(log)
	if err != nil {
		return errors.Join(err, listener.Close())
	}
	requests := &gate{handler: app.Handler}
	httpServer := server.NewHTTPServer(requests, log, server.Times{})
	httpServer.TLSConfig = tlsConfig
	ended := make(chan error, 1)
	go func() {
		if tlsConfig != nil {
			ended <- httpServer.ServeTLS(listener, "", "")
			return
		}
		ended <- httpServer.Serve(listener)
	}()
	go reloadOn(ctx, hangups, reload)
	fmt.Fprintf(con.out, "Doorsill listens on %s. Ctrl-C stops it.\n", o.address(listener))
	select {
	case err := <-ended:
		return fmt.Errorf("serve: %w", err)
	case <-ctx.Done():
	}
	fmt.Fprintln(con.out, "Stopping: requests that are under way may finish.")
	if err := requests.stop(httpServer, o.stopWithin, log); err != nil {
		return err
	}
	if err := <-ended; !errors.Is(err, http.ErrServerClosed) {
		return fmt.Errorf("serve: %w", err)
	}
	return nil
}

func (o serveOptions) address(l net.Listener) string {
	scheme := "http"
	if o.tlsCert != "" || o.acme.Domain != "" {
		scheme = "https"
	}
	return scheme + "://" + l.Addr().String()
}

// tls says how HTTPS is served, or nil when it is not served here, and what to
// do when the program is told to read its files again.
func (o serveOptions) tls(log *slog.Logger) (config *tls.Config, reload func(), err error) {
	switch {
	case o.acme.Domain != "":
		return o.acme.Config(), func() { log.Info("nothing to read again: the certificate renews itself") }, nil
	case o.tlsCert == "":
		return nil, func() { log.Info("nothing to read again: this server has no certificate") }, nil
	}
	files, err := certs.LoadFiles(o.tlsCert, o.tlsKey, time.Now)
	if err != nil {
		return nil, nil, err
	}
	return files.Config(), func() {
		if err := files.Reload(); err != nil {
			log.Error("certificate not read again; the one from before stays", "error", err, "until", files.Ends())
			return
		}
		log.Info("certificate read again", "until", files.Ends())
	}, nil
}

// reloadOn reads files again whenever the program is told to, until the
// context ends.
func reloadOn(ctx context.Context, hangups <-chan os.Signal, reload func()) {
	for {
		select {
		case <-hangups:
			reload()
		case <-ctx.Done():
			return
		}
	}
}

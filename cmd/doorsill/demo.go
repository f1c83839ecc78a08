package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"log/slog"
	"time"

	"doorsill/internal/demo"
	"doorsill/internal/store"
	"doorsill/server"
)

// runDemo serves an invented service. It is made on the first start and kept
// in its folder, so that tablets find it again on the next.
func runDemo(ctx context.Context, args []string, con console) error {
	o := serveOptions{stopWithin: stopWithin}
	flags := flag.NewFlagSet("demo", flag.ContinueOnError)
	flags.StringVar(&o.data, "data", "data/demo", "keep the invented records in `DIR`")
	flags.StringVar(&o.addr, "addr", "127.0.0.1:8080", "listen on `HOST:PORT`, this machine only")
	if err := parseOptions(flags, con, args); err != nil {
		return err
	}
	if err := o.check(); err != nil {
		return err
	}
	log := slog.New(slog.NewJSONHandler(con.errOut, &slog.HandlerOptions{Level: slog.LevelWarn}))
	app, err := server.Open(o.data, server.Options{Log: log, Demo: demoHint()})
	if err != nil {
		return err
	}
	if err := seedOnce(ctx, app); err != nil {
		return errors.Join(err, app.Close())
	}
	fmt.Fprintf(con.out, "%s\n\n", demoHint())
	return errors.Join(serveApp(ctx, con, app, o, log), app.Close())
}

// seedOnce fills an empty service and leaves any other as it is.
func seedOnce(ctx context.Context, app *server.App) error {
	empty, err := app.Accounts.Empty(ctx)
	if err != nil || !empty {
		return err
	}
	var log string
	err = app.Store.View(ctx, func(r store.Reader) (err error) {
		log, err = r.LogID()
		return err
	})
	if err != nil {
		return err
	}
	return demo.Seed(ctx, demo.Service{Accounts: app.Accounts, Intake: app.Intake, Log: log}, time.Now())
}

// demoHint says that all is invented, and how to sign in.
func demoHint() string {
	hint := demo.Notice + "\nSign in with any of these names and the password \"" + demo.Password + "\":"
	for _, p := range demo.People() {
		hint += fmt.Sprintf("\n  %-7s %s, %s", p.Login, p.Name, p.Credential)
	}
	return hint
}

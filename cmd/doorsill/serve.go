package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"log/slog"
	"net"
	"net/netip"
	"os"
	"strings"
	"time"

	"doorsill/internal/store/bolt"
	"doorsill/server"
	"doorsill/server/certs"
)

// serveOptions say where and how a server listens.
type serveOptions struct {
	data, addr       string
	tlsCert, tlsKey  string
	acme             certs.ACME
	behindProxy      string
	metricsTokenFile string
	unsignedUntil    string
	stopWithin       time.Duration
	oidc             oidcOptions
	backups          backupPlan
}

// options defines what can be said on the command line.
func (o *serveOptions) options(flags *flag.FlagSet) {
	flags.StringVar(&o.data, "data", "data", "keep the records in `DIR`")
	flags.StringVar(&o.addr, "addr", "127.0.0.1:8080", "listen on `HOST:PORT`")
	flags.StringVar(&o.tlsCert, "tls-cert", "", "serve HTTPS with the certificate chain in `FILE`; SIGHUP reads it again")
	flags.StringVar(&o.tlsKey, "tls-key", "", "the certificate's private key, in `FILE`")
	flags.StringVar(&o.acme.Domain, "acme-domain", "", "serve HTTPS with a certificate for `NAME` that is fetched by ACME; port 443 of NAME must lead here")
	flags.StringVar(&o.acme.Cache, "acme-cache", "", "keep the fetched certificate and its keys in `DIR`")
	flags.StringVar(&o.acme.Directory, "acme-directory", "", "fetch from the ACME directory at `URL`; the default is Let's Encrypt, whose terms you then accept")
	flags.StringVar(&o.behindProxy, "behind-proxy", "", "the proxies at `ADDRESSES` serve HTTPS in front, such as 127.0.0.1,10.0.0.0/24; only they are answered, and only their X-Forwarded-For and X-Forwarded-Proto count")
	flags.StringVar(&o.metricsTokenFile, "metrics-token-file", "", "open /metrics to whoever sends the token in `FILE`")
	flags.StringVar(&o.unsignedUntil, "unsigned-until", "", "from `DATE` on, such as 2026-12-31 (UTC), take nothing from tablets that do not sign what they send")
	flags.DurationVar(&o.stopWithin, "stop-within", stopWithin, "when told to stop, let requests finish and end within `DURATION`")
	o.oidc.options(flags)
	o.backups.flags(flags)
}

// runServe serves until it is told to stop.
func runServe(ctx context.Context, args []string, con console) error {
	var o serveOptions
	flags := flag.NewFlagSet("serve", flag.ContinueOnError)
	o.options(flags)
	if err := parseOptions(flags, con, args); err != nil {
		return err
	}
	if err := o.check(); err != nil {
		return err
	}
	proxies, err := o.proxies()
	if err != nil {
		return err
	}
	token, err := o.metricsToken()
	if err != nil {
		return err
	}
	unsignedUntil, err := o.lastUnsigned()
	if err != nil {
		return err
	}
	signIn, err := o.oidc.provider()
	if err != nil {
		return err
	}
	plan, err := o.backups.plan()
	if err != nil {
		return err
	}
	log := slog.New(slog.NewJSONHandler(con.errOut, nil))
	app, err := server.Open(o.data, server.Options{
		Log: log, Secure: o.ways() > 0, Proxies: proxies, MetricsToken: token, Provider: signIn, Backups: plan,
		UnsignedUntil: unsignedUntil,
		Names:         []string{o.acme.Domain, o.oidc.issuer, o.oidc.publicURL},
	})
	if err != nil {
		return err
	}
	if unsafe := bolt.DiskWarning(o.data); unsafe != "" {
		log.Warn(unsafe)
	}
	if err := tellFirstSteps(ctx, con, app, o.data); err != nil {
		return errors.Join(err, app.Close())
	}
	return errors.Join(serveWithBackups(ctx, con, app, o, log), app.Close())
}

// check refuses what does not fit together, and what would send passwords or
// records over a network in clear.
func (o serveOptions) check() error {
	if (o.tlsCert == "") != (o.tlsKey == "") {
		return &usageError{"--tls-cert and --tls-key belong together", "give both or neither"}
	}
	if (o.acme.Domain == "") != (o.acme.Cache == "") {
		return &usageError{"--acme-domain and --acme-cache belong together", "without a cache each start asks for a new certificate, which the authority soon refuses"}
	}
	if o.ways() > 1 {
		return &usageError{"--tls-cert, --acme-domain and --behind-proxy exclude each other", "say one way in which HTTPS is served"}
	}
	if o.stopWithin <= 0 {
		return &usageError{fmt.Sprintf("--stop-within: expected a time above 0, got %s", o.stopWithin), "for example --stop-within 8s"}
	}
	host, _, err := net.SplitHostPort(o.addr)
	if err != nil {
		return &usageError{fmt.Sprintf("--addr: expected HOST:PORT, got %q", o.addr), "for example --addr 127.0.0.1:8080"}
	}
	if o.ways() == 0 && !isLoopback(host) {
		return &usageError{
			fmt.Sprintf("%s can be reached from other machines, and nothing would be encrypted", o.addr),
			"give --tls-cert and --tls-key, or --acme-domain and --acme-cache, or --behind-proxy when a proxy serves HTTPS, or listen on 127.0.0.1",
		}
	}
	return nil
}

// ways counts the ways in which browsers are to reach the server by HTTPS.
func (o serveOptions) ways() int {
	n := 0
	for _, given := range []string{o.tlsCert, o.acme.Domain, o.behindProxy} {
		if given != "" {
			n++
		}
	}
	return n
}

func (o serveOptions) proxies() ([]netip.Prefix, error) {
	if o.behindProxy == "" {
		return nil, nil
	}
	proxies, err := server.ParseProxies(o.behindProxy)
	if err != nil {
		return nil, &usageError{"--behind-proxy: " + err.Error(), "give the addresses that the proxies connect from"}
	}
	return proxies, nil
}

// lastUnsigned is when unsigned pushes end; the zero time is never.
func (o serveOptions) lastUnsigned() (time.Time, error) {
	if o.unsignedUntil == "" {
		return time.Time{}, nil
	}
	end, err := time.Parse(time.DateOnly, o.unsignedUntil)
	if err != nil {
		return end, &usageError{fmt.Sprintf("--unsigned-until: expected a date such as 2026-12-31, got %q", o.unsignedUntil), "by then every tablet must have been online once with this version"}
	}
	return end, nil
}

func isLoopback(host string) bool {
	return host == "localhost" || net.ParseIP(host).IsLoopback()
}

func (o serveOptions) metricsToken() (string, error) {
	if o.metricsTokenFile == "" {
		return "", nil
	}
	data, err := os.ReadFile(o.metricsTokenFile)
	if err != nil {
		return "", fmt.Errorf("read metrics token: %w", err)
	}
	token := strings.TrimSpace(string(data))
	if len(token) < 16 {
		return "", &usageError{"the metrics token is too short", "write at least 16 random characters into " + o.metricsTokenFile}
	}
	return token, nil
}

// tellFirstSteps says what to do on a server that nobody can sign in to.
func tellFirstSteps(ctx context.Context, con console, app *server.App, data string) error {
	empty, err := app.Accounts.Empty(ctx)
	if err != nil || !empty {
		return err
	}
	_, err = fmt.Fprintf(con.out, `Nobody can sign in yet. Stop the server and make the first accounts:
  doorsill account team add --data %[1]s --name "First team"
  doorsill account add --data %[1]s --login admin --name "Your name" --role admin
`, data)
	return err
}

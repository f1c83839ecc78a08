package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"

	"doorsill/server"
)

// serveOptions say where and how a server listens.
type serveOptions struct {
	data, addr       string
	tlsCert, tlsKey  string
	behindProxy      bool
	metricsTokenFile string
}

// stopWithin is how long requests that are under way may take to end.
const stopWithin = 10 * time.Second

// runServe serves until it is told to stop.
func runServe(ctx context.Context, args []string, con console) error {
	var o serveOptions
	flags := flag.NewFlagSet("serve", flag.ContinueOnError)
	flags.StringVar(&o.data, "data", "data", "keep the records in `DIR`")
	flags.StringVar(&o.addr, "addr", "127.0.0.1:8080", "listen on `HOST:PORT`")
	flags.StringVar(&o.tlsCert, "tls-cert", "", "serve HTTPS with the certificate chain in `FILE`")
	flags.StringVar(&o.tlsKey, "tls-key", "", "the certificate's private key, in `FILE`")
	flags.BoolVar(&o.behindProxy, "behind-proxy", false, "a proxy in front serves HTTPS and sets X-Forwarded-For")
	flags.StringVar(&o.metricsTokenFile, "metrics-token-file", "", "open /metrics to whoever sends the token in `FILE`")
	if err := parseOptions(flags, con, args); err != nil {
		return err
	}
	if err := o.check(); err != nil {
		return err
	}
	token, err := o.metricsToken()
	if err != nil {
		return err
	}
	log := slog.New(slog.NewJSONHandler(con.errOut, nil))
	app, err := server.Open(o.data, server.Options{
		Log: log, Secure: o.secure(), BehindProxy: o.behindProxy, MetricsToken: token,
	})
	if err != nil {
		return err
	}
	if err := tellFirstSteps(ctx, con, app, o.data); err != nil {
		return errors.Join(err, app.Close())
	}
	return errors.Join(serveApp(ctx, con, app, o, log), app.Close())
}

// check refuses what would send passwords or records over a network in clear.
func (o serveOptions) check() error {
	if (o.tlsCert == "") != (o.tlsKey == "") {
		return &usageError{"--tls-cert and --tls-key belong together", "give both or neither"}
	}
	host, _, err := net.SplitHostPort(o.addr)
	if err != nil {
		return &usageError{fmt.Sprintf("--addr: expected HOST:PORT, got %q", o.addr), "for example --addr 127.0.0.1:8080"}
	}
	if !o.secure() && !isLoopback(host) {
		return &usageError{
			fmt.Sprintf("%s can be reached from other machines, and nothing would be encrypted", o.addr),
			"give --tls-cert and --tls-key, or --behind-proxy when a proxy serves HTTPS, or listen on 127.0.0.1",
		}
	}
	return nil
}

func (o serveOptions) secure() bool { return o.tlsCert != "" || o.behindProxy }

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

// serveApp listens until the context ends or the program is told to stop, and
// lets requests that are under way finish.
func serveApp(ctx context.Context, con console, app *server.App, o serveOptions, log *slog.Logger) error {
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
	defer stop()
	listener, err := net.Listen("tcp", o.addr)
	if err != nil {
		return fmt.Errorf("listen: %w", err)
	}
	httpServer := server.NewHTTPServer(app.Handler, log)
	ended := make(chan error, 1)
	go func() {
		if o.tlsCert != "" {
			ended <- httpServer.ServeTLS(listener, o.tlsCert, o.tlsKey)
			return
		}
		ended <- httpServer.Serve(listener)
	}()
	fmt.Fprintf(con.out, "Doorsill listens on %s. Ctrl-C stops it.\n", o.address(listener))
	select {
	case err := <-ended:
		return fmt.Errorf("serve: %w", err)
	case <-ctx.Done():
	}
	fmt.Fprintln(con.out, "Stopping: requests that are under way may finish.")
	wait, cancel := context.WithTimeout(context.Background(), stopWithin)
	defer cancel()
	if err := httpServer.Shutdown(wait); err != nil {
		return errors.Join(fmt.Errorf("stop: %w", err), httpServer.Close())
	}
	if err := <-ended; !errors.Is(err, http.ErrServerClosed) {
		return fmt.Errorf("serve: %w", err)
	}
	return nil
}

func (o serveOptions) address(l net.Listener) string {
	scheme := "http"
	if o.tlsCert != "" {
		scheme = "https"
	}
	return scheme + "://" + l.Addr().String()
}

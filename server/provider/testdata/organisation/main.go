// Command organisation runs an OpenID provider that is not ours, with two
// invented people, for tests that need one in a process of its own. It prints
// its issuer and ends when its standard input does.
package main

import (
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"

	"github.com/zitadel/oidc/v3/example/server/exampleop"
	"github.com/zitadel/oidc/v3/example/server/storage"
)

// people are who has an account at the organisation, by subject.
type people map[string]*storage.User

// GetUserByID finds by subject.
func (p people) GetUserByID(id string) *storage.User { return p[id] }

// GetUserByUsername finds by the name that is typed.
func (p people) GetUserByUsername(name string) *storage.User {
	for _, one := range p {
		if one.Username == name {
			return one
		}
	}
	return nil
}

// ExampleClientID names a client of the provider's own, which nobody uses.
func (p people) ExampleClientID() string { return "none" }

func main() {
	back := flag.String("back", "", "send people back to `URL`")
	secret := flag.String("secret", "", "the `SECRET` that the client \"doorsill\" shows")
	password := flag.String("password", "", "everybody's `PASSWORD` here")
	flag.Parse()
	if err := run(*back, *secret, *password); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(back, secret, password string) error {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	all := people{}
	for _, name := range []string{"marit", "stranger"} {
		all[name+"-at-the-organisation"] = &storage.User{
			ID: name + "-at-the-organisation", Username: name, Password: password,
			Email: name + "@clinic.example", EmailVerified: true,
		}
	}
	issuer := "http://" + listener.Addr().String()
	clients := map[string]*storage.Client{"doorsill": storage.WebClient("doorsill", secret, back)}
	handler := exampleop.SetupServer(issuer, storage.NewStorageWithClients(all, clients), nil, false)
	go func() {
		_, _ = io.Copy(io.Discard, os.Stdin) // whoever started this has gone
		_ = listener.Close()
	}()
	fmt.Println("issuer", issuer)
	err = http.Serve(listener, handler)
	if _, gone := err.(*net.OpError); gone {
		return nil
	}
	return err
}

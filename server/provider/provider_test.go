package provider_test

import (
	"context"
	"errors"
	"net/http"
	"net/http/httptest"
	"testing"
	"time"

	"doorsill/server/provider"
)

// TestAProviderThatHangsMakesNoQueue: whoever signs in while somebody else waits
// for the provider is not kept behind them.
func TestAProviderThatHangsMakesNoQueue(t *testing.T) {
	asked := make(chan struct{}, 2)
	hung := httptest.NewServer(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) {
		asked <- struct{}{}
		<-r.Context().Done()
	}))
	defer hung.Close()
	p, err := provider.New(provider.Options{
		Issuer: hung.URL, ClientID: "doorsill", Return: "https://doorsill.example/return",
		Secret: func() (string, error) { return "invented", nil }, Client: &http.Client{},
	})
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan error, 2)
	for range 2 {
		go func() {
			_, _, err := p.Begin(ctx)
			ended <- err
		}()
	}
	for n := range 2 {
		select {
		case <-asked:
		case <-time.After(10 * time.Second):
			t.Errorf("the provider was asked %d times, want 2", n)
		}
	}
	stop()
	for range 2 {
		if err := <-ended; !errors.Is(err, provider.ErrUnreachable) {
			t.Error(err)
		}
	}
}

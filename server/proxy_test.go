package server

import (
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"strings"
	"testing"
)

func proxies(t *testing.T, list string) []netip.Prefix {
	t.Helper()
	parsed, err := ParseProxies(list)
	if err != nil {
		t.Fatal(err)
	}
	return parsed
}

func TestForwardedAddressesCountFromOurProxiesOnly(t *testing.T) {
	ours := proxyList(proxies(t, "127.0.0.1, 10.1.0.0/16,2001:db8::5"))
	for _, c := range []struct {
		name    string
		list    proxyList
		peer    string
		headers []string
		want    string
	}{
		{"without proxies the header is nothing", nil, "127.0.0.1:5000", []string{"203.0.113.9"}, "127.0.0.1"},
		{"from our proxy its own entry", ours, "127.0.0.1:5000", []string{"203.0.113.9, 198.51.100.20"}, "198.51.100.20"},
		{"in two headers", ours, "127.0.0.1:5000", []string{"203.0.113.9", "198.51.100.20"}, "198.51.100.20"},
		{"through two of our proxies", ours, "127.0.0.1:5000", []string{"203.0.113.9, 198.51.100.20, 10.1.2.3"}, "198.51.100.20"},
		{"from anybody else the header is nothing", ours, "192.0.2.7:5000", []string{"203.0.113.9"}, "192.0.2.7"},
		{"nonsense", ours, "127.0.0.1:5000", []string{"not an address"}, "127.0.0.1"},
		{"nonsense before our entry", ours, "127.0.0.1:5000", []string{"\" x, 198.51.100.20"}, "198.51.100.20"},
		{"no header", ours, "127.0.0.1:5000", nil, "127.0.0.1"},
		{"only our own proxies", ours, "127.0.0.1:5000", []string{"10.1.2.3"}, "10.1.2.3"},
		{"an IPv4 address in IPv6", ours, "[::ffff:127.0.0.1]:5000", []string{"::ffff:198.51.100.20"}, "198.51.100.20"},
		{"IPv6", ours, "[2001:db8::5]:5000", []string{"2001:db8:7::1"}, "2001:db8:7::1"},
	} {
		r := httptest.NewRequest("GET", "/", nil)
		r.RemoteAddr = c.peer
		for _, h := range c.headers {
			r.Header.Add("X-Forwarded-For", h)
		}
		if got := c.list.sourceOf(r); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

func TestProxiesAreReadOrExplained(t *testing.T) {
	for _, bad := range []string{"", "proxy.example", "10.0.0.1,", "10.0.0.1/33", "10.0.0.1 10.0.0.2"} {
		if _, err := ParseProxies(bad); err == nil || !strings.Contains(err.Error(), "commas between") {
			t.Errorf("%q: %v", bad, err)
		}
	}
}

func TestBehindAProxyNothingElseIsAnswered(t *testing.T) {
	s := openSite(t, Options{Secure: true, Proxies: proxies(t, "10.1.0.1")})
	for _, c := range []struct {
		name, peer, proto, path string
		status                  int
		code                    string
	}{
		{"through the proxy", "10.1.0.1:9", "https", "/api/v1/session", 401, "signed-out"},
		{"through a proxy that does not say", "10.1.0.1:9", "", "/api/v1/session", 401, "signed-out"},
		{"through the proxy in clear", "10.1.0.1:9", "http", "/api/v1/session", 403, "insecure"},
		{"around the proxy", "10.1.0.2:9", "https", "/api/v1/session", 403, "not-proxied"},
		{"a page around the proxy", "10.1.0.2:9", "", "/", 403, "not-proxied"},
		{"from the machine itself", "127.0.0.1:9", "", "/metrics", 403, "not-proxied"},
		{"whoever watches it", "127.0.0.1:9", "", "/healthz", 200, ""},
	} {
		r := s.request("GET", c.path, "", nil)
		r.RemoteAddr = c.peer
		if c.proto != "" {
			r.Header.Set("X-Forwarded-Proto", c.proto)
		}
		got := s.send(r)
		if got.Code != c.status || c.code != "" && got.refused(t).Error != c.code {
			t.Errorf("%s: %d %s", c.name, got.Code, got.Body)
		}
		if got.Header().Get("Strict-Transport-Security") == "" {
			t.Errorf("%s: headers %v", c.name, got.Header())
		}
	}
}

func TestWithoutBehindProxyForwardedRequestsAreRefusedWithAHint(t *testing.T) {
	out := &logged{}
	s := openSite(t, Options{Log: slog.New(slog.NewTextHandler(out, nil))})
	for _, c := range []struct{ header, path string }{
		{"X-Forwarded-For", "/api/v1/session"},
		{"x-forwarded-proto", "/"},
		{"X-FORWARDED-HOST", "/metrics"},
		{"X-Forwarded-Anything", "/healthz"},
		{"Forwarded", "/api/v1/session"}, // RFC 7239
	} {
		for _, value := range []string{"203.0.113.9", ""} {
			r := s.request("GET", c.path, "", nil)
			r.Header.Set(c.header, value)
			got := s.send(r)
			e := got.refused(t)
			if got.Code != http.StatusBadRequest || e.Error != "forwarded" || !strings.EqualFold(e.Field, c.header) || !strings.Contains(e.Message, "--behind-proxy") {
				t.Errorf("%s %q at %s: %d %s", c.header, value, c.path, got.Code, got.Body)
			}
		}
	}
	if got := s.send(s.request("GET", "/healthz", "", nil)); got.Code != http.StatusOK {
		t.Errorf("without such a header: %d", got.Code)
	}
	if n := strings.Count(out.String(), "start it with --behind-proxy"); n != 1 {
		t.Errorf("the log says it %d times, want once", n)
	}
}

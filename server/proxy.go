package server

import (
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"strings"
	"sync"
)

// ParseProxies reads addresses and networks, such as 10.0.0.5 or 10.0.0.0/24,
// with commas between. The error says which could not be read.
func ParseProxies(list string) ([]netip.Prefix, error) {
	var proxies []netip.Prefix
	for one := range strings.SplitSeq(list, ",") {
		one = strings.TrimSpace(one)
		if addr, err := netip.ParseAddr(one); err == nil {
			addr = addr.Unmap().WithZone("")
			proxies = append(proxies, netip.PrefixFrom(addr, addr.BitLen()))
			continue
		}
		network, err := netip.ParsePrefix(one)
		if err != nil {
			return nil, fmt.Errorf("expected addresses or networks with commas between, such as 127.0.0.1,10.0.0.0/24, got %q", one)
		}
		proxies = append(proxies, network.Masked())
	}
	return proxies, nil
}

// proxyList is who may say for whom they ask.
type proxyList []netip.Prefix

func (p proxyList) holds(addr netip.Addr) bool {
	for _, network := range p {
		if network.Contains(addr) {
			return true
		}
	}
	return false
}

// peerOf is the other end of the connection; the zero Addr if it is no
// address.
func peerOf(r *http.Request) netip.Addr {
	peer, err := netip.ParseAddrPort(r.RemoteAddr)
	if err != nil {
		return netip.Addr{}
	}
	return peer.Addr().Unmap().WithZone("")
}

// sourceOf is the address that the request came from. X-Forwarded-For counts
// only when the connection comes from a proxy of ours, and then from its end:
// each proxy of ours appended whom it heard from, and what stands before was
// written by somebody else.
func (p proxyList) sourceOf(r *http.Request) string {
	peer := peerOf(r)
	if !peer.IsValid() {
		host, _, err := net.SplitHostPort(r.RemoteAddr)
		if err != nil {
			return r.RemoteAddr
		}
		return host
	}
	list := strings.Split(strings.Join(r.Header.Values("X-Forwarded-For"), ","), ",")
	for i := len(list) - 1; i >= 0 && p.holds(peer); i-- {
		before, err := netip.ParseAddr(strings.TrimSpace(list[i]))
		if err != nil {
			break
		}
		peer = before.Unmap().WithZone("")
	}
	return peer.String()
}

// withProxy keeps out what did not come through a proxy of ours over HTTPS:
// passwords and records would have crossed a network in clear. Without proxies it
// refuses what a proxy forwarded.
func (s *server) withProxy(next http.Handler) http.Handler {
	if len(s.proxies) == 0 {
		return s.withoutForwarded(next)
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch {
		case r.URL.Path == "/healthz":
			// Whoever watches the service may ask it directly.
		case !s.proxies.holds(peerOf(r)):
			writeJSON(w, http.StatusForbidden, ErrorAnswer{Error: "not-proxied", Message: "This server answers only through its proxy."})
			return
		case strings.EqualFold(r.Header.Get("X-Forwarded-Proto"), "http"):
			writeJSON(w, http.StatusForbidden, ErrorAnswer{Error: "insecure", Message: "Please open this address with https."})
			return
		}
		next.ServeHTTP(w, r)
	})
}

// withoutForwarded refuses what says that it was forwarded, by a proxy that this
// server was not told of: everybody behind it would count as one source, and
// cookies would not be bound to HTTPS. Whoever watches the service is refused as
// well, so that it is noticed when it is set up. The log says it once.
func (s *server) withoutForwarded(next http.Handler) http.Handler {
	var once sync.Once
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		header := forwardedHeader(r.Header)
		if header == "" {
			next.ServeHTTP(w, r)
			return
		}
		once.Do(func() {
			s.deps.Log.Warn("requests come through a proxy that this server was not told of and are refused; start it with --behind-proxy and the proxy's address",
				"header", header, "source", traceOf(r).source)
		})
		writeJSON(w, http.StatusBadRequest, ErrorAnswer{
			Error: "forwarded", Field: header, Want: "no proxy, or a server that was started with --behind-proxy and the proxy's address",
			Message: "This server was not told that there is a proxy in front of it. Whoever runs it starts it with --behind-proxy and the proxy's address.",
		})
	})
}

// forwardedHeader is the first name, by the alphabet, of a header with which a
// proxy says for whom it asks, or empty.
func forwardedHeader(h http.Header) string {
	first := ""
	for name := range h {
		if (name == "Forwarded" || strings.HasPrefix(name, "X-Forwarded-")) && (first == "" || name < first) {
			first = name // net/http has spelt them in one way
		}
	}
	return first
}

package server

import (
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"strings"
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
// passwords and records would have crossed a network in clear. Without proxies
// it does nothing.
func (p proxyList) withProxy(next http.Handler) http.Handler {
	if len(p) == 0 {
		return next
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch {
		case r.URL.Path == "/healthz":
			// Whoever watches the service may ask it directly.
		case !p.holds(peerOf(r)):
			writeJSON(w, http.StatusForbidden, ErrorAnswer{Error: "not-proxied", Message: "This server answers only through its proxy."})
			return
		case strings.EqualFold(r.Header.Get("X-Forwarded-Proto"), "http"):
			writeJSON(w, http.StatusForbidden, ErrorAnswer{Error: "insecure", Message: "Please open this address with https."})
			return
		}
		next.ServeHTTP(w, r)
	})
}

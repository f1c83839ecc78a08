package server

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"doorsill/internal/model"
)

// fill takes places until there is none left and returns how many there were.
func fill(c *crowd, source func(i int) string, person string) (n int) {
	for n < 1000 {
		if _, ok := c.enter(source(n), person); !ok {
			return n
		}
		n++
	}
	return n
}

func TestOneAddressCanNotTakeEveryPlace(t *testing.T) {
	for _, c := range []struct {
		name   string
		source func(i int) string
		most   int
		other  string
	}{
		{"one address", func(int) string { return "192.0.2.1" }, maxOfSource, "192.0.2.2"},
		{"a /64", func(i int) string { return fmt.Sprintf("2001:db8:1:2::%x", i) }, maxOfSource, "2001:db8:1:3::1"},
		{"a /24", func(i int) string { return fmt.Sprintf("192.0.2.%d", i%256) }, maxOfNetwork, "192.0.3.1"},
		{"a /48", func(i int) string { return fmt.Sprintf("2001:db8:1:%x::1", i) }, maxOfNetwork, "2001:db8:2::1"},
		{"no address", func(int) string { return "pipe" }, maxOfSource, "192.0.2.1"},
	} {
		crowd := newCrowd()
		if n := fill(crowd, c.source, ""); n != c.most {
			t.Errorf("%s holds %d places, want %d", c.name, n, c.most)
		}
		if _, ok := crowd.enter(c.other, ""); !ok {
			t.Errorf("%s leaves none to %s", c.name, c.other)
		}
	}
}

func TestStrangersCanNotTakeEveryPlace(t *testing.T) {
	anywhere := func(i int) string { return fmt.Sprintf("10.%d.0.1", i%250) }
	c := newCrowd()
	if n := fill(c, anywhere, ""); n != maxOfStrangers {
		t.Errorf("strangers hold %d places, want %d", n, maxOfStrangers)
	}
	if n := fill(c, anywhere, "mara"); n != maxOfPerson {
		t.Errorf("one person holds %d places beside them, want %d", n, maxOfPerson)
	}
	if n := fill(c, anywhere, "davit"); n != maxAtOnce-maxOfStrangers-maxOfPerson {
		t.Errorf("another person holds %d places, want the rest", n)
	}
	if _, ok := c.enter("192.0.2.1", "ilse"); ok {
		t.Error("there are more places than the server takes at once")
	}
}

func TestPlacesAreGivenBack(t *testing.T) {
	c := newCrowd()
	for _, person := range []string{"", "mara"} {
		for range 3 * maxAtOnce {
			leave, ok := c.enter("192.0.2.1", person)
			if !ok {
				t.Fatal("a place was not given back")
			}
			leave()
		}
	}
	if c.all != 0 || c.strangers != 0 || len(c.by) != 0 {
		t.Errorf("after everybody has left: %+v", c)
	}
}

// from opens a connection from an address of this machine.
func (s socket) from(t *testing.T, source string) net.Conn {
	t.Helper()
	d := net.Dialer{LocalAddr: &net.TCPAddr{IP: net.ParseIP(source)}}
	c, err := d.DialContext(t.Context(), "tcp", s.at)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = c.Close() })
	if err := c.SetDeadline(time.Now().Add(patience)); err != nil {
		t.Fatal(err)
	}
	return c
}

// status sends a request and returns the status of the answer.
func status(t *testing.T, c net.Conn, method, path, kind, cookie, body string) string {
	t.Helper()
	send(t, c, fmt.Sprintf("%s %s HTTP/1.1\r\nHost: x\r\nConnection: close\r\nCookie: %s\r\nContent-Type: %s\r\nContent-Length: %d\r\n\r\n%s", method, path, cookie, kind, len(body), body))
	said, err := io.ReadAll(c)
	if err != nil || len(said) < 12 {
		t.Fatalf("%q, %v", said, err)
	}
	return string(said[9:12])
}

// slowBody begins a sign-in and says whether the server waits for its body.
func (s socket) slowBody(t *testing.T, source string) (c net.Conn, waits bool) {
	t.Helper()
	c = s.from(t, source)
	send(t, c, "POST /api/v1/session HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: 400\r\nExpect: 100-continue\r\n\r\n")
	line, err := bufio.NewReaderSize(c, 16).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(line, " 100 ") && !strings.Contains(line, " 503 ") {
		t.Fatalf("answered %q", line)
	}
	return c, strings.Contains(line, " 100 ")
}

// TestSlowBodiesFromFewAddressesKeepNobodyOut holds 300 slow bodies open from 4
// addresses, while a tablet sends, a person signs in in a browser that is known,
// and a stranger comes.
func TestSlowBodiesFromFewAddressesKeepNobodyOut(t *testing.T) {
	s := serveSocket(t, Times{Header: time.Hour, Body: time.Hour, SmallBody: time.Hour, Slow: time.Hour, Answer: time.Hour})
	session := s.cookieOf(t, clinician).String()
	in := s.send(s.request("POST", "/api/v1/session", leadBody(goodPassword), nil)).Result().Cookies()
	held := 0
	for i := range 300 {
		if _, waits := s.slowBody(t, fmt.Sprintf("127.0.%d.1", 10+i%4)); waits {
			held++
		}
	}
	if held != maxOfStrangers {
		t.Errorf("%d slow bodies are waited for, want %d", held, maxOfStrangers)
	}
	for i, source := range []string{"127.0.10.1", "127.0.99.1"} { // behind one of the addresses, and elsewhere
		push := pushBody(s.tablet, int64(4+i), s.event(t, int64(4+i), model.KindVisitNoted, s.visit, model.VisitNoted{Fields: map[string]string{"note": "x"}}))
		if got := status(t, s.from(t, source), "POST", pushPath, "application/x-ndjson", session, push); got != "200" {
			t.Errorf("a signed-in tablet at %s: %s", source, got)
		}
		if got := status(t, s.from(t, source), "POST", "/api/v1/session", "application/json", in[1].Name+"="+in[1].Value, leadBody(goodPassword)); got != "200" {
			t.Errorf("somebody who signs in in a known browser at %s: %s", source, got)
		}
	}
	if got := status(t, s.from(t, "127.0.99.1"), "GET", "/healthz", "", "", ""); got != "503" {
		t.Errorf("a stranger: %s", got)
	}
}

// TestFault37ABodyHasALeastRate: one that drips is cut long before all of its time
// is over, and a slow one that brings enough comes through.
func TestFault37ABodyHasALeastRate(t *testing.T) {
	s := serveSocket(t, Times{Header: time.Hour, Body: time.Hour, SmallBody: time.Hour, Slow: 200 * time.Millisecond, Answer: time.Hour})
	for path, kind := range map[string]string{"/api/v1/session": "application/json", pushPath: "application/x-ndjson"} {
		c := s.dial(t)
		send(t, c, fmt.Sprintf("POST %s HTTP/1.1\r\nHost: x\r\nCookie: %s\r\nContent-Type: %s\r\nContent-Length: 4000\r\n\r\n{", path, s.cookieOf(t, clinician), kind))
		go drip(c) // 50 bytes a second
		if said := untilCut(t, c); !strings.Contains(said, `"error":"too-slow"`) {
			t.Errorf("%s: answered %q", path, said)
		}
	}
	c := s.dial(t)
	body := leadBody(goodPassword) + strings.Repeat(" ", 6000)
	send(t, c, fmt.Sprintf("POST /api/v1/session HTTP/1.1\r\nHost: x\r\nConnection: close\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n", len(body)))
	beat := time.NewTicker(20 * time.Millisecond)
	defer beat.Stop()
	for len(body) > 0 { // 10 kB a second, for three times as long as it may be slower
		piece := body[:min(200, len(body))]
		send(t, c, piece)
		body = body[len(piece):]
		<-beat.C
	}
	if said := untilCut(t, c); !strings.HasPrefix(said, fmt.Sprintf("HTTP/1.1 %d ", http.StatusOK)) {
		t.Errorf("a slow body that brings enough: %q", said)
	}
}

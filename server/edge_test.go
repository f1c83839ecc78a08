package server

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"doorsill/internal/account"
)

func TestTheContentPolicyIsExact(t *testing.T) {
	const want = "base-uri 'none'; connect-src 'self'; default-src 'none'; font-src 'self'; form-action 'self'; frame-ancestors 'none'; " +
		"img-src 'self' data: blob:; manifest-src 'self'; require-trusted-types-for 'script'; " +
		"script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; trusted-types doorsill; worker-src 'self'"
	if got := contentPolicy().String(); got != want {
		t.Errorf("policy\n%s\nwant\n%s", got, want)
	}
}

func TestWhatIsWrongWithABodyIsSaid(t *testing.T) {
	s := newSite(t, Options{})
	for _, c := range []struct {
		name, kind, path, body string
		status                 int
		code, field            string
	}{
		{"not JSON by its type", "text/plain", "/api/v1/session", `{}`, 415, "content-type", "Content-Type"},
		{"empty", "application/json", "/api/v1/session", ``, 400, "broken-json", ""},
		{"cut off", "application/json", "/api/v1/session", `{"name":`, 400, "broken-json", ""},
		{"an unknown field", "application/json", "/api/v1/session", `{"nmae":"x"}`, 400, "broken-json", "nmae"},
		{"a field in other capitals", "application/json", "/api/v1/session", `{"NAME":"x"}`, 400, "broken-json", "NAME"},
		{"a field in two spellings", "application/json", "/api/v1/session", `{"name":"x","Name":"y"}`, 400, "broken-json", "Name"},
		{"a wrong type", "application/json", "/api/v1/session", `{"name":7}`, 400, "broken-json", "name"},
		{"a field twice", "application/json", "/api/v1/session", `{"name":"x","name":"y"}`, 400, "broken-json", "name"},
		{"two objects", "application/json", "/api/v1/session", `{} {}`, 400, "broken-json", ""},
		{"too large", "application/json", "/api/v1/session", `{"name":"` + strings.Repeat("x", maxBody) + `"}`, 413, "too-large", ""},
		{"a push that is no push by its type", "application/json", pushPath, `{}`, 415, "content-type", "Content-Type"},
		{"a push that is empty", "application/x-ndjson", pushPath, ``, 400, "damaged", ""},
		{"a push whose first line names a field in two spellings", "application/x-ndjson", pushPath, `{"log":"","LOG":"x","tablet":"x","from":1,"count":0,"sha256":"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"}` + "\n", 400, "damaged", ""},
		{"a push whose first line has an unknown field", "application/x-ndjson", pushPath, `{"log":"","tablet":"x","from":1,"count":0,"more":1,"sha256":"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"}` + "\n", 400, "damaged", ""},
		{"a sealed push in other capitals", "application/json", sealedPath, `{"Format":"x"}`, 400, "damaged", ""},
		{"a push that is cut off", "application/x-ndjson", pushPath, `{"log":"","tablet":"x","from":1,"count":2,"sha256":"00"}` + "\n{}\n", 400, "damaged", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := s.request("POST", c.path, c.body, s.cookieOf(t, clinician))
			r.Header.Set("Content-Type", c.kind)
			got := s.send(r)
			e := got.refused(t)
			if got.Code != c.status || e.Error != c.code || c.field != "" && e.Field != c.field {
				t.Errorf("%d %+v, want %d %s %s", got.Code, e, c.status, c.code, c.field)
			}
		})
	}
}

// TestABodyThatBreaksOffIsNoFaultOfTheServer: what net/http says of chunks that
// cannot be is an error without a type.
func TestABodyThatBreaksOffIsNoFaultOfTheServer(t *testing.T) {
	s := newSite(t, Options{})
	for path, kind := range map[string]string{
		pushPath: "application/x-ndjson", sealedPath: "application/json", "/api/v1/quarantine/confirm": "application/json",
	} {
		r := s.request("POST", path, "", s.cookieOf(t, clinician))
		r.Header.Set("Content-Type", kind)
		r.Body = io.NopCloser(io.MultiReader(strings.NewReader("{"), iotest.ErrReader(errors.New("malformed chunked encoding"))))
		if got := s.send(r); got.Code != http.StatusBadRequest || got.refused(t).Error != "cut-off" {
			t.Errorf("%s: %d %s", path, got.Code, got.Body)
		}
	}
}

// endless is a body that never stops; a server that reads it all runs out of
// memory.
type endless struct{ read int64 }

func (e *endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = 'x'
	}
	e.read += int64(len(p))
	return len(p), nil
}

func TestAnEndlessPushIsCutOff(t *testing.T) {
	s := newSite(t, Options{})
	r := s.request("POST", pushPath, "", s.cookieOf(t, clinician))
	body := &endless{}
	r.Body = struct {
		*endless
		nothing
	}{body, nothing{}}
	got := s.send(r)
	if got.Code != http.StatusRequestEntityTooLarge || got.refused(t).Error != "too-large" {
		t.Errorf("%d %s", got.Code, got.Body)
	}
	if body.read > 2*maxPush {
		t.Errorf("%d bytes were read", body.read)
	}
}

// TestThePushLimitIsThatOfIntake: a first line of 4 KiB with its end and 4 MiB of
// events get as far as being read, here with a hash that does not fit.
func TestThePushLimitIsThatOfIntake(t *testing.T) {
	s := newSite(t, Options{})
	const head = `{"tablet":"tab-a","from":1,"count":1,"sha256":"0"}`
	for more, want := range map[int]int{0: http.StatusBadRequest, 1: http.StatusRequestEntityTooLarge} {
		r := s.request("POST", pushPath, "", s.cookieOf(t, clinician))
		r.Body = io.NopCloser(strings.NewReader(head + strings.Repeat(" ", 4<<10-len(head)) + "\n" + strings.Repeat("x", 4<<20+more)))
		if got := s.send(r); got.Code != want {
			t.Errorf("%d bytes more: %d %s", more, got.Code, got.Body)
		}
	}
}

type nothing struct{}

func (nothing) Close() error { return nil }

func TestOtherSitesCanNotWrite(t *testing.T) {
	s := newSite(t, Options{})
	cookie := s.cookieOf(t, lead)
	for _, c := range []struct {
		name, header, value string
		status              int
	}{
		{"another site", "Sec-Fetch-Site", "cross-site", 403},
		{"another origin of this site", "Sec-Fetch-Site", "same-site", 403},
		{"an old browser, another origin", "Origin", "https://elsewhere.example", 403},
		{"ourselves", "Sec-Fetch-Site", "same-origin", 204},
	} {
		r := s.request("DELETE", "/api/v1/session", "", cookie)
		r.Header.Set(c.header, c.value)
		if got := s.send(r); got.Code != c.status {
			t.Errorf("%s: %d %s", c.name, got.Code, got.Body)
		}
	}
}

func TestTheCookieIsForThisHostOnly(t *testing.T) {
	for _, secure := range []bool{true, false} {
		c := newSite(t, Options{Secure: secure}).cookieOf(t, lead)
		name := map[bool]string{true: "__Host-doorsill", false: "doorsill"}[secure]
		if c.Name != name || c.Secure != secure || !c.HttpOnly || c.SameSite != http.SameSiteStrictMode || c.Path != "/" || c.Domain != "" {
			t.Errorf("secure %v: cookie %+v", secure, c)
		}
		if want := time.Date(2026, 3, 10, 21, 0, 0, 0, time.UTC); !c.Expires.Equal(want) {
			t.Errorf("the cookie ends %v, want %v", c.Expires, want)
		}
	}
	if h := securityHeaders(true)["Strict-Transport-Security"]; h != "max-age=31536000" {
		t.Errorf("strict transport: %q", h)
	}
}

func TestGuessingIsSlowedDown(t *testing.T) {
	s := newSite(t, Options{})
	var got reply
	for range 6 {
		got = s.ask(t, nobody, "POST", "/api/v1/session", `{"name":"lead-of-the-team","password":"guess"}`)
	}
	if got.Code != http.StatusTooManyRequests || got.Header().Get("Retry-After") != "30" || got.refused(t).Error != "too-many" {
		t.Errorf("%d %v %s", got.Code, got.Header(), got.Body)
	}
	r := s.request("POST", "/api/v1/session", `{"name":"lead-of-the-team","password":"`+goodPassword+`"}`, nil)
	r.RemoteAddr = "198.51.100.20:1234"
	if got := s.send(r); got.Code != http.StatusOK {
		t.Errorf("the person herself from elsewhere: %d %s", got.Code, got.Body)
	}
}

// TestABrowserIsRemembered: whoever has signed in in a browser is not kept out
// there by what others try elsewhere, and everybody else is told what helps.
func TestABrowserIsRemembered(t *testing.T) {
	s := newSite(t, Options{Secure: true})
	in := s.send(s.request("POST", "/api/v1/session", leadBody(goodPassword), nil)).Result().Cookies()
	browser := in[1]
	if browser.Name != "__Host-doorsill-browser-"+s.ids[lead] || !browser.Secure || !browser.HttpOnly || browser.SameSite != http.SameSiteStrictMode || browser.Path != "/" || browser.MaxAge != 90*24*60*60 {
		t.Errorf("cookie %+v", browser)
	}
	try := func(source, password string, cookie *http.Cookie) reply {
		r := s.request("POST", "/api/v1/session", leadBody(password), cookie)
		r.RemoteAddr = source + ":1234"
		return s.send(r)
	}
	for i := range 20 {
		try(fmt.Sprintf("198.18.%d.1", i), "guess", nil)
	}
	got := try("203.0.113.7", goodPassword, nil)
	if e := got.refused(t); got.Code != http.StatusTooManyRequests || e.Error != "too-many" || !strings.Contains(e.Message, "where you have signed in before") || got.Header().Get("Retry-After") == "" {
		t.Errorf("a new browser elsewhere: %d %s", got.Code, got.Body)
	}
	got = try("203.0.113.7", goodPassword, browser)
	if got.Code != http.StatusOK {
		t.Errorf("her own browser elsewhere: %d %s", got.Code, got.Body)
	}
	if again := got.Result().Cookies()[1]; again.Value != browser.Value {
		t.Error("a browser that is known was given another secret")
	}
	// It says who has been here, and opens nothing.
	for _, as := range []string{browser.Name, "__Host-doorsill"} {
		r := s.request("GET", "/api/v1/session", "", &http.Cookie{Name: as, Value: browser.Value})
		if got := s.send(r); got.Code != http.StatusUnauthorized {
			t.Errorf("the secret of a browser as %s: %d", as, got.Code)
		}
	}
}

func leadBody(password string) string {
	return `{"name":"lead-of-the-team","password":"` + password + `"}`
}

func TestMetricsAreForLoopbackOrTheToken(t *testing.T) {
	const token = "a-long-random-token"
	for _, c := range []struct {
		name   string
		proxy  bool
		from   string
		token  string
		status int
	}{
		{"from this machine", false, "127.0.0.1:1", "", 200},
		{"from elsewhere", false, "192.0.2.1:1", "", 403},
		{"from elsewhere with the token", false, "192.0.2.1:1", token, 200},
		{"from elsewhere with another", false, "192.0.2.1:1", "guess", 403},
		{"through the proxy", true, "127.0.0.1:1", "", 403},
		{"through the proxy with the token", true, "127.0.0.1:1", token, 200},
	} {
		o := Options{MetricsToken: token}
		if c.proxy {
			o.Proxies = proxies(t, "127.0.0.1")
		}
		s := openSite(t, o)
		r := s.request("GET", "/metrics", "", nil)
		r.RemoteAddr = c.from
		if c.token != "" {
			r.Header.Set("Authorization", "Bearer "+c.token)
		}
		s.send(s.request("GET", "/healthz", "", nil))
		got := s.send(r)
		if got.Code != c.status {
			t.Errorf("%s: %d", c.name, got.Code)
		}
		if got.Code == http.StatusOK && !strings.Contains(got.Body.String(), `doorsill_request_seconds_count{method="GET",route="/healthz",class="2xx"}`) {
			t.Errorf("metrics:\n%s", got.Body)
		}
		if got.Code == http.StatusOK && !strings.Contains(got.Body.String(), "\ndoorsill_visits_unscored 0\n") {
			t.Errorf("visits that could not be scored are not counted:\n%s", got.Body)
		}
	}
}

func TestAPanicIsAnsweredAndLogged(t *testing.T) {
	var out bytes.Buffer
	s := &server{deps: Deps{Log: slog.New(slog.NewTextHandler(&out, nil)), Now: time.Now}, metrics: newMetrics()}
	h := s.withTrace(s.withRecover(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { panic("what somebody typed") })))
	w := httptest.NewRecorder()
	h.ServeHTTP(w, httptest.NewRequest("GET", "/", nil))
	e := reply{w}.refused(t)
	if w.Code != http.StatusInternalServerError || !strings.Contains(e.Message, w.Header().Get("X-Request-Id")) {
		t.Errorf("%d %+v", w.Code, e)
	}
	if log := out.String(); !strings.Contains(log, "panic") || strings.Contains(log, "somebody typed") {
		t.Errorf("log: %s", log)
	}
}

func TestADemoSaysHowToSignIn(t *testing.T) {
	s := newSite(t, Options{Demo: "Everything here is invented."})
	if got := s.ask(t, nobody, "GET", "/api/v1/session", ""); got.Code != 401 || !strings.Contains(got.Body.String(), `"demo":{"text":"Everything here is invented."}`) {
		t.Errorf("%d %s", got.Code, got.Body)
	}
	if got := newSite(t, Options{}).ask(t, nobody, "GET", "/api/v1/session", ""); strings.Contains(got.Body.String(), "demo") {
		t.Errorf("a real server: %s", got.Body)
	}
}

func TestUnforeseenErrorsSayNoMoreThanTheirNumber(t *testing.T) {
	status, body, _ := explain(http.ErrBodyNotAllowed, "abc123")
	e, isError := body.(ErrorAnswer)
	if status != 500 || !isError || !strings.Contains(e.Message, "abc123") || strings.Contains(e.Message, "http") {
		t.Errorf("%d %+v", status, body)
	}
	if status, _, retry := explain(&account.TooMany{Wait: 1500 * time.Millisecond}, ""); status != 429 || retry != 2 {
		t.Errorf("%d, wait %d", status, retry)
	}
}

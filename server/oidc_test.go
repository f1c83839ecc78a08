package server

import (
	"encoding/base64"
	"encoding/json"
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/zitadel/oidc/v3/example/server/exampleop"
	"github.com/zitadel/oidc/v3/example/server/storage"

	"doorsill/internal/account"
	"doorsill/internal/audit"
	"doorsill/server/provider"
)

// organisation is an OpenID provider that is not ours, run in this process, and
// a service that is registered with it.
type organisation struct {
	*site
	op, here *httptest.Server
	now      *clock // by which the service checks tokens
}

// staff is who has an account at the organisation.
type staff map[string]*storage.User

func (s staff) GetUserByID(id string) *storage.User { return s[id] }

func (s staff) GetUserByUsername(name string) *storage.User {
	for _, u := range s {
		if u.Username == name {
			return u
		}
	}
	return nil
}

func (s staff) ExampleClientID() string { return "service" }

const staffPassword = "the organisation's own"

func newStaff() staff {
	users := staff{}
	for _, name := range []string{"mara", "stranger", "unverified"} {
		users["subject-of-"+name] = &storage.User{
			ID: "subject-of-" + name, Username: name, Password: staffPassword,
			Email: name + "@clinic.example", EmailVerified: name != "unverified",
		}
	}
	return users
}

func newOrganisation(t *testing.T) *organisation {
	t.Helper()
	o := &organisation{op: httptest.NewUnstartedServer(nil)}
	var site http.Handler
	o.here = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { site.ServeHTTP(w, r) }))
	t.Cleanup(o.here.Close)
	back := o.here.URL + "/api/v1/oidc/return"
	issuer := "http://" + o.op.Listener.Addr().String()
	clients := map[string]*storage.Client{"doorsill": storage.WebClient("doorsill", "a secret of both", back)}
	o.op.Config.Handler = exampleop.SetupServer(issuer, storage.NewStorageWithClients(newStaff(), clients), nil, false)
	o.op.Start()
	t.Cleanup(o.op.Close)
	o.now = &clock{now: time.Now()} // the provider looks at the real one
	p, err := provider.New(provider.Options{
		Issuer: issuer, ClientID: "doorsill", Secret: func() (string, error) { return "a secret of both", nil }, Return: back, Now: o.now.Now,
	})
	if err != nil {
		t.Fatal(err)
	}
	o.site = openSite(t, Options{Provider: p})
	o.site.clock.turn(o.now.Now().Sub(o.site.clock.Now())) // and so does a cookie jar
	site = o.Handler
	o.fill(t)
	o.identify(t, clinician, "Mara@Clinic.example", "")
	o.identify(t, assistant, "unverified@clinic.example", "")
	return o
}

func (o *organisation) identify(t *testing.T, who, email, subject string) {
	t.Helper()
	if err := o.Accounts.SetIdentity(t.Context(), account.Console(), o.ids[who], email, subject); err != nil {
		t.Fatal(err)
	}
}

// browser goes from page to page like a person, and stops before it returns to
// us, so that a test can look at what it brings.
func (o *organisation) browser(t *testing.T) *http.Client {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return &http.Client{Jar: jar, Timeout: patience, CheckRedirect: func(r *http.Request, _ []*http.Request) error {
		if strings.HasPrefix(r.URL.String(), o.here.URL) {
			return http.ErrUseLastResponse
		}
		return nil
	}}
}

// come has somebody sign in at the provider and returns the address that they
// are sent back to.
func (o *organisation) come(t *testing.T, b *http.Client, name string) *url.URL {
	t.Helper()
	login := fetch(t, b, o.here.URL+"/api/v1/oidc/start?tablet="+o.tablet)
	id := login.Request.URL.Query().Get("authRequestID")
	if login.StatusCode != http.StatusOK || id == "" {
		t.Fatalf("the provider's sign-in page: %d at %s", login.StatusCode, login.Request.URL)
	}
	sent, err := b.PostForm(o.op.URL+"/login/username", url.Values{"id": {id}, "username": {name}, "password": {staffPassword}})
	if err != nil {
		t.Fatal(err)
	}
	defer sent.Body.Close()
	back, err := sent.Location()
	if err != nil || back.Path != "/api/v1/oidc/return" || back.Query().Get("code") == "" {
		t.Fatalf("sent back to %v (%v)", back, err)
	}
	return back
}

// page is an answer with its body read.
type page struct {
	*http.Response
	text string
}

// wantRefused wants the way back to the sign-in screen, which has a sentence for
// the reason.
func (p page) wantRefused(t *testing.T, reason string) {
	t.Helper()
	if p.StatusCode != http.StatusSeeOther || p.Header.Get("Location") != "/sign-in?refused="+reason {
		t.Errorf("%d %v %s, want the reason %q", p.StatusCode, p.Header, p.text, reason)
	}
}

func fetch(t *testing.T, b *http.Client, address string) page {
	t.Helper()
	got, err := b.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer got.Body.Close()
	text, err := io.ReadAll(got.Body)
	if err != nil {
		t.Fatal(err)
	}
	return page{got, string(text)}
}

func TestAPersonComesInThroughTheOrganisation(t *testing.T) {
	o := newOrganisation(t)
	b := o.browser(t)
	out := fetch(t, b, o.here.URL+"/api/v1/session")
	if out.StatusCode != http.StatusUnauthorized || !strings.Contains(out.text, `"provider":"/api/v1/oidc/start"`) {
		t.Errorf("before: %d %s", out.StatusCode, out.text)
	}
	in := fetch(t, b, o.come(t, b, "mara").String())
	if in.StatusCode != http.StatusSeeOther || in.Header.Get("Location") != "/" {
		t.Fatalf("back: %d %v %s", in.StatusCode, in.Header, in.text)
	}
	var session SessionAnswer
	if err := json.Unmarshal([]byte(fetch(t, b, o.here.URL+"/api/v1/session").text), &session); err != nil {
		t.Fatal(err)
	}
	if session.Person.ID != o.ids[clinician] || session.Tablet != o.tablet || session.Unlock != "password-needed" || session.Login != "clinician" {
		t.Errorf("session %+v", session)
	}
	for _, c := range in.Cookies() {
		if strings.HasSuffix(c.Name, "-attempt") && c.MaxAge >= 0 {
			t.Errorf("what the browser kept of the attempt stays: %+v", c)
		}
	}
	lines := o.trail(t, 0)
	if last := lines[len(lines)-1]; last.Action != "sign in by provider" || last.Person != o.ids[clinician] {
		t.Errorf("the trail says %+v", last)
	}
}

// TestTheSubjectCountsOnceItIsKnown has the address handed on to somebody else.
func TestTheSubjectCountsOnceItIsKnown(t *testing.T) {
	o := newOrganisation(t)
	b := o.browser(t)
	if in := fetch(t, b, o.come(t, b, "mara").String()); in.StatusCode != http.StatusSeeOther {
		t.Fatalf("first: %d %s", in.StatusCode, in.text)
	}
	_, _, err := o.Accounts.SignInByProvider(t.Context(), account.ProviderIdentity{
		Issuer: o.op.URL, Subject: "somebody-new", Email: "mara@clinic.example", EmailVerified: true}, account.SignIn{})
	if err == nil {
		t.Error("whoever has the address next signs in as the person before")
	}
	o.identify(t, clinician, "", "subject-of-mara")
	b = o.browser(t)
	if in := fetch(t, b, o.come(t, b, "mara").String()); in.StatusCode != http.StatusSeeOther {
		t.Errorf("by a subject that an admin wrote down: %d %s", in.StatusCode, in.text)
	}
}

// tamper changes what the browser kept.
func (o *organisation) tamper(t *testing.T, b *http.Client, change func(*keptAttempt)) {
	t.Helper()
	here, err := url.Parse(o.here.URL)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range b.Jar.Cookies(here) {
		if c.Name != "doorsill-attempt" {
			continue
		}
		var kept keptAttempt
		text, err := base64.RawURLEncoding.DecodeString(c.Value)
		if err != nil || json.Unmarshal(text, &kept) != nil {
			t.Fatal(err)
		}
		change(&kept)
		changed, err := json.Marshal(kept)
		if err != nil {
			t.Fatal(err)
		}
		b.Jar.SetCookies(here, []*http.Cookie{{Name: c.Name, Value: base64.RawURLEncoding.EncodeToString(changed), Path: "/"}})
		return
	}
	t.Fatal("the browser kept nothing")
}

func TestBadSignInsByProviderAreRefusedInWords(t *testing.T) {
	for _, c := range []struct {
		name, who string
		between   func(t *testing.T, o *organisation, b *http.Client, back *url.URL)
		reason    string
		words     string
	}{
		{"wrong nonce", "mara", func(t *testing.T, o *organisation, b *http.Client, _ *url.URL) {
			o.tamper(t, b, func(k *keptAttempt) { k.Nonce = "another" })
		}, "attempt", "begun in another browser"},
		{"wrong state", "mara", func(_ *testing.T, _ *organisation, _ *http.Client, back *url.URL) {
			q := back.Query()
			q.Set("state", "another")
			back.RawQuery = q.Encode()
		}, "attempt", "begun in another browser"},
		{"another browser", "mara", func(t *testing.T, o *organisation, b *http.Client, _ *url.URL) {
			o.tamper(t, b, func(k *keptAttempt) { *k = keptAttempt{} })
		}, "attempt", "begun in another browser"},
		{"another issuer says so", "mara", func(_ *testing.T, _ *organisation, _ *http.Client, back *url.URL) {
			back.RawQuery += "&iss=https%3A%2F%2Felsewhere.example"
		}, "attempt", "begun in another browser"},
		{"wrong code verifier", "mara", func(t *testing.T, o *organisation, b *http.Client, _ *url.URL) {
			o.tamper(t, b, func(k *keptAttempt) { k.Verifier = strings.Repeat("v", 43) })
		}, "refused", "said no"},
		{"a code that was used", "mara", func(t *testing.T, _ *organisation, b *http.Client, back *url.URL) {
			jar := b.Jar
			b.Jar = nil // the kept attempt stays as it was
			r, err := http.NewRequestWithContext(t.Context(), "GET", back.String(), nil)
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range jar.Cookies(back) {
				r.AddCookie(c)
			}
			got, err := b.Do(r)
			if err != nil || got.StatusCode != http.StatusSeeOther {
				t.Fatalf("the first time: %v %v", got, err)
			}
			b.Jar = jar
		}, "refused", "said no"},
		{"cancelled at the provider", "mara", func(_ *testing.T, _ *organisation, _ *http.Client, back *url.URL) {
			back.RawQuery = url.Values{"state": {back.Query().Get("state")}, "error": {"access_denied"}}.Encode()
		}, "refused", "said no"},
		{"a token that has run out", "mara", func(_ *testing.T, o *organisation, _ *http.Client, _ *url.URL) {
			o.now.turn(2 * time.Hour)
		}, "refused", "said no"},
		{"nobody here", "stranger", nil, "no-account", "no account for you"},
		{"an account that was closed", "mara", func(t *testing.T, o *organisation, _ *http.Client, _ *url.URL) {
			if _, err := o.Accounts.ChangePerson(t.Context(), account.Console(), o.ids[clinician], account.PersonChange{Name: "Mara", Closed: true}); err != nil {
				t.Fatal(err)
			}
		}, "no-account", "no account for you"},
		{"an address that is not verified", "unverified", nil, "unverified", "has not verified"},
		{"the provider goes down half-way", "mara", func(_ *testing.T, o *organisation, _ *http.Client, _ *url.URL) {
			o.op.Close()
		}, "unreachable", "can not be reached"},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := newOrganisation(t)
			people := o.headcount(t)
			b := o.browser(t)
			back := o.come(t, b, c.who)
			if c.between != nil {
				c.between(t, o, b, back)
			}
			got := fetch(t, b, back.String())
			got.wantRefused(t, c.reason)
			if said := fetch(t, b, o.here.URL+"/api/v1/session?refused="+c.reason); !strings.Contains(said.text, c.words) {
				t.Errorf("the sign-in screen is told %s", said.text)
			}
			for _, cookie := range got.Cookies() {
				if cookie.Name == "doorsill" {
					t.Errorf("a session was opened: %+v", cookie)
				}
			}
			if o.headcount(t) != people {
				t.Error("an account was made")
			}
		})
	}
}

func (o *organisation) headcount(t *testing.T) int {
	t.Helper()
	list, err := o.Accounts.People(t.Context(), account.Console())
	if err != nil {
		t.Fatal(err)
	}
	return len(list)
}

func TestAProviderThatIsDownIsNoReasonNotToStart(t *testing.T) {
	o := newOrganisation(t)
	o.op.Close()
	b := o.browser(t)
	got := fetch(t, b, o.here.URL+"/api/v1/oidc/start")
	got.wantRefused(t, "unreachable")
	if got.Header.Get("Content-Security-Policy") == "" {
		t.Errorf("headers %v", got.Header)
	}
	if got := o.ask(t, clinician, "GET", "/api/v1/session", ""); got.Code != http.StatusOK || strings.Contains(got.Body.String(), "unlock") {
		t.Errorf("by password all the same: %d %s", got.Code, got.Body)
	}
}

func TestARefusedSignInByProviderLeavesATrail(t *testing.T) {
	o := newOrganisation(t)
	b := o.browser(t)
	fetch(t, b, o.come(t, b, "unverified").String())
	lines := o.trail(t, 0)
	last := lines[len(lines)-1]
	if last.Action != "sign in by provider" || last.Person != o.ids[assistant] || !strings.HasSuffix(last.Detail, "result="+audit.Denied) {
		t.Errorf("the trail says %+v", last)
	}
}

func TestTheAttemptsCookieIsKeptClose(t *testing.T) {
	for _, secure := range []bool{true, false} {
		s := &server{deps: Deps{Secure: secure}}
		c, err := http.ParseSetCookie(s.attemptCookie(keptAttempt{}, attemptFor))
		name := map[bool]string{true: "__Host-doorsill-attempt", false: "doorsill-attempt"}[secure]
		if err != nil || c.Name != name || c.Secure != secure || !c.HttpOnly || c.SameSite != http.SameSiteLaxMode || c.Path != "/" || c.MaxAge != 600 {
			t.Errorf("secure %v: %+v, %v", secure, c, err)
		}
	}
}

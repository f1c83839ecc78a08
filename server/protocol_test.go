package server

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"flag"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/signing"
)

var updateExamples = flag.Bool("update-examples", false, "write what the server answers into testdata/protocol; read the difference before you keep it")

const protocolDir = "../testdata/protocol"

// exampleFile is a conversation of PROTOCOL.md, section 9, which says what its
// fields mean.
type exampleFile struct {
	About     string            `json:"about"`
	Exchanges []exampleExchange `json:"exchanges"`
}

type exampleExchange struct {
	About   string         `json:"about"`
	Request exampleRequest `json:"request"`
	Answer  exampleAnswer  `json:"answer"`
	// Keep names values of the answer: a path into its JSON or "cookie".
	Keep map[string]string `json:"keep,omitempty"`
}

type exampleRequest struct {
	Method  string            `json:"method"`
	Path    string            `json:"path"`
	Headers map[string]string `json:"headers,omitempty"`
	JSON    json.RawMessage   `json:"json,omitempty"`
	// Sign is "first" or "second": the key of the examples that signs the push.
	Sign string `json:"sign,omitempty"`
	// Lines are sent each without the space between its parts and ended by a
	// line break; one that is a text is sent as that text.
	Lines []json.RawMessage `json:"lines,omitempty"`
}

type exampleAnswer struct {
	Status  int               `json:"status"`
	Headers map[string]string `json:"headers,omitempty"`
	JSON    json.RawMessage   `json:"json,omitempty"`
	// Some holds a part of the fields, where the whole is long.
	Some json.RawMessage `json:"some,omitempty"`
}

// TestTheExamplesOfTheProtocol replays each conversation in testdata/protocol
// against a server of its own.
func TestTheExamplesOfTheProtocol(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(protocolDir, "*.json"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no examples in %s: %v", protocolDir, err)
	}
	for _, name := range files {
		t.Run(filepath.Base(name), func(t *testing.T) {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			var file exampleFile
			dec := json.NewDecoder(bytes.NewReader(data))
			dec.DisallowUnknownFields()
			if err := dec.Decode(&file); err != nil {
				t.Fatal(err)
			}
			r := newReplay(t)
			for i := range file.Exchanges {
				r.exchange(t, &file.Exchanges[i])
			}
			if *updateExamples {
				writeExamples(t, name, &file)
			}
		})
	}
}

// replay is a service and the values that the examples have names for.
type replay struct {
	*site
	names map[string]string
}

// newReplay opens a service with the team North, its lead Ines, its clinicians
// Marit and Davit, and Tove, who leads another team. All are invented.
func newReplay(t *testing.T) *replay {
	t.Helper()
	s := openSite(t, Options{Secure: true})
	r := &replay{site: s, names: map[string]string{"north": s.addTeam(t, "North"), "south": s.addTeam(t, "South")}}
	for login, p := range map[string]account.NewPerson{
		"ines":  {Name: "Ines (invented)", Roles: map[string]string{r.names["north"]: model.RoleLead}},
		"marit": {Name: "Marit (invented)", Roles: map[string]string{r.names["north"]: model.RoleClinician}},
		"davit": {Name: "Davit (invented)", Roles: map[string]string{r.names["north"]: model.RoleAssistant}},
		"tove":  {Name: "Tove (invented)", Roles: map[string]string{r.names["south"]: model.RoleLead}},
	} {
		p.Login, p.Password = login, goodPassword
		made, err := s.Accounts.AddPerson(t.Context(), account.Console(), p)
		if err != nil {
			t.Fatal(err)
		}
		r.names[login] = made.ID
	}
	return r
}

func (r *replay) exchange(t *testing.T, e *exampleExchange) {
	t.Helper()
	reply := r.send(r.exampleRequest(t, &e.Request))
	r.keep(t, e, reply)
	if *updateExamples {
		r.update(t, &e.Answer, reply)
		return
	}
	if reply.Code != e.Answer.Status {
		t.Fatalf("%s: status %d, the example says %d: %s", e.About, reply.Code, e.Answer.Status, reply.Body)
	}
	for name, want := range e.Answer.Headers {
		if got := reply.Header().Get(name); got != r.fill(want) {
			t.Errorf("%s: %s: %q, the example says %q", e.About, name, got, r.fill(want))
		}
	}
	if e.Answer.JSON == nil && e.Answer.Some == nil {
		if reply.Body.Len() != 0 {
			t.Errorf("%s: the example says nothing of the body %s", e.About, reply.Body)
		}
		return
	}
	if sum := sha256.Sum256(reply.Body.Bytes()); reply.Header().Get(sumHeader) != hex.EncodeToString(sum[:]) {
		t.Errorf("%s: %s is not the hash of the body", e.About, sumHeader)
	}
	got := parsed(t, reply.Body.Bytes())
	if e.Answer.JSON != nil {
		if want := parsed(t, []byte(r.fill(string(e.Answer.JSON)))); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: got\n%s\nthe example says\n%s\nif the new answer is meant, -update-examples writes it", e.About,
				r.unfill(reply.Body.String()), compact(t, e.Answer.JSON))
		}
	}
	if e.Answer.Some != nil {
		if want := parsed(t, []byte(r.fill(string(e.Answer.Some)))); !contains(got, want) {
			t.Errorf("%s: got\n%s\nwithout what the example says\n%s", e.About, reply.Body, e.Answer.Some)
		}
	}
}

func (r *replay) exampleRequest(t *testing.T, e *exampleRequest) *http.Request {
	t.Helper()
	body := r.fill(string(e.JSON))
	if e.Lines != nil {
		body = r.lines(t, e.Lines)
	}
	for name, key := range exampleKeys {
		body = strings.ReplaceAll(body, "{{"+name+" key}}", publicOf(key).Public)
		body = strings.ReplaceAll(body, "{{"+name+" proof}}", signedBy(key, signing.KeyStatement(r.names["tablet"], publicOf(key))))
	}
	request := httptest.NewRequest(e.Method, "https://doorsill.example"+r.fill(e.Path), strings.NewReader(body))
	for name, value := range e.Headers {
		request.Header.Set(name, r.fill(value))
	}
	if e.Sign != "" {
		first, _, _ := strings.Cut(body, "\n")
		request.Header.Set("Doorsill-Signature", signedBy(exampleKeys[e.Sign], signing.PushStatement([]byte(first))))
	}
	return request
}

// exampleKeys are the secret keys of the first two tests in RFC 8032, 7.1.
var exampleKeys = map[string]ed25519.PrivateKey{
	"first":  secretKey("9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60"),
	"second": secretKey("4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb"),
}

func secretKey(seed string) ed25519.PrivateKey {
	raw, err := hex.DecodeString(seed)
	if err != nil {
		panic(err)
	}
	return ed25519.NewKeyFromSeed(raw)
}

func publicOf(key ed25519.PrivateKey) signing.Key {
	public, _ := key.Public().(ed25519.PublicKey)
	return signing.Key{Algorithm: signing.Ed25519, Public: base64.StdEncoding.EncodeToString(public)}
}

func signedBy(key ed25519.PrivateKey, statement []byte) string {
	return base64.StdEncoding.EncodeToString(ed25519.Sign(key, statement))
}

// lines is the body of a push; {{sha256}} in the first line becomes the hash of
// the others.
func (r *replay) lines(t *testing.T, lines []json.RawMessage) string {
	t.Helper()
	sent := make([]string, 0, len(lines))
	for _, line := range lines {
		var text string
		if json.Unmarshal(line, &text) == nil {
			sent = append(sent, r.fill(text)+"\n")
			continue
		}
		sent = append(sent, r.fill(compact(t, line))+"\n")
	}
	events := strings.Join(sent[1:], "")
	sum := sha256.Sum256([]byte(events))
	return strings.ReplaceAll(sent[0], "{{sha256}}", hex.EncodeToString(sum[:])) + events
}

// compact is JSON without the space between its parts.
func compact(t *testing.T, data []byte) string {
	t.Helper()
	var out bytes.Buffer
	if err := json.Compact(&out, data); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func (r *replay) fill(text string) string {
	for name, value := range r.names {
		text = strings.ReplaceAll(text, "{{"+name+"}}", value)
	}
	return text
}

// unfill is the reverse of fill, for showing and writing answers.
func (r *replay) unfill(text string) string {
	for name, value := range r.names {
		text = strings.ReplaceAll(text, value, "{{"+name+"}}")
	}
	return text
}

func (r *replay) keep(t *testing.T, e *exampleExchange, reply reply) {
	t.Helper()
	for name, from := range e.Keep {
		if from == "cookie" {
			var pairs []string
			for _, c := range reply.Result().Cookies() {
				pairs = append(pairs, c.Name+"="+c.Value)
			}
			r.names[name] = strings.Join(pairs, "; ")
			continue
		}
		value := parsed(t, reply.Body.Bytes())
		for _, key := range strings.Split(from, ".") {
			if list, is := value.([]any); is && key == "0" && len(list) > 0 {
				value = list[0]
				continue
			}
			fields, _ := value.(map[string]any)
			value = fields[key]
		}
		text, is := value.(string)
		if !is || text == "" {
			t.Fatalf("%s: no text at %s of %s", e.About, from, reply.Body)
		}
		r.names[name] = text
	}
}

func parsed(t *testing.T, data []byte) (value any) {
	t.Helper()
	if err := json.Unmarshal(data, &value); err != nil {
		t.Fatalf("%v in %s", err, data)
	}
	return value
}

// contains says whether got has what want has: of objects the fields of want, of
// lists as many elements.
func contains(got, want any) bool {
	switch want := want.(type) {
	case map[string]any:
		fields, is := got.(map[string]any)
		for key, value := range want {
			if !is || !contains(fields[key], value) {
				return false
			}
		}
		return is
	case []any:
		list, is := got.([]any)
		if !is || len(list) != len(want) {
			return false
		}
		for i := range want {
			if !contains(list[i], want[i]) {
				return false
			}
		}
		return true
	}
	return reflect.DeepEqual(got, want)
}

func (r *replay) update(t *testing.T, a *exampleAnswer, reply reply) {
	t.Helper()
	a.Status = reply.Code
	for name := range a.Headers {
		a.Headers[name] = r.unfill(reply.Header().Get(name))
	}
	if a.Some == nil && reply.Body.Len() > 0 {
		a.JSON = json.RawMessage(r.unfill(reply.Body.String()))
	}
}

func writeExamples(t *testing.T, name string, file *exampleFile) {
	t.Helper()
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(file); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, out.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestEachRefusalHasAnExample holds the tables of PROTOCOL.md, section 4, to the
// examples: whoever writes a client can try each line of them.
func TestEachRefusalHasAnExample(t *testing.T) {
	page, err := os.ReadFile("../internal/record/PROTOCOL.md")
	if err != nil {
		t.Fatal(err)
	}
	section := string(page)[strings.Index(string(page), "## 4. Push"):strings.Index(string(page), "## 5. Pull")]
	files, err := filepath.Glob(filepath.Join(protocolDir, "*.json"))
	if err != nil {
		t.Fatal(err)
	}
	var examples strings.Builder
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		examples.Write(data)
	}
	codes := regexp.MustCompile("(?m)^\\|(?: \\d+ \\|)? ((?:`[a-z-]+`(?:, )?)+) \\|").FindAllStringSubmatch(section, -1)
	if len(codes) < 20 {
		t.Fatalf("only %d lines found in the tables", len(codes))
	}
	for _, row := range codes {
		for _, code := range strings.Split(row[1], ", ") {
			code = strings.Trim(code, "`")
			if withoutExample[code] == "" && !regexp.MustCompile(`"(code|error)": ?"`+code+`"`).MatchString(examples.String()) {
				t.Errorf("%s has no example", code)
			}
		}
	}
}

// withoutExample are refusals that no short conversation brings about, each with
// the test that does.
var withoutExample = map[string]string{
	"cut-off":         "fault37_test.go",
	"too-large":       "limits_test.go",
	"too-slow":        "fault37_test.go",
	"too-many":        "rates.go",
	"server-full":     "fault_test.go",
	"quarantine-full": "bounds_test.go",
	"overtaken":       "judge_test.go",
	"unreadable":      "damage_test.go",
	"too-old-schema":  "there is only one schema yet",
}

// TestEachFieldOfAnAnswerIsNamed in PROTOCOL.md: what other clients go by.
func TestEachFieldOfAnAnswerIsNamed(t *testing.T) {
	page, err := os.ReadFile("../internal/record/PROTOCOL.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, answer := range []any{
		SessionAnswer{}, PersonBrief{}, Membership{}, OrganisationKey{}, TabletMade{}, ChecklistItem{}, ChecklistAnswer{}, ErrorAnswer{},
		GapAnswer{}, OtherLogAnswer{}, intake.PushAnswer{}, intake.Verdict{}, model.PullAnswer{}, model.Entry{},
	} {
		for _, field := range reflect.VisibleFields(reflect.TypeOf(answer)) {
			name, _, _ := strings.Cut(field.Tag.Get("json"), ",")
			if name != "" && name != "-" && !regexp.MustCompile("[`\"]"+name+"[`\"]").Match(page) {
				t.Errorf("PROTOCOL.md does not name %q of %T", name, answer)
			}
		}
	}
}

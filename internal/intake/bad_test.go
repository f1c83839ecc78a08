package intake_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
	"doorsill/internal/store/storetest"
	"doorsill/internal/validation"
)

func number(n float64) *float64 { return &n }

// What a tablet can send that can not stand. Each is kept with a message that
// names the field and what was expected.
func TestBadEventsAreKeptAndExplained(t *testing.T) {
	answer := func(a model.AnswerGiven) func(*tablet) []byte { return event(model.KindAnswerGiven, "v1", a) }
	reading := func(r model.ReadingTaken) func(*tablet) []byte { return event(model.KindReadingTaken, "v1", r) }
	tests := []struct {
		name  string
		line  func(*tablet) []byte
		code  string
		field string
		want  string // part of the hint
	}{
		{"unknown item", answer(level("pos-antenna", "3")), validation.CodeUnknownItem, "body.item", "an item of checklist standard " + authoring.Standard().Version},
		{"item of another checklist version", answer(level("pos-hips", "3")), validation.CodeOtherChecklist, "body.item", "standard " + authoring.Standard().Version},
		{"level out of range", answer(level("pos-pelvis", "4")), validation.CodeOutOfRange, "body.level", "3, 2, 1 or 0"},
		{"level that is none", answer(level("pos-pelvis", "9")), validation.CodeWrongType, "body.level", "4, 3, 2, 1, 0, yes or no"},
		{"number out of range", answer(model.AnswerGiven{Item: "ctl-pain", State: "answered", Number: number(11)}), validation.CodeOutOfRange, "body.number", "0 to 10"},
		{"typed value of a computed item", answer(model.AnswerGiven{Item: "ctl-reserve", State: "answered", Number: number(2)}), validation.CodeWrongType, "body.number", "measured"},
		{"not applicable without a reason", answer(model.AnswerGiven{Item: "pos-pelvis", State: "not-applicable"}), validation.CodeRequired, "body.reason", "why"},
		{"force out of range", reading(force("chin", "forward", 12_000, "gf")), validation.CodeOutOfRange, "body.value", "0 to 10000 gf"},
		{"force in newtons out of range", reading(force("chin", "forward", 120, "N")), validation.CodeOutOfRange, "body.value", "N"},
		{"wrong unit", reading(force("chin", "forward", 12, "kg")), validation.CodeWrongUnit, "body.unit", "gf, N, ozf or lbf"},
		{"unit of another measure", reading(model.ReadingTaken{What: model.ReadTravel, Site: "chin", Direction: "forward", State: "rested", Value: 12, Unit: "gf"}), validation.CodeWrongUnit, "body.unit", "mm"},
		{"unknown site", reading(force("nose", "forward", 12, "gf")), validation.CodeWrongType, "body.site", "a site such as chin"},
		{"wrong type", raw(`"body":{"item":"pos-pelvis","state":"answered","level":3}`), validation.CodeWrongType, "body.level", "a text"},
		{"text for a number", raw(`"body":{"item":"ctl-pain","state":"answered","number":"3"}`), validation.CodeWrongType, "body.number", "a number"},
		{"broken JSON", func(*tablet) []byte { return []byte(`{"tablet":"tab-m","n":3,`) }, validation.CodeBrokenJSON, "", "a field name"},
		{"nothing", func(*tablet) []byte { return nil }, validation.CodeBrokenJSON, "", "an event"},
		{"not UTF-8", func(*tablet) []byte { return []byte("{\"tablet\":\"\xff\"}") }, validation.CodeBrokenJSON, "", "UTF-8"},
		{"too large", func(*tablet) []byte {
			return append([]byte(`{"x":"`), bytes.Repeat([]byte("x"), record.LongestLine)...)
		}, validation.CodeOutOfRange, "", "bytes an event"},
		{"no subject", raw(`"subject":"","body":{}`), validation.CodeRequired, "subject", "an id"},
		{"another author", func(t *tablet) []byte {
			e := t.event(model.KindAnswerGiven, "v1", level("pos-pelvis", "3"))
			e.Author = "davit"
			return lineOf(e)
		}, validation.CodeAuthor, "author", "the person whose tablet it is"},
		{"a field of the body twice", raw(`"body":{"item":"pos-pelvis","state":"answered","level":"0","level":"3"}`), validation.CodeRepeated, "body.level", "each field once"},
		{"another tablet", func(t *tablet) []byte {
			e := t.event(model.KindAnswerGiven, "v1", level("pos-pelvis", "3"))
			e.Tablet = "tab-x"
			return lineOf(e)
		}, validation.CodeAuthor, "tablet", "tab-m"},
		{"another number", func(t *tablet) []byte {
			e := t.event(model.KindAnswerGiven, "v1", level("pos-pelvis", "3"))
			e.N = 9
			return lineOf(e)
		}, validation.CodeOutOfRange, "n", "3"},
		{"a visit that nobody started", event(model.KindAnswerGiven, "v9", level("pos-pelvis", "3")), validation.CodeSubject, "subject", "a client, visit or control that the server has"},
		{"a visit where a client belongs", event(model.KindClientChanged, "v1", model.ClientChanged{Fields: map[string]string{"name": "x"}}), validation.CodeSubject, "subject", "a client"},
		{"a visit started twice", event(model.KindVisitStarted, "v1", started(authoring.Standard(), "c1", "north")), validation.CodeSubject, "subject", "a new id"},
		{"a visit of a client that nobody opened", event(model.KindVisitStarted, "v2", started(authoring.Standard(), "c9", "north")), validation.CodeSubject, "body.client", "a client that the server has"},
		{"a client of another team", event(model.KindClientChanged, "c-south", model.ClientChanged{Fields: map[string]string{"name": "x"}}), validation.CodeOtherTeam, "subject", "a team that the author works in"},
		{"a visit to a client of another team", event(model.KindVisitStarted, "v2", started(authoring.Standard(), "c-south", "north")), validation.CodeOtherTeam, "body.client", "a team that the author works in"},
		{"a new client in another team", event(model.KindClientOpened, "c2", model.ClientOpened{Team: "south", Name: "x", Referred: "2026-02-20", Priority: "soon", Course: "slow"}), validation.CodeOtherTeam, "body.team", "a team that the author works in"},
		{"a checklist that nobody has", event(model.KindVisitStarted, "v2", model.VisitStarted{Client: "c1", Team: "north", Unit: "gf", Checklist: model.ChecklistRef{ID: "standard", Version: "1999", Hash: strings.Repeat("0", 64)}}), validation.CodeOtherChecklist, "body.checklist.hash", "a checklist version that the server has"},
		{"an assignment", event(model.KindClientAssigned, "c1", model.ClientAssigned{Status: "active", Version: 1, By: "marit"}), validation.CodeNotAllowed, "kind", "made on the server"},
		{"an amendment before signing", event(model.KindAmendmentMade, "v1", model.AmendmentMade{Reason: "x", Kind: model.KindPlanAgreed, Change: model.Raw(`{}`)}), validation.CodeRequired, "subject", "a visit that is signed"},
		{"a move of a reading that is not there", event(model.KindReadingMoved, "v1", model.ReadingMoved{Reading: "tab-m:99", Direction: "left", State: "tired"}), validation.CodeSubject, "body.reading", "a reading of this visit"},
		{"a mark on a reading that is not there", event(model.KindReadingMarked, "v1", model.ReadingMarked{Reading: "tab-m:99", Slip: true, Reason: "x"}), validation.CodeSubject, "body.reading", "a reading of this visit"},
		{"a mark on a run that is not there", event(model.KindRunMarked, "v1", model.RunMarked{Run: "tab-m:99", Slip: true, Reason: "x"}), validation.CodeSubject, "body.run", "a run of this visit"},
		{"how a change went that is not there", event(model.KindSettingTried, "v1", model.SettingTried{Setting: "tab-m:99", Outcome: "same"}), validation.CodeSubject, "body.setting", "a setting of this visit"},
		{"a mark on a run without a reason", event(model.KindRunMarked, "v1", model.RunMarked{Run: "tab-m:3", Slip: true}), validation.CodeRequired, "body.reason", "why the run is set aside"},
		{"a date that is none", event(model.KindPlanAgreed, "v1", model.PlanAgreed{Recheck: "2026-02-30"}), validation.CodeWrongType, "body.recheck", "a date"},
		{"an end before the beginning", event(model.KindOverrideMade, "v1", model.OverrideMade{Level: "pause", Reason: "other", Text: "x", From: "2026-03-02", Until: "2026-03-01"}), validation.CodeOverride, "body.until", "2026-03-02"},
		{"a reading without a value", raw(`"kind":"reading-taken","body":{"what":"release","site":"chin","state":"rested","unit":"s"}`), validation.CodeRequired, "body.value", "what was measured"},
		{"a reading whose value is null", raw(`"kind":"reading-taken","body":{"what":"unintended","site":"chin","state":"rested","unit":"gf","value":null}`), validation.CodeRequired, "body.value", "what was measured"},
		{"schema zero", raw(`"schema":0,"body":{}`), validation.CodeRequired, "schema", "a number from 1"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			h := newService(t)
			marit := h.visited()
			sora := h.tablet("tab-s", "sora")
			sora.openClient("c-south", "south")
			sora.sendAll()
			marit.lines = append(marit.lines, tt.line(marit))
			marit.write(model.KindAnswerGiven, "v1", level("pos-trunk", "2"))
			answer := marit.send()
			if answer.Ack != 4 || answer.Verdicts[1].Verdict != intake.Stored {
				t.Errorf("what follows was held up: %+v", answer)
			}
			v := answer.Verdicts[0]
			if v.Verdict != intake.Quarantined || v.Code != tt.code || v.Field != tt.field || !strings.Contains(v.Want, tt.want) {
				t.Errorf("got %+v\nwant %s at %q with %q", v, tt.code, tt.field, tt.want)
			}
			if field, entered := strings.CutPrefix(tt.field, "body."); entered && !(strings.Contains(v.Hint, field) && strings.Contains(v.Hint, tt.want)) {
				t.Errorf("the hint does not name %q and %q: %s", field, tt.want, v.Hint)
			}
			kept := h.quarantine(store.QuarantineFilter{Tablet: "tab-m"})
			if len(kept) != 1 || !bytes.Equal(kept[0].Raw, marit.lines[2]) || kept[0].Person != "marit" || kept[0].Received == "" || kept[0].Team == "" {
				t.Errorf("kept: %+v", kept)
			}
		})
	}
}

func event(kind, subject string, body any) func(*tablet) []byte {
	return func(t *tablet) []byte { return lineOf(t.event(kind, subject, body)) }
}

func lineOf(e model.Event) []byte {
	line, err := json.Marshal(e)
	if err != nil {
		panic(err)
	}
	return line
}

// raw makes an event from text; fields that come twice take the text's.
func raw(fields string) func(*tablet) []byte {
	return func(t *tablet) []byte {
		base := map[string]string{
			"tablet": `"tab-m"`, "n": fmt.Sprint(len(t.lines) + 1), "kind": `"answer-given"`, "subject": `"v1"`, "author": `"marit"`,
			"at": `"2026-03-02T09:00:00.000Z"`, "zone": `"Europe/Dublin"`, "schema": "1", "seen": "0",
		}
		var b strings.Builder
		b.WriteString("{" + fields)
		for _, key := range []string{"tablet", "n", "kind", "subject", "author", "at", "zone", "schema", "seen"} {
			if !strings.Contains(fields, `"`+key+`":`) {
				b.WriteString(`,"` + key + `":` + base[key])
			}
		}
		return []byte(b.String() + "}")
	}
}

// endless is a body that never ends; reading it to the end would hang.
type endless struct{ read int }

func (e *endless) Read(p []byte) (int, error) {
	e.read += len(p)
	for i := range p {
		p[i] = 'x'
	}
	return len(p), nil
}

// A push that is not what it says is refused whole, and says why.
func TestBadPushes(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	h.tablet("tab-s", "sora")
	good := [][]byte{lineOf(marit.event(model.KindAnswerGiven, "v1", level("pos-pelvis", "3")))}
	many := make([][]byte, intake.MaxEvents+1)
	head := func(fn func(*intake.Header)) io.Reader { return pushOf(marit.log, "tab-m", 3, good, fn) }
	tests := []struct {
		name  string
		body  io.Reader
		code  string
		field string
		want  string
	}{
		{"empty body", strings.NewReader(""), intake.CodeDamaged, "", "a first line with log"},
		{"no JSON", strings.NewReader("hello\n"), intake.CodeDamaged, "", "as JSON"},
		{"a page of a captive portal", strings.NewReader("<!doctype html>\n<html>"), intake.CodeDamaged, "", "as JSON"},
		{"a field of the first line twice", strings.NewReader(`{"log":"x",` + pushOf(marit.log, "tab-m", 3, good).String()[1:]), intake.CodeDamaged, "log", "once"},
		{"a text where a number belongs", strings.NewReader(`{"tablet":"tab-m","from":"3"}` + "\n"), intake.CodeDamaged, "from", "a whole number"},
		{"a field of the first line that nobody knows", strings.NewReader(`{"tablet":"tab-m","until":3}` + "\n"), intake.CodeDamaged, "until", ""},
		{"one behind what lies too deep", strings.NewReader(`{"x":` + strings.Repeat("[", 40) + strings.Repeat("]", 40) + `,"log":"x",` + pushOf(marit.log, "tab-m", 3, good).String()[1:]), intake.CodeDamaged, "", "each once"},
		{"first line too long", strings.NewReader(strings.Repeat(" ", intake.MaxHeader+1) + "\n"), intake.CodeDamaged, "", "at most 4096 bytes"},
		{"100 MB", io.MultiReader(pushOf("", "tab-m", 3, nil), io.LimitReader(&endless{}, 100<<20)), intake.CodeTooLarge, "count", "at most 4194304 bytes"},
		{"without end", &endless{}, intake.CodeDamaged, "", "at most 4096 bytes"},
		{"too many events", pushOf(marit.log, "tab-m", 3, many), intake.CodeTooLarge, "count", "at most 1000 events"},
		{"cut off", io.LimitReader(pushOf(marit.log, "tab-m", 3, good), 300), intake.CodeDamaged, "sha256", "the hash"},
		{"cut off after the first line", strings.NewReader(`{"tablet":"tab-m","from":3,"count":1}`), intake.CodeDamaged, "count", "1 lines"},
		{"a changed bit", head(func(h *intake.Header) { h.SHA256 = strings.Repeat("0", 64) }), intake.CodeDamaged, "sha256", "the hash"},
		{"another count", head(func(h *intake.Header) { h.Count = 2 }), intake.CodeDamaged, "count", "1 lines"},
		{"no number", head(func(h *intake.Header) { h.From = 0 }), intake.CodeDamaged, "from", "a number from 1"},
		{"a gap", head(func(h *intake.Header) { h.From = 7 }), intake.CodeGap, "from", "3"},
		{"a gap of one", head(func(h *intake.Header) { h.From = 4 }), intake.CodeGap, "from", "3"},
		{"another log", head(func(h *intake.Header) { h.Log = "yesterday" }), intake.CodeLog, "log", marit.log},
		{"no tablet", head(func(h *intake.Header) { h.Tablet = "" }), intake.CodeDamaged, "tablet", "the tablet's id"},
		{"an unknown tablet", head(func(h *intake.Header) { h.Tablet = "tab-x" }), intake.CodeTablet, "tablet", "registered for the person"},
		{"a tablet of another team", head(func(h *intake.Header) { h.Tablet = "tab-s" }), intake.CodeTablet, "tablet", "registered for the person"},
		{"the server's own stream", head(func(h *intake.Header) { h.Tablet = "server" }), intake.CodeTablet, "tablet", "registered for the person"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := h.intake.Push(context.Background(), caller("marit"), tt.body)
			var refused *intake.PushError
			if !errors.As(err, &refused) {
				t.Fatalf("got %v, want a refusal", err)
			}
			if refused.Code != tt.code || refused.Field != tt.field || !strings.Contains(refused.Want, tt.want) || refused.Message == "" {
				t.Errorf("got %+v\nwant %s at %q with %q", refused, tt.code, tt.field, tt.want)
			}
			if tt.code == intake.CodeGap && refused.Ack != 2 {
				t.Errorf("receipt %d, want 2", refused.Ack)
			}
		})
	}
	h.view(func(r store.Reader) error {
		if storetest.Head(t, r) != 2 || len(h.quarantine(store.QuarantineFilter{})) != 0 {
			t.Error("a refused push left something behind")
		}
		return nil
	})
}

package tablet_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
	"doorsill/internal/tablet"
	"doorsill/internal/validation"
)

func TestAVisitTakesEntriesOneByOne(t *testing.T) {
	p, w := loaded(t), &writer{t: t, tablet: "tab-a", subject: "v1"}
	start, first, second := w.start(), w.answer("pos-pelvis", "3"), w.answer("pos-head", "2")
	state := opened(t, must(t, p, "open-visit", openQuestion(t, "v1", start, first)))
	if state.Count != 2 || state.Visit.ID != "v1" || len(state.Visit.Answers) != 1 || state.Result == nil || state.Newer != 0 {
		t.Fatalf("opened: %+v", state)
	}
	if state.Result.Message.Text == "" || state.Result.Gates[0].Message.Text == "" {
		t.Error("the result has no texts")
	}
	grown := must(t, p, "add-entries", addQuestion(t, "v1", 2, second))
	if state := opened(t, grown); state.Count != 3 || len(state.Visit.Answers) != 2 {
		t.Fatalf("added: %+v", state)
	}
	whole := must(t, p, "open-visit", openQuestion(t, "v1", second, start, first, second))
	if !bytes.Equal(grown, whole) {
		t.Errorf("one by one:\n%s\nat once, in another order:\n%s", grown, whole)
	}
}

// An entry that was waiting and was placed by the server since is the same entry,
// and what others wrote may stand before it.
func TestAnEntryTwiceCountsOnce(t *testing.T) {
	p, w := loaded(t), &writer{t: t, tablet: "tab-a", subject: "v1"}
	start, mine := w.start(), w.answer("pos-pelvis", "3")
	other := (&writer{t: t, tablet: "tab-b", subject: "v1"}).answer("pos-pelvis", "1")
	must(t, p, "open-visit", openQuestion(t, "v1", start, mine))
	same := must(t, p, "add-entries", addQuestion(t, "v1", 2, mine))
	if state := opened(t, same); state.Count != 2 {
		t.Fatalf("the same entry again: %d entries, want 2", state.Count)
	}
	start.Pos, other.Pos, mine.Pos = 1, 2, 3
	placed := must(t, p, "add-entries", addQuestion(t, "v1", 2, mine, other, start))
	state := opened(t, placed)
	if state.Count != 3 {
		t.Fatalf("placed: %d entries, want 3", state.Count)
	}
	heads := state.Visit.Answers[0].Heads
	if len(heads) != 2 || heads[0].Pos != 2 || heads[1].Pos != 3 {
		t.Errorf("answers: %+v, want that of position 2 before that of 3", heads)
	}
	if whole := must(t, p, "open-visit", openQuestion(t, "v1", start, other, mine)); !bytes.Equal(placed, whole) {
		t.Errorf("placed:\n%s\nat once:\n%s", placed, whole)
	}
}

func TestWhatIsNotHeldIsToBeOpenedAnew(t *testing.T) {
	p, w := loaded(t), &writer{t: t, tablet: "tab-a", subject: "v1"}
	start, first := w.start(), w.answer("pos-pelvis", "3")
	check := func(op string, question []byte) {
		t.Helper()
		if got := refused(t, p, op, string(question)); got.Code != model.CodeNotOpen {
			t.Errorf("%s: %+v, want %s", op, got, model.CodeNotOpen)
		}
	}
	visit := marshal(t, model.VisitQuestion{Visit: "v1"})
	check("add-entries", addQuestion(t, "v1", 0, start))
	check("canonical", visit)
	check("close-visit", visit)
	must(t, p, "open-visit", openQuestion(t, "v1", start))
	check("add-entries", addQuestion(t, "v1", 2, first))
	check("add-entries", addQuestion(t, "v1", 0, first))
	if got := opened(t, must(t, p, "add-entries", addQuestion(t, "v1", 1, first))); got.Count != 2 {
		t.Errorf("%d entries after a refusal, want 2", got.Count)
	}
	must(t, p, "close-visit", visit)
	check("add-entries", addQuestion(t, "v1", 2, first))
}

func TestEntriesThatCannotBeReadAreCounted(t *testing.T) {
	p, w := loaded(t), &writer{t: t, tablet: "tab-a", subject: "v1"}
	start := w.start()
	broken := model.Entry{Raw: model.Raw(`{"tablet":"tab-a"}`)}
	unknown := w.write("photo-added", map[string]string{"sum": "ab"})
	unreadable := w.write(model.KindAnswerGiven, map[string]string{"item": "pos-head", "state": "maybe"})
	state := opened(t, must(t, p, "open-visit", openQuestion(t, "v1", start, broken, broken, unknown)))
	if state.Count != 3 || state.Visit.Unknown != 2 || state.Newer != 1 {
		t.Fatalf("count %d, unknown %d, newer %d; want 3, 2, 1", state.Count, state.Visit.Unknown, state.Newer)
	}
	state = opened(t, must(t, p, "add-entries", addQuestion(t, "v1", 3, unreadable, w.answer("pos-head", "2"), broken)))
	if state.Count != 5 || state.Visit.Unknown != 3 || state.Newer != 1 || len(state.Visit.Answers) != 1 {
		t.Errorf("count %d, unknown %d, newer %d; want 5, 3, 1", state.Count, state.Visit.Unknown, state.Newer)
	}
}

func TestTwoVisitsAreOpenAtOnce(t *testing.T) {
	p := loaded(t)
	one, two := &writer{t: t, tablet: "tab-a", subject: "v1"}, &writer{t: t, tablet: "tab-a", n: 9, subject: "v2"}
	must(t, p, "open-visit", openQuestion(t, "v1", one.start()))
	must(t, p, "open-visit", openQuestion(t, "v2", two.start(), two.answer("pos-head", "2")))
	first := opened(t, must(t, p, "add-entries", addQuestion(t, "v1", 1, one.answer("pos-pelvis", "3"))))
	second := opened(t, must(t, p, "add-entries", addQuestion(t, "v2", 2)))
	if first.Visit.ID != "v1" || first.Visit.Answers[0].Item != "pos-pelvis" || second.Visit.ID != "v2" || second.Visit.Answers[0].Item != "pos-head" {
		t.Errorf("first %+v, second %+v", first.Visit, second.Visit)
	}
	must(t, p, "close-visit", []byte(`{"visit":"v1"}`))
	must(t, p, "canonical", []byte(`{"visit":"v2"}`))
}

// What is kept must not point into a question, whose place the next one takes.
func TestQuestionsAreNotKept(t *testing.T) {
	p, w := loaded(t), &writer{t: t, tablet: "tab-a", subject: "v1"}
	start, first, second := w.start(), w.answer("pos-pelvis", "3"), w.answer("pos-head", "2")
	question := openQuestion(t, "v1", first)
	must(t, p, "open-visit", question)
	for i := range question {
		question[i] = '#'
	}
	start.Pos, second.Pos = 1, 2 // before the one that waits: all is folded anew
	state := opened(t, must(t, p, "add-entries", addQuestion(t, "v1", 1, start, second)))
	if len(state.Visit.Answers) != 2 || state.Visit.Unknown != 0 {
		t.Errorf("%+v", state.Visit)
	}
}

func TestCanonicalHoldsNoTexts(t *testing.T) {
	p, w := loaded(t), &writer{t: t, tablet: "tab-a", subject: "v1"}
	state := opened(t, must(t, p, "open-visit", openQuestion(t, "v1", w.start(), w.answer("pos-pelvis", "3"))))
	got := must(t, p, "canonical", []byte(`{"visit":"v1"}`))
	state.Result.EachMessage(clearText)
	if want := state.Result.AppendJSON(nil); !bytes.Equal(got, want) || bytes.Contains(got, []byte(`"text"`)) {
		t.Errorf("got %s\nwant %s", got, want)
	}
	if after := opened(t, must(t, p, "add-entries", addQuestion(t, "v1", 2))); after.Result.Message.Text == "" {
		t.Error("no texts after the canonical form")
	}
}

func TestAVisitIsScoredByItsOwnChecklistOnly(t *testing.T) {
	p, w := loaded(t), &writer{t: t, tablet: "tab-a", subject: "v1"}
	list := authoring.Standard()
	must(t, p, "load-checklist", marshal(t, model.ChecklistQuestion{Hash: "other", Definition: list.Raw()}))
	for _, hash := range []string{"", "never-loaded", "other"} {
		question := marshal(t, model.OpenVisitQuestion{Visit: "v1", Checklist: hash, Entries: []model.Entry{w.start()}})
		answer := must(t, p, "open-visit", question)
		state := opened(t, answer)
		if state.Result != nil || state.Unscored == nil || state.Unscored.Code != validation.CodeOtherChecklist || state.Visit.ID != "v1" {
			t.Errorf("checklist %q: %+v", hash, state)
		}
		if got := refused(t, p, "canonical", `{"visit":"v1"}`); got.Code != validation.CodeOtherChecklist {
			t.Errorf("checklist %q: canonical: %+v", hash, got)
		}
	}
}

// A visit that the engine cannot take is shown all the same.
func TestAVisitThatCannotBeScoredSaysWhy(t *testing.T) {
	p, w := loaded(t), &writer{t: t, tablet: "tab-a", subject: "v1"}
	state := opened(t, must(t, p, "open-visit", openQuestion(t, "v1", w.start(), w.answer("no-such-item", "3"))))
	if state.Result != nil || state.Unscored == nil || state.Unscored.Path != "answers[0].heads[0].item" {
		t.Errorf("%+v, unscored %+v", state, state.Unscored)
	}
}

// The first entry may come last, from another tablet.
func TestAVisitIsScoredOnceItCanBe(t *testing.T) {
	p, w := loaded(t), &writer{t: t, tablet: "tab-a", subject: "v1"}
	start, first := w.start(), w.answer("pos-pelvis", "3")
	if state := opened(t, must(t, p, "open-visit", openQuestion(t, "v1", first))); state.Unscored == nil {
		t.Errorf("without its beginning: %+v", state)
	}
	state := opened(t, must(t, p, "add-entries", addQuestion(t, "v1", 1, start)))
	if state.Unscored != nil || state.Result == nil {
		t.Errorf("with its beginning: %+v", state)
	}
	state = opened(t, must(t, p, "add-entries", addQuestion(t, "v1", 2, w.answer("no-such-item", "3"))))
	if state.Unscored == nil || state.Result != nil {
		t.Errorf("with an answer that does not fit: %+v", state)
	}
}

func TestBodiesAreChecked(t *testing.T) {
	p := loaded(t)
	amended := func(change string) string {
		return `{"reason":"a slip","kind":"answer-given","change":` + change + `}`
	}
	tests := []struct{ kind, body, code, path string }{
		{"answer-given", `{"item":"pos-pelvis","state":"answered","level":"3"}`, "", ""},
		{"answer-given", `{"item":"pos-pelvis","state":"perhaps","level":"3"}`, validation.CodeWrongType, "body.state"},
		{"needs-noted", `{"hours_driving":24}`, "", ""},
		{"needs-noted", `{"hours_driving":25}`, validation.CodeOutOfRange, "body.hours_driving"},
		{"amendment-made", amended(`{"item":"pos-pelvis","state":"perhaps","level":"3"}`), validation.CodeWrongType, "body.change.state"},
		{"amendment-made", amended(`{"item":"pos-pelvis","state":"answered","level":"3"}`), "", ""},
	}
	for _, tt := range tests {
		got := must(t, p, "check-body", marshal(t, model.CheckBodyQuestion{Kind: tt.kind, Body: model.Raw(tt.body)}))
		var bad *model.BadInput
		if err := json.Unmarshal(got, &bad); err != nil {
			t.Fatal(err)
		}
		if bad == nil && tt.code == "" {
			continue
		}
		if bad == nil || bad.Code != tt.code || bad.Path != tt.path || bad.Want == "" {
			t.Errorf("%s %s: got %s, want %s at %q", tt.kind, tt.body, got, tt.code, tt.path)
		}
	}
}

func TestBadQuestionsGetAnErrorWithItsPath(t *testing.T) {
	p := loaded(t)
	tests := []struct{ op, question, code, path string }{
		{"guess", `{}`, model.CodeFault, ""},
		{"load-catalogue", `{"language":"en","text":7}`, validation.CodeWrongType, "text"},
		{"load-catalogue", `{"language":"en","text":"no colon"}`, validation.CodeWrongType, "text"},
		{"load-checklist", `{"definition":{}}`, validation.CodeRequired, "hash"},
		{"load-checklist", `{"hash":"h","definition":{"sections":7}}`, validation.CodeWrongType, "definition.sections"},
		{"open-visit", `{"visit":"v1","entries":[{"pos":"1"}]}`, validation.CodeWrongType, "entries[0].pos"},
		{"open-visit", `{"entries":[]}`, validation.CodeRequired, "visit"},
		{"add-entries", `{"visit":"v1","after":1.5}`, validation.CodeWrongType, "after"},
		{"close-visit", `{"visit":7}`, validation.CodeWrongType, "visit"},
		{"canonical", `[]`, validation.CodeWrongType, ""},
		{"fold-client", `{"entries":[{"pos":1,"raw":{"tablet":"a"}}]}`, validation.CodeOutOfRange, "entries.n"},
		{"fold-control", `{"entries":7}`, validation.CodeWrongType, "entries"},
		{"check-body", `{"kind":"photo-added","body":{}}`, validation.CodeWrongType, "kind"},
		{"plausible", `{"what":"force","value":"60"}`, validation.CodeWrongType, "value"},
		{"summarise-series", `{"series":[{"what":"force","unit":"kg","values":[1]}]}`, validation.CodeWrongUnit, "series[0].unit"},
		{"run-quantities", `{"place":"moon"}`, validation.CodeWrongType, "place"},
		{"convert", `{"values":[1,-1],"from":"gf","to":"N"}`, validation.CodeOutOfRange, "values[1]"},
		{"advice", `{"problem":"none"}`, validation.CodeWrongType, "problem"},
		{"plan", `{"chair":{},"place":{}}`, validation.CodeOutOfRange, "chair.length_mm"},
		{"trend", `{"course":"stable","points":[{"day":-1}]}`, validation.CodeOutOfRange, "points[0].day"},
		{"thresholds", `{`, validation.CodeBrokenJSON, ""},
		{"ceilings", `{"checklist":"none"}`, validation.CodeRequired, "checklist"},
		{"measured-answers", `{"visit":"v9"}`, model.CodeNotOpen, "visit"},
	}
	for _, tt := range tests {
		if got := refused(t, p, tt.op, tt.question); got.Code != tt.code || got.Path != tt.path || got.Want == "" {
			t.Errorf("%s %s: got %+v, want %s at %q", tt.op, tt.question, got, tt.code, tt.path)
		}
	}
}

func TestWithoutACatalogueNothingIsWorded(t *testing.T) {
	p := tablet.New()
	w := &writer{t: t, tablet: "tab-a", subject: "v1"}
	for op, question := range map[string]string{
		"open-visit": string(openQuestion(t, "v1", w.start())), "plausible": `{"what":"force","site":"chin","value":60,"unit":"gf"}`, "thresholds": `{}`,
	} {
		if got := refused(t, p, op, question); got.Path != "catalogue" {
			t.Errorf("%s: %+v", op, got)
		}
	}
}

// The other questions, each with something that its answer must hold.
func TestQuestionsOfTheMeasuringScreens(t *testing.T) {
	p := loaded(t)
	for _, tt := range []struct{ op, question, want string }{
		{"plausible", `{"what":"force","site":"index-right","value":60,"unit":"gf"}`, `"verdict":"ok"`},
		{"summarise-series", `{"series":[{"what":"force","unit":"gf","values":[50,52]}]}`, `"value":51`},
		{"run-quantities", `{"place":"indoors","state":"rested","seconds":300,"metres":100,"things":3,"people":0,"prompts":2,"rescues":0,"unmeant":0,"presses":0}`, `"name":"contacts"`},
		{"convert", `{"values":[1],"from":"N","to":"gf"}`, `{"values":[101.972]}`},
		{"advice", `{"problem":"long-stop"}`, `"text":"`},
		{"plan", `{"chair":{"length_mm":1100,"width_mm":650,"drive":"mid","clearance_mm":30},"place":{"place":"p1","name":"hall","kind":"door","width_mm":900}}`, `"text":"`},
		{"trend", `{"course":"stable","points":[]}`, `"text":"`},
		{"thresholds", `{}`, `{"id":"gram-force","value":"0.00980665"`},
		{"fold-control", `{"entries":[]}`, `null`},
	} {
		if got := string(must(t, p, tt.op, []byte(tt.question))); !strings.Contains(got, tt.want) {
			t.Errorf("%s: %.400s, want %s in it", tt.op, got, tt.want)
		}
	}
}

func TestCeilingsAreWordedWithTheQuestionsOfTheChecklist(t *testing.T) {
	p := loaded(t)
	question := marshal(t, model.CeilingsQuestion{Checklist: authoring.Standard().Hash()})
	got := string(must(t, p, "ceilings", question))
	for _, want := range []string{`holds the level at Accompanied`, `with “`, `{"item":"hnd-sheets","harmless":true,"answers":[`} {
		if !strings.Contains(got, want) {
			t.Errorf("%.300s…, want %s in it", got, want)
		}
	}
}

func TestAPasswordThatNoServerSeesIsJudgedHere(t *testing.T) {
	p := tablet.New()
	ask := func(password string) string {
		return string(p.Ask("check-password", marshal(t, model.PasswordQuestion{Password: password, Context: []string{"Mara Invented", "Harbour Lights"}})))
	}
	if got := ask("nine quiet lamps"); got != "null" {
		t.Errorf("a good one: %s", got)
	}
	for _, easy := range []string{"once upon a time 1984", "harbour-lights-26", "short"} {
		var bad model.BadInput
		if err := json.Unmarshal([]byte(ask(easy)), &bad); err != nil || bad.Path != "password" || bad.Want == "" {
			t.Errorf("%q: %+v, %v", easy, bad, err)
		}
	}
}

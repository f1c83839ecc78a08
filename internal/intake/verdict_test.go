package intake_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// TestHintsInWords: each says what was wrong and that the entry is kept; of what
// somebody entered also in which field, what was expected and what came.
func TestHintsInWords(t *testing.T) {
	const kept = " The entry is kept, but it does not count."
	answer := func(a model.AnswerGiven) func(*tablet) []byte { return event(model.KindAnswerGiven, "v1", a) }
	for want, line := range map[string]func(*tablet) []byte{
		"The entry can not be read.": func(*tablet) []byte { return nil },
		"Something is missing in the entry. In the field “reason” the server expected why the item does not apply.":                           answer(model.AnswerGiven{Item: "pos-pelvis", State: "not-applicable"}),
		"A value is outside what is possible. In the field “value” the server expected 0 to 10000 gf and got 12000.":                          event(model.KindReadingTaken, "v1", force("chin", "forward", 12_000, "gf")),
		"The unit does not fit what was measured. In the field “unit” the server expected gf, N, ozf or lbf and got \"kg\".":                  event(model.KindReadingTaken, "v1", force("chin", "forward", 12, "kg")),
		"The entry is about a client of another team. In the field “team” the server expected a team that the author works in and got south.": event(model.KindClientOpened, "c2", model.ClientOpened{Team: "south", Name: "x", Referred: "2026-02-20", Priority: "soon", Course: "slow"}),
		"The author's role does not cover this.":   event(model.KindClientAssigned, "c1", model.ClientAssigned{Status: "active", Version: 1, By: "marit"}),
		"The entry does not fit what it is about.": event(model.KindAnswerGiven, "v9", level("pos-pelvis", "3")),
		"The therapist's decision can not stand like this. In the field “until” the server expected a date not before 2026-03-02 and got 2026-03-01.": event(model.KindOverrideMade, "v1", model.OverrideMade{Level: "pause", Reason: "other", Text: "x", From: "2026-03-02", Until: "2026-03-01"}),
	} {
		h := newService(t)
		marit := h.visited()
		marit.lines = append(marit.lines, line(marit))
		if got := marit.send().Verdicts[0].Hint; got != want+kept {
			t.Errorf("got  %s\nwant %s", got, want+kept)
		}
	}
}

// reasons is how the hint of a code begins (PROTOCOL.md, section 4), of all that
// one push of each kind brings about.
var reasons = map[string]string{
	validation.CodeBrokenJSON:     "The entry can not be read.",
	validation.CodeRequired:       "Something is missing in the entry.",
	validation.CodeWrongType:      "A value is of the wrong kind.",
	validation.CodeOutOfRange:     "A value is outside what is possible.",
	validation.CodeWrongUnit:      "The unit does not fit what was measured.",
	validation.CodeUnknownItem:    "The visit's checklist has no such question.",
	validation.CodeOtherChecklist: "The entry belongs to another version of the checklist.",
	validation.CodeOtherTeam:      "The entry is about a client of another team.",
	validation.CodeNotAllowed:     "The author's role does not cover this.",
	validation.CodeSigned:         "The visit was signed before this entry arrived; add it as an amendment.",
	validation.CodeUnsigned:       "This came sealed and was not signed by the tablet that it names, so somebody else may have written it.",
	validation.CodeForked:         "This tablet has sent another entry under the same number, as happens when a tablet is copied or restored.",
	validation.CodeUnknownSchema:  "The entry was written by a newer version of the app than the server knows; once the server is updated it looks at the entry again.",
	validation.CodeAhead:          "The entry says that its tablet had read more of the records than there were, so what its author had seen is not known.",
	validation.CodeAuthor:         "The entry was not written by the person whose tablet sent it.",
	validation.CodeSubject:        "The entry does not fit what it is about.",
	validation.CodeOverride:       "The therapist's decision can not stand like this.",
}

// TestEachCodeHasItsReason sends one entry for each of these codes.
func TestEachCodeHasItsReason(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	add := func(line []byte) { marit.lines = append(marit.lines, line) }
	answer := func(item, value string) { marit.write(model.KindAnswerGiven, "v1", level(item, value)) }
	add([]byte("{"))
	marit.write(model.KindVisitNoted, "v1", model.VisitNoted{})
	marit.write("photo-added", "v1", struct{}{})
	answer("pos-pelvis", "x")
	answer("pos-pelvis", "4")
	marit.write(model.KindReadingTaken, "v1", force("chin", "forward", 12, "kg"))
	answer("pos-nose", "3")
	answer("pos-hips", "3")
	marit.write(model.KindClientOpened, "c2", model.ClientOpened{Team: "south", Name: "x", Referred: "2026-02-20", Priority: "soon", Course: "slow"})
	marit.write(model.KindControlListed, "k1", listed("north"))
	e := marit.event(model.KindAnswerGiven, "v1", level("pos-pelvis", "3"))
	e.Author = "davit"
	add(lineOf(e))
	e = marit.event(model.KindAnswerGiven, "v1", level("pos-pelvis", "3"))
	e.Log, e.Seen = h.logID(), 1000
	add(lineOf(e))
	answer("pos-pelvis", "2")
	marit.write(model.KindOverrideMade, "v1", model.OverrideMade{Level: "pause", Reason: "other", Text: "x", From: "2026-03-02", Until: "2026-03-01"})
	marit.write(model.KindAnswerGiven, "v9", level("pos-pelvis", "2"))
	marit.write(model.KindVisitSigned, "v1", signature())
	answer("pos-pelvis", "1")
	verdicts := marit.send().Verdicts
	forked, code := h.pushed(pushOf("", "tab-m", 1, [][]byte{[]byte("{}")}))
	key := newKey(t)
	davit := h.tablet("tab-d", "davit")
	davit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "1"))
	unsigned := h.inFile(key, "davit", davit.sealed(key, 1)).Verdicts
	seen := map[string]bool{}
	for _, v := range slices.Concat(verdicts, forked.Verdicts, unsigned) {
		if v.Code == "" {
			continue
		}
		seen[v.Code] = true
		if want := reasons[v.Code] + " "; want == " " || !strings.HasPrefix(v.Hint, want) {
			t.Errorf("%s: %s", v.Code, v.Hint)
		}
	}
	if len(seen) != len(reasons) || code != "" {
		t.Errorf("%d of %d codes were seen: %v, %q", len(seen), len(reasons), seen, code)
	}
}

// TestWhoMayNotWriteIsToldInWords and not in the names of kinds.
func TestWhoMayNotWriteIsToldInWords(t *testing.T) {
	for _, c := range []struct{ person, kind string }{
		{"ansel", model.KindPlanAgreed},
		{"marit", model.KindControlListed},
	} {
		h := newService(t)
		h.visited()
		other := h.tablet("tab-o", c.person)
		if c.kind == model.KindControlListed {
			other.write(c.kind, "k1", listed("north"))
		} else {
			other.write(c.kind, "v1", model.PlanAgreed{})
		}
		got := other.send().Verdicts[0]
		if got.Code != validation.CodeNotAllowed || strings.Contains(got.Hint, c.kind) {
			t.Errorf("%s: %s, %s", c.person, got.Code, got.Hint)
		}
	}
}

// TestAnAssistantMarksTheirOwn readings and runs, and nobody else's.
func TestAnAssistantMarksTheirOwn(t *testing.T) {
	h := newService(t)
	h.visited()
	run := model.RunTimed{Place: "indoors", State: "rested", Seconds: 60, Metres: 20}
	ansel, davit := h.tablet("tab-a", "ansel"), h.tablet("tab-d", "davit")
	for _, on := range []*tablet{ansel, davit} {
		on.write(model.KindReadingTaken, "v1", force("chin", "forward", 80, "gf"))
		on.write(model.KindRunTimed, "v1", run)
		on.sendAll()
	}
	for _, ref := range []model.Ref{"tab-a:1", "tab-d:1"} {
		ansel.write(model.KindReadingMarked, "v1", model.ReadingMarked{Reading: ref, Slip: true, Reason: "x"})
	}
	for _, ref := range []model.Ref{"tab-a:2", "tab-d:2"} {
		ansel.write(model.KindRunMarked, "v1", model.RunMarked{Run: ref, Slip: true, Reason: "x"})
	}
	if got, want := verdicts(ansel.send()), "3 stored, 4 quarantined not-allowed, 5 stored, 6 quarantined not-allowed"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// TestWhereAnEventMayStand: what a visit and a client must be for it.
func TestWhereAnEventMayStand(t *testing.T) {
	list := authoring.Standard()
	with := func(change func(*model.VisitStarted)) model.VisitStarted {
		v := started(list, "c1", "north")
		change(&v)
		return v
	}
	for _, c := range []struct {
		name, kind, subject string
		body                any
		want, field         string
	}{
		{"a visit to a visit", model.KindVisitStarted, "v2", with(func(v *model.VisitStarted) { v.Client = "v1" }), "quarantined subject", "body.client"},
		{"a visit in another team than its client's", model.KindVisitStarted, "v2", with(func(v *model.VisitStarted) { v.Team = "south" }), "quarantined other-team", "body.team"},
		{"a checklist by another name", model.KindVisitStarted, "v2", with(func(v *model.VisitStarted) { v.Checklist.ID = "other" }), "quarantined other-checklist", "body.checklist.version"},
		{"a checklist of another version", model.KindVisitStarted, "v2", with(func(v *model.VisitStarted) { v.Checklist.Version = "1999" }), "quarantined other-checklist", "body.checklist.version"},
		{"a client opened twice", model.KindClientOpened, "c1", model.ClientOpened{Team: "north", Name: "x", Referred: "2026-02-20", Priority: "soon", Course: "slow"}, "quarantined subject", "subject"},
		{"a client under a visit's id", model.KindClientOpened, "v1", model.ClientOpened{Team: "north", Name: "x", Referred: "2026-02-20", Priority: "soon", Course: "slow"}, "quarantined subject", "subject"},
		{"a later kind about a client", "photo-added", "c1", struct{}{}, "quarantined unknown-schema", "kind"},
		{"a later kind about a visit", "photo-added", "v1", struct{}{}, "quarantined unknown-schema", "kind"},
		{"an answer about a client", model.KindAnswerGiven, "c1", level("pos-pelvis", "2"), "quarantined subject", "subject"},
		{"a choice of an item that there is not", model.KindAnswerChosen, "v1", model.AnswerChosen{Item: "pos-nose", Keep: "tab-m:1", Drop: []model.Ref{"tab-d:1"}}, "quarantined unknown-item", "body.item"},
		{"a second rating of a client", model.KindVisitStarted, "v2", with(func(v *model.VisitStarted) { v.SecondOf = "c1" }), "quarantined subject", "body.second_of"},
	} {
		h := newService(t)
		h.visited()
		lena := h.tablet("tab-l", "lena")
		lena.write(c.kind, c.subject, c.body)
		answer := lena.send()
		if got := strings.TrimPrefix(verdicts(answer), "1 "); got != c.want || answer.Verdicts[0].Field != c.field {
			t.Errorf("%s: %s at %q, want %s at %q", c.name, got, answer.Verdicts[0].Field, c.want, c.field)
		}
	}
}

// TestAnAmendmentIsCheckedLikeWhatItCarries, and names the field within it.
func TestAnAmendmentIsCheckedLikeWhatItCarries(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	marit.write(model.KindVisitSigned, "v1", signature())
	for _, change := range []struct {
		kind string
		body any
	}{
		{model.KindAnswerGiven, level("pos-nose", "1")},
		{model.KindAnswerChosen, model.AnswerChosen{Item: "pos-nose", Keep: "tab-m:1", Drop: []model.Ref{"tab-d:1"}}},
		{model.KindReadingMarked, model.ReadingMarked{Reading: "tab-m:9", Slip: true, Reason: "x"}},
	} {
		marit.write(model.KindAmendmentMade, "v1", model.AmendmentMade{Reason: "late", Kind: change.kind, Change: mustJSON(change.body)})
	}
	verdicts := marit.send().Verdicts[1:]
	for i, want := range []string{"body.change.item", "body.change.item", "body.change.reading"} {
		if verdicts[i].Field != want {
			t.Errorf("refused at %q, want %q", verdicts[i].Field, want)
		}
	}
}

// TestAnOldChecklist: a visit whose checklist the server has no longer takes
// readings, and no answers that it could not check.
func TestAnOldChecklist(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	h.update(func(w store.Writer) error {
		raw := lineOf(marit.event(model.KindVisitStarted, "v-old", started(authoring.Standard(), "c1", "north")))
		_, err := w.Append(store.Batch{Tablet: "tab-gone", FirstN: 1, Team: "north", Subject: "v-old", Received: marit.now().Format(store.TimeLayout),
			Events: [][]byte{[]byte(strings.Replace(string(raw), `"tab-m","n":3`, `"tab-gone","n":1`, 1))}})
		if err != nil {
			return err
		}
		if err := w.SetTablet(store.Tablet{ID: "tab-gone", Person: "marit", Ack: 1}); err != nil {
			return err
		}
		return w.AddSubject(store.Subject{ID: "v-old", Kind: model.SubjectVisit, Team: "north", Client: "c1", Checklist: strings.Repeat("0", 64)})
	})
	marit.write(model.KindReadingTaken, "v-old", force("chin", "forward", 80, "gf"))
	marit.write(model.KindAnswerGiven, "v-old", level("pos-pelvis", "2"))
	marit.write(model.KindAnswerChosen, "v-old", model.AnswerChosen{Item: "pos-nose", Keep: "tab-m:1", Drop: []model.Ref{"tab-d:1"}})
	marit.write(model.KindVisitSigned, "v-old", signature())
	marit.write(model.KindAmendmentMade, "v-old", model.AmendmentMade{Reason: "late", Kind: model.KindAnswerGiven, Change: mustJSON(level("pos-pelvis", "2"))})
	var told []string
	h.intake.OnUnscored(func(visit, why string) { told = append(told, visit+": "+why) })
	answer := marit.send()
	if got, want := verdicts(answer), "3 stored, 4 quarantined other-checklist, 5 stored, 6 stored, 7 quarantined other-checklist"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	for _, i := range []int{1, 4} { // what is wrong is the visit, and nothing in the entry
		if got := answer.Verdicts[i].Field; got != "subject" {
			t.Errorf("entry %d is refused at %q", i+3, got)
		}
	}
	if want := "v-old: the checklist is not known"; len(told) != 1 || told[0] != want {
		t.Errorf("told %q, want %q", told, want)
	}
	var result store.Result
	h.view(func(r store.Reader) (err error) { result, err = r.Result("v-old"); return err })
	if !result.Brief.Unscored || len(result.Body) != 0 || h.summary("c1").Unscored != 1 {
		t.Errorf("%+v", result)
	}
}

// TestWhoSeesWhatWasSetAside: the team of what the entry is about, else the one
// that it names, else where earlier entries about the same went, else the first
// of the author's own.
func TestWhoSeesWhatWasSetAside(t *testing.T) {
	h := newService(t)
	h.visited()
	sora := h.tablet("tab-s", "sora")
	sora.openClient("c-south", "south")
	sora.sendAll()
	who := caller("nemo")
	who.Teams = map[string]string{"south": model.RoleClinician, "north": model.RoleClinician, "west": model.RoleClinician}
	nemo := h.tablet("tab-n", "nemo")
	bad := func(kind, subject string, body any) {
		e := nemo.event(kind, subject, body)
		e.Author = "davit"
		nemo.lines = append(nemo.lines, lineOf(e))
	}
	bad(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	bad(model.KindClientChanged, "c-south", model.ClientChanged{Fields: map[string]string{"name": "x"}})
	bad(model.KindClientOpened, "c-new", model.ClientOpened{Team: "south", Name: "x", Referred: "2026-02-20", Priority: "soon", Course: "slow"})
	bad(model.KindClientChanged, "c-new", model.ClientChanged{Fields: map[string]string{"name": "x"}})
	bad(model.KindControlListed, "k-new", listed("south"))
	bad(model.KindVisitStarted, "v-new", started(authoring.Standard(), "c-south", "north"))
	bad(model.KindVisitStarted, "v-other", started(authoring.Standard(), "c-none", "south"))
	bad(model.KindClientOpened, "c-other", model.ClientOpened{Team: "nowhere", Name: "x", Referred: "2026-02-20", Priority: "soon", Course: "slow"})
	bad(model.KindAnswerGiven, "v-none", level("pos-pelvis", "2"))
	nemo.lines = append(nemo.lines, []byte("{"), []byte("["))
	// Of what is new the first entry that names a team decides.
	bad(model.KindClientOpened, "c-late", model.ClientOpened{Team: "south", Name: "x", Referred: "2026-02-20", Priority: "soon", Course: "slow"})
	bad(model.KindClientOpened, "c-late", model.ClientOpened{Team: "north", Name: "x", Referred: "2026-02-20", Priority: "soon", Course: "slow"})
	bad(model.KindClientChanged, "c-late", model.ClientChanged{Fields: map[string]string{"name": "x"}})
	if _, err := h.intake.Push(t.Context(), who, pushOf("", "tab-n", 1, nemo.lines)); err != nil {
		t.Fatal(err)
	}
	want := []string{"north c1", "south c-south", "south ", "south ", "south ", "south c-south", "south ", "north ", "north ", "north ", "north ", "south ", "north ", "south "}
	kept := h.quarantine(store.QuarantineFilter{Tablet: "tab-n"})
	for i, q := range kept {
		if got := q.Team + " " + q.Client; i >= len(want) || got != want[i] {
			t.Errorf("entry %d about %q went to %q, want %q", q.N, q.Subject, got, want[i])
		}
	}
	if len(kept) != len(want) {
		t.Errorf("%d kept, want %d", len(kept), len(want))
	}
	if north, south := h.summary("c1").Quarantined, h.summary("c-south").Quarantined; north != 1 || south != 2 {
		t.Errorf("the caseload counts %d and %d, want 1 and 2", north, south)
	}
}

// TestWhatIsAboutNothingFollowsItsAuthor: two entries that cannot be read are
// not about the same, and the second goes to the team that its author is in now.
func TestWhatIsAboutNothingFollowsItsAuthor(t *testing.T) {
	h := newService(t)
	nemo := h.tablet("tab-n", "nemo")
	nemo.lines = [][]byte{[]byte("{"), []byte("[")}
	who := caller("nemo")
	for i, team := range []string{"north", "south"} {
		who.Teams = map[string]string{team: model.RoleClinician}
		if _, err := h.intake.Push(t.Context(), who, pushOf("", "tab-n", int64(i+1), nemo.lines[i:i+1])); err != nil {
			t.Fatal(err)
		}
		if kept := h.quarantine(store.QuarantineFilter{Team: team}); len(kept) != 1 || kept[0].N != int64(i+1) {
			t.Errorf("the lead of %s sees %+v", team, kept)
		}
	}
}

// TestAnEntryThatWasSetAsideKeepsItsVerdict, when it comes again beside others
// of its number.
func TestAnEntryThatWasSetAsideKeepsItsVerdict(t *testing.T) {
	h := newService(t)
	h.visited()
	one, _ := json.Marshal(map[string]int{"one": 1})
	two, _ := json.Marshal(map[string]int{"two": 2})
	for _, line := range [][]byte{one, two, two, one} {
		answer, code := h.pushed(pushOf("", "tab-m", 1, [][]byte{line}))
		if code != "" || verdicts(answer) != "1 quarantined forked" {
			t.Errorf("%s: %q %s", line, code, verdicts(answer))
		}
	}
	if kept := h.quarantine(store.QuarantineFilter{Tablet: "tab-m"}); len(kept) != 2 || string(kept[0].Raw) != string(one) || string(kept[1].Raw) != string(two) {
		t.Errorf("%d kept, want two", len(kept))
	}
	if got := h.summary("c1").Quarantined; got != 0 {
		t.Errorf("the caseload counts %d of entries about nothing", got)
	}
}

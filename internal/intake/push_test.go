package intake_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

func TestPushIsScoredAndSummarised(t *testing.T) {
	h := newService(t)
	var told []store.Summary
	h.intake.OnCommit(func(changed []store.Summary) { told = append(told, changed...) })
	marit := h.visited()
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "0"))
	marit.write(model.KindPlanAgreed, "v1", model.PlanAgreed{Recheck: "2026-05-01"})
	marit.sendAll()
	var result store.Result
	h.view(func(r store.Reader) (err error) { result, err = r.Result("v1"); return err })
	if !strings.HasPrefix(string(result.Body), `{"format":"doorsill-result/2","engine":`) || result.Format != model.ResultFormat || result.Pos != 4 || len(result.SHA256) != 64 {
		t.Errorf("result: %+v", result)
	}
	line := h.summary("c1")
	if line.Level == "" || line.Effective == "" || line.Visits != 1 || line.Unsigned != 1 || line.Recheck != "2026-05-01" ||
		line.Name != "Robin c1" || line.Status != "waiting" || line.Visit != "v1" || line.Author != "marit" {
		t.Errorf("summary: %+v", line)
	}
	if len(told) != 2 || told[1] != line {
		t.Errorf("told %+v", told)
	}
}

// A fault in the engine must not hold up what a therapist wrote down.
func TestEntriesAreKeptWhenTheEngineStumbles(t *testing.T) {
	h := newService(t)
	h.intake.Stumble()
	var told []string
	h.intake.OnUnscored(func(visit, why string) { told = append(told, visit+": "+why) })
	marit := h.visited()
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "0"))
	if got, want := verdicts(marit.send()), "3 stored"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	var result store.Result
	h.view(func(r store.Reader) (err error) { result, err = r.Result("v1"); return err })
	if len(result.Body) != 0 || h.summary("c1").Level != "" || h.summary("c1").Visits != 1 {
		t.Errorf("result %+v, line %+v: want a visit without a level", result, h.summary("c1"))
	}
	if !result.Brief.Unscored || h.summary("c1").Unscored != 1 {
		t.Errorf("brief %+v, line %+v: want one visit that could not be scored", result.Brief, h.summary("c1"))
	}
	if len(told) == 0 || told[0] != "v1: fault in the engine" {
		t.Errorf("told %q", told)
	}
}

func TestRepeatsAreKnown(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	marit.lines = append(marit.lines, []byte("{"))
	first := marit.send()
	marit.sent = 0
	takeRepeated := marit.send()
	if got, want := verdicts(takeRepeated), "1 known, 2 known, 3 quarantined broken-json"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if takeRepeated.Verdicts[2] != first.Verdicts[0] || takeRepeated.Ack != 3 {
		t.Errorf("another verdict the second time: %+v", takeRepeated)
	}
	marit.sent = 1
	marit.write(model.KindAnswerGiven, "v1", level("pos-trunk", "2"))
	if got, want := verdicts(marit.send()), "2 known, 3 quarantined broken-json, 4 stored"; got != want {
		t.Errorf("an overlap: got %s, want %s", got, want)
	}
	nothing := marit.send()
	if nothing.Ack != 4 || len(nothing.Verdicts) != 0 {
		t.Errorf("nothing to do: %+v", nothing)
	}
}

func TestForkedTablet(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	copied := *marit
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "3"))
	marit.sendAll()
	copied.lines = slices.Clone(copied.lines)
	copied.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "0"))
	for range 2 {
		copied.sent = 2
		if got, want := verdicts(copied.send()), "3 quarantined forked"; got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
	if kept := h.quarantine(store.QuarantineFilter{Team: "north"}); len(kept) != 1 || kept[0].Client != "c1" {
		t.Errorf("kept %+v, want one", kept)
	}
	if got := h.visit("v1").Answers[0].Heads[0].Level; got != "3" {
		t.Errorf("the first answer became %s", got)
	}
	if got := h.summary("c1").Quarantined; got != 1 {
		t.Errorf("the caseload counts %d", got)
	}
}

func TestTwoTabletsApart(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	davit := h.tablet("tab-d", "davit")
	davit.seen = 2
	marit.seen = 2
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "3"))
	davit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "1"))
	marit.sendAll()
	davit.sendAll()
	if got := h.summary("c1").Choices; got != 1 {
		t.Errorf("%d items wait for a choice, want 1", got)
	}
	davit.seen = 4
	davit.write(model.KindAnswerChosen, "v1", model.AnswerChosen{Item: "pos-pelvis", Keep: "tab-d:1", Drop: []model.Ref{"tab-m:3"}})
	davit.sendAll()
	if got := h.summary("c1").Choices; got != 0 {
		t.Errorf("%d items wait after the choice", got)
	}
}

func TestSignedVisits(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	davit := h.tablet("tab-d", "davit")
	marit.write(model.KindVisitSigned, "v1", signature())
	marit.sendAll()
	davit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "1"))
	davit.write(model.KindVisitSigned, "v1", signature())
	davit.write(model.KindAmendmentMade, "v1", model.AmendmentMade{Reason: "read late", Kind: model.KindAnswerGiven, Change: mustJSON(level("pos-pelvis", "1"))})
	davit.write(model.KindAmendmentMade, "v1", model.AmendmentMade{Reason: "read late", Kind: model.KindAnswerGiven, Change: mustJSON(level("pos-nose", "1"))})
	answer := davit.send()
	if got, want := verdicts(answer), "1 quarantined signed, 2 quarantined signed, 3 stored, 4 quarantined unknown-item"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if got := answer.Verdicts[3].Field; got != "body.change.item" {
		t.Errorf("field %s", got)
	}
	visit := h.visit("v1")
	if visit.Signed == nil || len(visit.Amendments) != 1 || visit.Answers[0].Heads[0].By != "davit" {
		t.Errorf("visit: %+v", visit)
	}
	if line := h.summary("c1"); !line.Signed || line.Unsigned != 0 || line.Quarantined != 3 || !line.Mismatch {
		t.Errorf("summary: %+v", line)
	}
}

func mustJSON(value any) model.Raw {
	data, err := json.Marshal(value)
	if err != nil {
		panic(err)
	}
	return data
}

func TestClockSkewIsMarkedNotRefused(t *testing.T) {
	tests := []struct {
		name   string
		sentAt time.Duration
		at     time.Duration
		want   bool
	}{
		{"right", 0, 0, false},
		{"written three days ago", 0, -72 * time.Hour, false},
		{"an hour ahead", time.Hour, time.Hour, true},
		{"a day behind", -24 * time.Hour, -24 * time.Hour, true},
		{"four minutes ahead", 4 * time.Minute, 4 * time.Minute, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			h := newService(t)
			marit := h.visited()
			e := marit.event(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
			e.At = h.now().Add(tt.at).Format(store.TimeLayout)
			body := pushOf(marit.log, "tab-m", 3, [][]byte{lineOf(e)}, func(head *intake.Header) {
				head.At = h.now().Add(tt.sentAt).Format(store.TimeLayout)
			})
			answer, err := h.intake.Push(context.Background(), caller("marit"), body)
			if err != nil || verdicts(answer) != "3 stored" {
				t.Fatalf("%v, %s", err, verdicts(answer))
			}
			h.view(func(r store.Reader) error {
				entries, err := r.Entries(2, 1)
				if err == nil && entries[0].Skewed != tt.want {
					t.Errorf("marked %v, want %v", entries[0].Skewed, tt.want)
				}
				tablet, err2 := r.Tablet("tab-m")
				if tablet.SkewSeconds != int64(tt.sentAt/time.Second) {
					t.Errorf("skew of %d s", tablet.SkewSeconds)
				}
				return errors.Join(err, err2)
			})
		})
	}
}

// One push that is refused or full of nonsense does not fail the others that
// wait with it.
func TestPushesTogetherAreIndependent(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	const good = 20
	tablets := make([]*tablet, good)
	for i := range tablets {
		tablets[i] = h.tablet(fmt.Sprintf("tab-%d", i), "davit")
		tablets[i].write(model.KindAnswerGiven, "v1", level("pos-trunk", "2"))
	}
	var all sync.WaitGroup
	for _, tb := range tablets {
		all.Go(func() {
			answer, err := h.intake.Push(context.Background(), caller("davit"), pushOf(marit.log, tb.id, 1, tb.lines))
			if err != nil || verdicts(answer) != "1 stored" {
				t.Errorf("%s: %v %s", tb.id, err, verdicts(answer))
			}
		})
		all.Go(func() {
			_, err := h.intake.Push(context.Background(), caller("marit"), pushOf(marit.log, "tab-m", 9, tb.lines))
			var refused *intake.PushError
			if !errors.As(err, &refused) || refused.Code != intake.CodeGap {
				t.Errorf("a gap: %v", err)
			}
		})
	}
	all.Wait()
	if got := len(h.visit("v1").Answers[0].Heads); got != good {
		t.Errorf("%d answers stand, want %d", got, good)
	}
}

// An older visit that arrives late does not hide the newer one.
func TestLateVisitDoesNotHideANewerOne(t *testing.T) {
	h := newService(t)
	away := h.tablet("tab-d", "davit")
	marit := h.visited()
	e := away.event(model.KindVisitStarted, "v-old", started(h.older, "c1", "north"))
	e.At = "2026-02-01T09:00:00.000Z"
	away.lines = append(away.lines, lineOf(e))
	away.write(model.KindAnswerGiven, "v-old", level("pos-hips", "2"))
	away.sendAll()
	if line := h.summary("c1"); line.Visit != "v1" || line.Visits != 2 {
		t.Errorf("summary: %+v", line)
	}
	h.minutes.Store(60)
	marit.startVisit("v2", "c1", "north")
	marit.sendAll()
	if line := h.summary("c1"); line.Visit != "v2" || line.Visits != 3 {
		t.Errorf("summary: %+v", line)
	}
}

// TestUnknownKindsInTheLog: earlier versions took them in. They stay, and are
// counted.
func TestUnknownKindsInTheLog(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	marit.write("photo-added", "v1", map[string]string{"sum": "x"})
	e := marit.event(model.KindAnswerGiven, "v1", map[string]int{"level": 3})
	e.Schema = 9
	marit.lines = append(marit.lines, lineOf(e))
	h.update(func(w store.Writer) error {
		_, err := w.Append(store.Batch{Tablet: "tab-m", FirstN: 3, Team: "north", Subject: "v1", Received: h.now().Format(store.TimeLayout), Events: marit.lines[2:]})
		return errors.Join(err, w.SetTablet(store.Tablet{ID: "tab-m", Person: "marit", Ack: 4}))
	})
	marit.sent = 4
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	marit.sendAll()
	if got := h.summary("c1").Unknown; got != 2 {
		t.Errorf("%d unknown events, want 2", got)
	}
}

func TestClosedIntake(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	h.intake.Close()
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	_, err := h.intake.Push(context.Background(), caller("marit"), pushOf(marit.log, "tab-m", 3, marit.lines[2:]))
	if !errors.Is(err, intake.ErrClosed) {
		t.Errorf("got %v", err)
	}
}

// Visits that are kept between commits are never taken for more than the log has.
func TestKeptVisitsFollowTheLog(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "3"))
	marit.sendAll()
	for i := range 80 { // more than are kept between commits
		marit.openClient(fmt.Sprintf("more-%d", i), "north")
	}
	marit.sendAll()
	// Somebody else writes to the log: a visit that is kept is read anew.
	davit := h.tablet("tab-d", "davit")
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	marit.sendAll()
	h.update(func(w store.Writer) error {
		e := davit.event(model.KindAnswerGiven, "v1", level("pos-trunk", "1"))
		_, err := w.Append(store.Batch{Tablet: "tab-d", FirstN: 1, Team: "north", Subject: "v1", Received: h.now().Format(store.TimeLayout), Events: [][]byte{lineOf(e)}})
		return errors.Join(err, w.SetTablet(store.Tablet{ID: "tab-d", Person: "davit", Ack: 1}))
	})
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "1"))
	marit.sendAll()
	var result store.Result
	h.view(func(r store.Reader) (err error) { result, err = r.Result("v1"); return err })
	for _, item := range []string{"pos-trunk", "pos-pelvis"} {
		if !strings.Contains(string(result.Body), `{"id":"`+item+`","state":"answered",`) {
			t.Errorf("the result misses the answer to %s:\n%s", item, result.Body)
		}
	}
}

package intake_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"testing"

	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// Whatever comes as a push, reading it ends, and it is either refused whole,
// with a reason, or holds as many events as it says.
func FuzzReadPush(f *testing.F) {
	line := []byte(`{"tablet":"tab-a","n":1,"kind":"visit-noted","subject":"v1","author":"marit","at":"2026-03-02T09:12:30.000Z","zone":"Etc/UTC","schema":1,"seen":0,"body":{"fields":{"note":"x"}}}`)
	whole := pushOf("log", "tab-a", 1, [][]byte{line, line}).Bytes()
	f.Add(whole)
	f.Add(whole[:len(whole)/2])
	f.Add([]byte("\n"))
	f.Add(pushOf("", "tab-a", 1<<53, nil).Bytes())
	f.Fuzz(func(t *testing.T, body []byte) {
		count, err := intake.ReadPush(bytes.NewReader(body))
		var refused *intake.PushError
		if err != nil && (!errors.As(err, &refused) || refused.Code == "" || refused.Message == "") {
			t.Fatalf("refused without a reason: %v", err)
		}
		if lines := bytes.Count(body, []byte("\n")); err == nil && (count > lines || count > intake.MaxEvents) {
			t.Fatalf("%d events in %d lines", count, lines)
		}
	})
}

// FuzzPushedLines sends lines that arrive whole: each of them is kept, in the
// log or in quarantine, and gets one verdict that stays the same.
func FuzzPushedLines(f *testing.F) {
	all := newService(f)
	all.visited()
	for _, body := range []string{`{"fields":{"note":"x"}}`, `{"item":"pos-head","state":"answered","level":"2"}`, `null`} {
		for _, kind := range []string{model.KindVisitNoted, model.KindAnswerGiven, "tea-made"} {
			f.Add(fmt.Appendf(nil, `{"tablet":"TAB","n":1,"kind":%q,"subject":"v1","author":"marit","at":"2026-03-02T09:12:30.000Z","zone":"Etc/UTC","schema":1,"seen":3,"body":%s}`, kind, body))
		}
	}
	tablets := 0
	f.Fuzz(func(t *testing.T, text []byte) {
		tablets++
		h := &service{TB: t, store: all.store, intake: all.intake}
		tablet := h.tablet(fmt.Sprintf("tab-f%d", tablets), "marit")
		text = bytes.ReplaceAll(text, []byte("TAB"), []byte(tablet.id))
		lines := bytes.Split(bytes.TrimSuffix(text, []byte("\n")), []byte("\n"))
		if len(lines) > intake.MaxEvents {
			return
		}
		var first, second intake.PushAnswer
		for _, answer := range []*intake.PushAnswer{&first, &second} {
			var err error
			*answer, err = h.intake.Push(context.Background(), caller("marit"), pushOf("", tablet.id, 1, lines))
			var refused *intake.PushError
			if errors.As(err, &refused) {
				return
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		if int(first.Ack) != len(lines) || len(first.Verdicts) != len(lines) || second.Ack != first.Ack {
			t.Fatalf("%d lines, answers %+v, %+v", len(lines), first, second)
		}
		h.view(func(r store.Reader) error {
			for i, line := range lines {
				placed, err := r.Placed(tablet.id, int64(i+1))
				if err != nil || !bytes.Equal(placed.Raw, line) {
					t.Errorf("line %d %q is kept as %q: %v", i+1, line, placed.Raw, err)
				}
				if (first.Verdicts[i].Verdict == intake.Quarantined) != (second.Verdicts[i].Verdict == intake.Quarantined) {
					t.Errorf("line %d: %+v, then %+v", i+1, first.Verdicts[i], second.Verdicts[i])
				}
			}
			return nil
		})
	})
}

package intake_test

import (
	"bytes"
	"context"
	"fmt"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store/bolt"
)

// answered writes a visit of as many entries as asked: the start, an answer
// to each question that can be typed, then readings.
func (t *tablet) answered(visit, client string, entries int) {
	t.startVisit(visit, client, "north")
	left := entries - 1
	list := authoring.Standard()
	for _, section := range list.Sections {
		for i := range section.Items {
			item := &section.Items[i]
			a := model.AnswerGiven{Item: item.ID, State: model.StateAnswered}
			low, high := item.Range()
			middle := float64(int64((low + high) / 2))
			switch {
			case item.From != "" || left == 0:
				continue
			case item.Sides:
				a.Left, a.Right = &middle, &middle
			case item.Type == "number" || item.Type == "count":
				a.Number = &middle
			case item.Type == "yes-no":
				a.Level = "yes"
			default:
				a.Level = "2"
			}
			t.write(model.KindAnswerGiven, visit, a)
			left--
		}
	}
	for i := range left {
		direction := []string{"forward", "reverse", "left", "right"}[i%4]
		t.write(model.KindReadingTaken, visit, force("index-right", direction, 60+float64(i), "gf"))
	}
}

// onDisk is a service whose commits wait for the disk.
func onDisk(b *testing.B) *service { return newServiceAt(b, bolt.Options{}) }

// push pushes lines from a number on, in pushes of at most size.
func (t *tablet) pushInParts(b *testing.B, size int) {
	for t.sent < int64(len(t.lines)) {
		part := t.lines[t.sent:min(int64(len(t.lines)), t.sent+int64(size))]
		body := pushOf("", t.id, t.sent+1, part)
		answer, err := t.intake.Push(context.Background(), caller(t.person), body)
		if err != nil {
			b.Fatal(err)
		}
		for _, v := range answer.Verdicts {
			if v.Verdict != intake.Stored {
				b.Fatalf("event %d: %s %s", v.N, v.Verdict, v.Hint)
			}
		}
		t.sent = answer.Ack
	}
}

// A hundred whole visits of 120 entries, sent in pushes as large as allowed.
func BenchmarkPushHundredVisits(b *testing.B) {
	h := onDisk(b)
	round := 0
	entries, size := 0, 0
	for b.Loop() {
		b.StopTimer()
		t := h.tablet(fmt.Sprintf("tab-%d", round), "marit")
		for i := range 100 {
			client := fmt.Sprintf("c-%d-%d", round, i)
			t.openClient(client, "north")
			t.answered(fmt.Sprintf("v-%d-%d", round, i), client, 120)
		}
		round++
		entries += len(t.lines)
		for _, line := range t.lines {
			size += len(line)
		}
		b.StartTimer()
		t.pushInParts(b, intake.MaxEvents)
	}
	seconds := b.Elapsed().Seconds()
	b.ReportMetric(float64(round*100)/seconds, "visits/s")
	b.ReportMetric(float64(entries)/seconds, "entries/s")
	b.ReportMetric(float64(size)/seconds/1e6, "MB/s")
}

// filled is a service with 5,000 visits of a few entries and one tablet that has
// a visit of 120 entries in progress.
func filled(b *testing.B) (*service, *tablet) {
	h := onDisk(b)
	old := h.tablet("tab-old", "davit")
	for i := range 5_000 {
		client := fmt.Sprintf("c-%d", i)
		old.openClient(client, "north")
		old.startVisit(fmt.Sprintf("v-%d", i), client, "north")
		old.write(model.KindAnswerGiven, fmt.Sprintf("v-%d", i), level("pos-pelvis", "2"))
	}
	old.pushInParts(b, intake.MaxEvents)
	marit := h.visited()
	return h, marit
}

func BenchmarkOneVisitAmong5000(b *testing.B) {
	_, marit := filled(b)
	round := 0
	for b.Loop() {
		b.StopTimer()
		marit.answered(fmt.Sprintf("one-%d", round), fmt.Sprintf("c-%d", round%5_000), 120)
		round++
		b.StartTimer()
		marit.pushInParts(b, intake.MaxEvents)
	}
}

func BenchmarkOneAnswerAmong5000(b *testing.B) {
	_, marit := filled(b)
	marit.answered("one", "c1", 120)
	marit.pushInParts(b, intake.MaxEvents)
	answer := marit.event(model.KindAnswerGiven, "one", level("pos-pelvis", "1"))
	for b.Loop() {
		b.StopTimer()
		answer.N = int64(len(marit.lines)) + 1
		marit.lines = append(marit.lines, lineOf(answer))
		b.StartTimer()
		marit.pushInParts(b, intake.MaxEvents)
	}
}

func BenchmarkNothingToDo(b *testing.B) {
	_, marit := filled(b)
	body := pushOf("", marit.id, marit.sent+1, nil).Bytes()
	for b.Loop() {
		if _, err := marit.intake.Push(context.Background(), caller("marit"), bytes.NewReader(body)); err != nil {
			b.Fatal(err)
		}
	}
}

package intake_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/store/storetest"
)

// pushed sends a body as Marit and says the code of the refusal, or nothing.
func (h *service) pushed(body io.Reader) (intake.PushAnswer, string) {
	h.Helper()
	answer, err := h.intake.Push(context.Background(), caller("marit"), body)
	var refused *intake.PushError
	if errors.As(err, &refused) {
		return answer, refused.Code + " " + refused.Field
	}
	if err != nil {
		h.Fatal(err)
	}
	return answer, ""
}

// TestPushesUpToTheirLimits: a first line of 4 KiB, 1,000 events and 4 MiB
// (PROTOCOL.md, section 4).
func TestPushesUpToTheirLimits(t *testing.T) {
	h := newService(t)
	h.tablet("tab-m", "marit")
	padded := func(length int) io.Reader {
		head := strings.TrimSuffix(pushOf("", "tab-m", 1, nil).String(), "\n")
		return strings.NewReader(head[:len(head)-1] + strings.Repeat(" ", length-len(head)) + "}\n")
	}
	// full is so many entries about a client, padded to so many bytes.
	full := func(events, bytes int) io.Reader {
		on := &tablet{service: h, id: "tab-m", person: "marit"}
		on.openClient("c1", "north")
		for len(on.lines) < events {
			on.write(model.KindClientChanged, "c1", model.ClientChanged{Fields: map[string]string{"reason": "fall"}})
		}
		for i, line := range on.lines {
			length := bytes/events - 1
			if i == 0 {
				length += bytes % events
			}
			on.lines[i] = append(line, strings.Repeat(" ", length-len(line))...)
		}
		return pushOf("", "tab-m", 1, on.lines)
	}
	for _, c := range []struct {
		name string
		body io.Reader
		code string
	}{
		{"a first line of 4 KiB", padded(4 << 10), ""},
		{"a byte more", padded(4<<10 + 1), "damaged "},
		{"1,001 events", full(1_001, 1_001*400), "too-large count"},
		{"a byte more than 4 MiB", full(100, 4<<20+1), "too-large count"},
		{"1,000 events of 4 MiB", full(1_000, 4<<20), ""},
	} {
		if _, code := h.pushed(c.body); code != c.code {
			t.Errorf("%s: %q, want %q", c.name, code, c.code)
		}
	}
	h.view(func(r store.Reader) error {
		if storetest.Head(t, r) != 1_000 {
			t.Errorf("%d entries in the log", storetest.Head(t, r))
		}
		return nil
	})
	// The longest first line leaves as much room for the events as a short one.
	for bytes, want := range map[int]string{4 << 20: "damaged sha256", 4<<20 + 1: "too-large count"} {
		if _, code := h.pushed(io.MultiReader(padded(4<<10), strings.NewReader(strings.Repeat("x", bytes)))); code != want {
			t.Errorf("%d bytes after a first line of 4 KiB: %q, want %q", bytes, code, want)
		}
	}
	for want, body := range map[string]io.Reader{
		"The push is larger than 4 MiB; send fewer events at a time.": full(100, 4<<20+1),
		"The push holds more than 1000 events; send fewer at a time.": full(1_001, 1_001*400),
		"The push was empty.":                                                         strings.NewReader(""),
		"The first line of the push can not be read.":                                 strings.NewReader("x"),
		"The push says 2 events but holds 1.":                                         pushOf("", "tab-m", 1, [][]byte{[]byte("{}")}, func(h *intake.Header) { h.Count = 2 }),
		"The push does not say how many events it holds.":                             pushOf("", "tab-m", 1, nil, func(h *intake.Header) { h.Count = -1 }),
		"Entries before 2000 have not arrived; the tablet will send again from 1001.": pushOf("", "tab-m", 2_000, nil),
	} {
		_, err := h.intake.Push(context.Background(), caller("marit"), body)
		var refused *intake.PushError
		if err == nil || err.Error() != want {
			t.Errorf("%v\nwant %s", err, want)
		}
		if errors.As(err, &refused) && refused.Code == intake.CodeGap && (refused.Want != "1001" || refused.Ack != 1_000) {
			t.Errorf("want %s, receipt %d", refused.Want, refused.Ack)
		}
	}
}

func sumOf(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}

// TestHowAPushEnds: the last line may lack its end, and a first line alone is a
// whole push of nothing.
func TestHowAPushEnds(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	line := marit.lines[2]
	whole := pushOf("", "tab-m", 3, [][]byte{line}).Bytes()
	open := pushOf("", "tab-m", 3, [][]byte{line}, func(head *intake.Header) { head.SHA256 = sumOf(line) }).Bytes()
	for _, c := range []struct {
		name string
		body io.Reader
		code string
		ack  int64
	}{
		{"a first line without its end", bytes.NewReader(bytes.TrimSuffix(pushOf("", "tab-m", 3, nil).Bytes(), []byte("\n"))), "", 2},
		{"a first line that counts one", bytes.NewReader(bytes.TrimSuffix(pushOf("", "tab-m", 3, nil, func(head *intake.Header) { head.Count = 1 }).Bytes(), []byte("\n"))), "damaged count", 0},
		{"a second line that is not counted", pushOf("", "tab-m", 3, [][]byte{line, line}, func(head *intake.Header) { head.Count = 1 }), "damaged count", 0},
		{"a last line of one byte without its end", strings.NewReader(strings.TrimSuffix(pushOf("", "tab-m", 1, [][]byte{[]byte("{")}, func(head *intake.Header) { head.SHA256 = sumOf([]byte("{")) }).String(), "\n")), "", 2},
		{"a last line without its end", bytes.NewReader(bytes.TrimSuffix(open, []byte("\n"))), "", 3},
		{"the same with its end", bytes.NewReader(whole), "", 3},
	} {
		answer, code := h.pushed(c.body)
		if code != c.code || answer.Ack != c.ack {
			t.Errorf("%s: %q, receipt %d; want %q, %d", c.name, code, answer.Ack, c.code, c.ack)
		}
	}
	if _, err := h.intake.Push(context.Background(), caller("marit"), iotest.ErrReader(errDisk)); !errors.Is(err, errDisk) {
		t.Errorf("a body that can not be read: %v", err)
	}
}

// TestAShiftedPushIsSentAgain: when all events name other numbers than their
// places, the header was changed on its way, and nothing is set aside.
func TestAShiftedPushIsSentAgain(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	for range 3 {
		marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	}
	marit.sendAll()
	stranger := marit.event(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	stranger.Tablet, stranger.N = "tab-x", 9
	for _, c := range []struct {
		name  string
		from  int64
		lines [][]byte
		want  string
	}{
		{"one place on", 2, marit.lines[2:5], "damaged from"},
		{"one place back", 4, marit.lines[2:5], "damaged from"},
		{"the last one alone", 5, marit.lines[3:4], "damaged from"},
		{"in their place", 3, marit.lines[2:5], "3 known, 4 known, 5 known"},
		{"one in its place", 3, [][]byte{marit.lines[4], marit.lines[3]}, "3 quarantined forked, 4 known"},
		{"of another tablet", 5, [][]byte{lineOf(stranger)}, "5 quarantined forked"},
	} {
		answer, code := h.pushed(pushOf("", "tab-m", c.from, c.lines))
		if got := code + verdicts(answer); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
	// Beyond what was acknowledged each is judged by itself.
	if answer, code := h.pushed(pushOf("", "tab-m", 6, marit.lines[2:3])); code+verdicts(answer) != "6 quarantined out-of-range" {
		t.Errorf("a new number: %s%s", code, verdicts(answer))
	}
}

// TestClocksByTheirLimit: more than five minutes off either way (PROTOCOL.md,
// section 4). Without a time of sending an event from the future tells.
func TestClocksByTheirLimit(t *testing.T) {
	const limit = 5 * time.Minute
	for _, c := range []struct {
		name     string
		sent     bool
		off      time.Duration
		event    time.Duration
		marked   bool
		measured bool
	}{
		{"five minutes ahead", true, limit, limit, false, true},
		{"a second more", true, limit + time.Second, 0, true, true},
		{"a nanosecond more", true, limit + 1, 0, true, true},
		{"five minutes behind", true, -limit, 0, false, true},
		{"a second more behind", true, -limit - time.Second, 0, true, true},
		{"a nanosecond more behind", true, -limit - 1, 0, true, true},
		{"an event five minutes on", false, 0, limit, false, true},
		{"an event a second further", false, 0, limit + time.Second, true, true},
		{"an event of now", false, 0, 0, false, false},
		{"an event of yesterday", false, 0, -24 * time.Hour, false, false},
		{"the time of sending goes first", true, 0, 24 * time.Hour, false, true},
	} {
		h := newService(t)
		marit := h.visited()
		h.update(func(w store.Writer) error {
			tablet, err := w.Tablet("tab-m")
			tablet.SkewSeconds = 77
			return errors.Join(err, w.SetTablet(tablet))
		})
		past := marit.event(model.KindAnswerGiven, "v1", level("pos-trunk", "2"))
		past.At = h.now().Add(-time.Hour).Format(store.TimeLayout)
		marit.lines = append(marit.lines, lineOf(past))
		e := marit.event(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
		e.At = h.now().Add(c.event).Format(store.TimeLayout)
		marit.lines = append(marit.lines, lineOf(e))
		_, code := h.pushed(pushOf("", "tab-m", 3, marit.lines[2:], func(head *intake.Header) {
			if c.sent {
				head.At = h.now().Add(c.off).Format(time.RFC3339Nano)
			}
		}))
		h.view(func(r store.Reader) error {
			entries, err := r.Entries(3, 1)
			if err != nil || code != "" || entries[0].Skewed != c.marked {
				t.Errorf("%s: %v, %q, marked %v", c.name, err, code, entries[0].Skewed)
			}
			want := int64(77) // as it was
			if c.measured {
				want = int64(c.off / time.Second)
				if !c.sent {
					want = int64(c.event / time.Second)
				}
			}
			if tablet, err := r.Tablet("tab-m"); err != nil || tablet.SkewSeconds != want {
				t.Errorf("%s: skew of %d s, want %d (%v)", c.name, tablet.SkewSeconds, want, err)
			}
			return nil
		})
	}
}

// TestReceipts: what was new moves the receipt and the time of the last push;
// a clock that is off differently is written down even without anything new.
func TestReceipts(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	of := func() (tablet store.Tablet) {
		h.view(func(r store.Reader) (err error) { tablet, err = r.Tablet("tab-m"); return err })
		return tablet
	}
	first := of()
	if first.Ack != 2 || first.LastPush == "" || first.Registered == "" {
		t.Fatalf("%+v", first)
	}
	sent := func(off time.Duration) func(*intake.Header) {
		return func(head *intake.Header) { head.At = h.now().Add(off).Format(store.TimeLayout) }
	}
	h.minutes.Store(10)
	again := [][]byte{marit.lines[0], []byte("{}")} // known, and forked: this goes through the writer
	for _, c := range []struct {
		name    string
		change  []func(*intake.Header)
		written bool
	}{
		{"nothing new, no time of sending", nil, false},
		{"a clock that is right", []func(*intake.Header){sent(0)}, false},
		{"a clock that is off", []func(*intake.Header){sent(time.Hour)}, true},
		{"as far off as before", []func(*intake.Header){sent(time.Hour)}, false},
		{"no time of sending, after a clock that was off", nil, false},
	} {
		h.minutes.Add(1)
		before := of()
		answer, code := h.pushed(pushOf("", "tab-m", 1, again, c.change...))
		after := of()
		if code != "" || answer.Ack != 2 || reflect.DeepEqual(after, before) == c.written || after.Registered != first.Registered {
			t.Errorf("%s: %q, receipt %d, became %+v from %+v", c.name, code, answer.Ack, after, before)
		}
		if c.written && after.LastPush != h.now().Format(store.TimeLayout) {
			t.Errorf("%s: last push %s", c.name, after.LastPush)
		}
	}
}

// TestAnswersSayTheTime, whether they brought anything or not.
func TestAnswersSayTheTime(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	for minutes, lines := range map[int64][][]byte{5: marit.lines, 6: nil} {
		h.minutes.Store(minutes)
		if answer, code := h.pushed(pushOf("", "tab-m", 1, lines)); code != "" || answer.ServerTime != h.now().Format(store.TimeLayout) {
			t.Errorf("after %d minutes: %q, %q", minutes, answer.ServerTime, code)
		}
	}
	marit.write(model.KindAnswerGiven, "v1", level("pos-pelvis", "2"))
	if answer := marit.send(); answer.ServerTime != h.now().Format(store.TimeLayout) {
		t.Errorf("something new: %q", answer.ServerTime)
	}
}

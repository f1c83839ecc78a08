package verify_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/verify"
)

// TestAWatchSeesOneMomentAndWhatDiffers writes in the midst of a pass: that is no
// difference. What does not follow from the log is one at the next pass, and is no
// more when it is put right.
func TestAWatchSeesOneMomentAndWhatDiffers(t *testing.T) {
	db, err := bolt.Open(write(t, smallService(t)), bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	ack := func(by int64) {
		t.Helper()
		err := db.Update(t.Context(), func(w store.Writer) error {
			list, err := w.Tablets()
			list[0].Ack += by
			return firstOf(err, func() error { return w.SetTablet(list[0]) })
		})
		if err != nil {
			t.Error(err)
		}
	}
	pauses := 0
	w := verify.NewWatch(db, lists(), noon, func(context.Context) error {
		if pauses++; pauses == 3 {
			ack(1)
		}
		return nil
	})
	if !w.Last().At.IsZero() {
		t.Error("a watch that has not looked has an outcome")
	}
	for i, want := range []int64{0, 1, 0} {
		out, err := w.Run(t.Context())
		if err != nil || out.Faults() != want || out.Clean() != (want == 0) || out.Report.Entries != 24 || !out.At.Equal(noon()) {
			t.Errorf("pass %d: %v %+v, want %d faults", i+1, err, out, want)
		}
		if last := w.Last(); last.Faults() != out.Faults() {
			t.Errorf("pass %d: kept %+v", i+1, last)
		}
		if i == 1 {
			ack(-1)
		}
	}
	if pauses < 50 {
		t.Errorf("paused %d times in three passes over 24 entries", pauses)
	}
}

// TestAWatchSurvivesAPanic: a record that the replay stumbles over is told, and
// does not end the server.
func TestAWatchSurvivesAPanic(t *testing.T) {
	db, err := bolt.Open(write(t, smallService(t)), bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	w := verify.NewWatch(db, lists(), noon, func(context.Context) error { panic("stumbled") })
	for range 2 { // the first lets go of what it held
		if out, err := w.Run(t.Context()); err != nil || out.Clean() || out.Faults() != 1 || out.Err == nil || w.Last().Err == nil {
			t.Errorf("%+v %v", out, err)
		}
	}
}

// TestAWatchEndsWithItsContext: a pass that was cut short says nothing.
func TestAWatchEndsWithItsContext(t *testing.T) {
	db, err := bolt.Open(write(t, smallService(t)), bolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	ctx, stop := context.WithCancel(t.Context())
	w := verify.NewWatch(db, lists(), time.Now, func(ctx context.Context) error {
		stop()
		return ctx.Err()
	})
	if out, err := w.Run(ctx); !errors.Is(err, context.Canceled) || !w.Last().At.IsZero() {
		t.Errorf("%+v %v", out, err)
	}
}

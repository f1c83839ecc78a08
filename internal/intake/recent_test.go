package intake

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// TestWhatIsKeptBetweenCommits: up to 64 subjects, once, for the log as it was;
// of more only what changed.
func TestWhatIsKeptBetweenCommits(t *testing.T) {
	for _, c := range []struct {
		name          string
		changed, read int
		kept          int
	}{
		{"few", 1, 2, 3},
		{"64 that changed", 64, 0, 64},
		{"64 that were read", 0, 64, 64},
		{"one more that was read", 64, 1, 64},
		{"many that were read", 1, 64, 1},
		{"65 that changed", 65, 0, 0},
	} {
		commit := &commit{head: 9, subjects: map[string]*subject{}}
		for i := range c.changed + c.read {
			commit.subjects[fmt.Sprint(i)] = &subject{changed: i < c.changed}
		}
		var r recent
		r.keep(commit)
		kept := r.take(9)
		for id, s := range kept {
			if s.changed {
				t.Errorf("%s: %s is still to be written", c.name, id)
			}
		}
		if len(kept) != c.kept {
			t.Errorf("%s: %d kept, want %d", c.name, len(kept), c.kept)
		}
		if again := r.take(9); again == nil || len(again) != 0 {
			t.Errorf("%s: handed out twice: %v", c.name, again)
		}
		r.keep(commit)
		if other := r.take(10); other == nil || len(other) != 0 {
			t.Errorf("%s: kept although somebody else wrote: %d", c.name, len(other))
		}
	}
}

// TestWhatIsAnAnswerToTheCaller and leaves the others of a commit alone. What
// cannot be read is a fault, whatever is wrong with it.
func TestWhatIsAnAnswerToTheCaller(t *testing.T) {
	for _, c := range []struct {
		err  error
		want bool
	}{
		{&PushError{}, true},
		{&Changed{}, true},
		{validation.Invalid("status", "waiting"), true},
		{account.ErrNotAllowed, true},
		{context.Canceled, true},
		{context.DeadlineExceeded, true},
		{&validation.Error{Code: validation.CodeBrokenJSON}, false},
		{store.ErrNotFound, false},
		{store.ErrDamaged, false},
		{errors.New("the disk does not answer"), false},
	} {
		if got := refused(fmt.Errorf("job: %w", c.err)); got != c.want {
			t.Errorf("%T %v: %v", c.err, c.err, got)
		}
	}
}

// TestAVisitThatNobodyDatedBegan when the server first heard of it.
func TestAVisitThatNobodyDatedBegan(t *testing.T) {
	const heard = "2026-03-02T09:00:00.000Z"
	if got := briefOf(&model.Visit{}, heard).Begun; got != heard {
		t.Errorf("begun %q", got)
	}
}

// TestAnOldSchemaHasItsReason, although no schema is too old yet.
func TestAnOldSchemaHasItsReason(t *testing.T) {
	const want = "The entry was written by an app that is too old; update the app. The entry is kept, but it does not count."
	if got := hint(&validation.Error{Code: validation.CodeTooOld, Path: "schema", Want: "2 or more", Got: "1"}); got != want {
		t.Errorf("got %s", got)
	}
}

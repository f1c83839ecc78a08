package record_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/validation"
)

// refsOf lists the events of a log with their positions.
func refsOf(log *record.Log) string {
	var list []string
	log.Each(0, func(pos int64, event *model.Event, _ model.Body) {
		list = append(list, fmt.Sprintf("%s@%d", event.Ref(), pos))
	})
	return strings.Join(list, " ")
}

// TestALogThatCameInOrderKnowsItsEntries: nothing had to be sorted, and what
// comes again still counts once.
func TestALogThatCameInOrderKnowsItsEntries(t *testing.T) {
	first, second := said("tab-a", 1, 1), said("tab-a", 2, 2)
	for _, c := range []struct {
		name  string
		added []model.Entry
		same  int
		want  string
	}{
		{"all of them again", []model.Entry{first, second}, 2, "tab-a:1@1 tab-a:2@2"},
		{"the first at a later position, and a new one", []model.Entry{said("tab-a", 1, 5), said("tab-b", 1, 6)}, 0, "tab-a:1@1 tab-a:2@2 tab-b:1@6"},
	} {
		var log record.Log
		if _, err := log.Add([]model.Entry{first, second}); err != nil {
			t.Fatal(err)
		}
		same, err := log.Add(c.added)
		if got := refsOf(&log); err != nil || same != c.same || got != c.want {
			t.Errorf("%s: %s, %d as before, %v; want %s, %d", c.name, got, same, err, c.want, c.same)
		}
	}
}

// TestALogNamesTheFirstBrokenEntry and counts each that is another.
func TestALogNamesTheFirstBrokenEntry(t *testing.T) {
	var log record.Log
	_, err := log.Add([]model.Entry{{Pos: 17, Raw: model.Raw(`{"n":`)}, said("tab-a", 1, 18), {Pos: 19, Raw: model.Raw(`[`)}, {Pos: 20, Raw: model.Raw(`[`)}})
	var bad *validation.Error
	if !errors.As(err, &bad) || bad.Code != validation.CodeBrokenJSON || !strings.HasPrefix(err.Error(), "read entry at position 17: ") {
		t.Errorf("got %v, want an error that names position 17", err)
	}
	if log.Broken() != 2 || log.Len() != 3 {
		t.Errorf("%d broken of %d, want 2 of 3", log.Broken(), log.Len())
	}
}

// TestALogCountsWhatIsNewer: a later schema, and a kind that is not known.
func TestALogCountsWhatIsNewer(t *testing.T) {
	change := func(pos int64, field string, value any) model.Entry {
		return model.Entry{Pos: pos, Raw: sample(func(e map[string]any) { e["n"], e[field] = pos, value })}
	}
	var log record.Log
	if log.Newer() != 0 {
		t.Errorf("%d newer in an empty log", log.Newer())
	}
	if _, err := log.Add([]model.Entry{change(1, "seen", 0), change(2, "schema", 2), change(3, "kind", "photo-added")}); err != nil {
		t.Fatal(err)
	}
	if log.Newer() != 2 {
		t.Errorf("%d newer, want 2", log.Newer())
	}
}

package record_test

import (
	"fmt"
	"strings"
	"testing"

	"doorsill/internal/model"
	"doorsill/internal/record"
)

// said is an event of a tablet at a position of the log, 0 while it waits.
func said(tablet string, n, pos int64) model.Entry {
	return model.Entry{Pos: pos, Raw: model.Raw(fmt.Sprintf(
		`{"tablet":%q,"n":%d,"kind":"needs-noted","subject":"v1","author":"a","at":"2026-03-02T09:00:00.000Z","zone":"Etc/UTC","schema":1,"seen":0,"body":{}}`, tablet, n))}
}

func TestALogKeepsItsOrderAndEachEntryOnce(t *testing.T) {
	first, second := said("tab-a", 1, 1), said("tab-a", 2, 2)
	tests := []struct {
		name  string
		added []model.Entry
		same  int
		want  string
	}{
		{"after all others", []model.Entry{said("tab-b", 1, 3), said("tab-a", 3, 0)}, 2, "tab-a:1@1 tab-a:2@2 tab-b:1@3 tab-a:3@0"},
		{"after all others, in disorder", []model.Entry{said("tab-a", 3, 0), said("tab-b", 1, 3)}, 0, "tab-a:1@1 tab-a:2@2 tab-b:1@3 tab-a:3@0"},
		{"before the last", []model.Entry{said("tab-b", 1, 1)}, 0, "tab-a:1@1 tab-b:1@1 tab-a:2@2"},
		{"the same again", []model.Entry{second, first}, 2, "tab-a:1@1 tab-a:2@2"},
		{"placed already", []model.Entry{said("tab-a", 2, 0)}, 2, "tab-a:1@1 tab-a:2@2"},
		{"at a later position too", []model.Entry{said("tab-a", 2, 5)}, 0, "tab-a:1@1 tab-a:2@2"},
		{"at an earlier position too", []model.Entry{said("tab-b", 1, 9), said("tab-b", 1, 3)}, 0, "tab-a:1@1 tab-a:2@2 tab-b:1@3"},
		{"waiting, then placed", []model.Entry{said("tab-a", 3, 0), said("tab-a", 3, 3)}, 0, "tab-a:1@1 tab-a:2@2 tab-a:3@3"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var log record.Log
			if _, err := log.Add([]model.Entry{second, first}); err != nil {
				t.Fatal(err)
			}
			same, err := log.Add(tt.added)
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			log.Each(0, func(pos int64, event *model.Event, _ model.Body) {
				got = append(got, fmt.Sprintf("%s@%d", event.Ref(), pos))
			})
			if strings.Join(got, " ") != tt.want || same != tt.same || log.Len() != len(got) {
				t.Errorf("got %v, %d as before, length %d; want %s, %d as before", got, same, log.Len(), tt.want, tt.same)
			}
		})
	}
}

func TestALogGoesOnFromAPlace(t *testing.T) {
	var log record.Log
	if _, err := log.Add([]model.Entry{said("tab-a", 1, 1)}); err != nil {
		t.Fatal(err)
	}
	same, err := log.Add([]model.Entry{said("tab-a", 2, 2), {Raw: model.Raw(`{}`)}})
	if err == nil || log.Broken() != 1 || log.Len() != 3 {
		t.Errorf("error %v, %d broken of %d; want an error, 1 of 3", err, log.Broken(), log.Len())
	}
	count := 0
	log.Each(same, func(_ int64, event *model.Event, _ model.Body) {
		count++
		if event.Ref() != "tab-a:2" {
			t.Errorf("got %s, want tab-a:2", event.Ref())
		}
	})
	if count != 1 {
		t.Errorf("%d events, want 1", count)
	}
}

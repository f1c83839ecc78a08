package engine_test

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// lines is a result text by kind of line.
type lines map[string][][]string

func parseLines(text string) lines {
	all := lines{}
	for row := range strings.Lines(text) {
		fields := strings.Split(strings.TrimSuffix(row, "\n"), "\t")
		all[fields[0]] = append(all[fields[0]], fields[1:])
	}
	return all
}

// find returns the first line of a kind that starts with the given fields, or
// nil.
func (l lines) find(kind string, start ...string) []string {
	for _, fields := range l[kind] {
		if len(fields) >= len(start) && slices.Equal(fields[:len(start)], start) {
			return fields
		}
	}
	return nil
}

// failed returns the code of the first condition of the next level that is not
// met, as a reader of the text finds it.
func (l lines) failed() string {
	order := []string{"none", "practise", "accompanied", "home-ground", "wider-ground"}
	at := max(slices.Index(order, l["level"][0][0]), 0) + 1 // from a pause, too, practice is next
	for _, g := range l["gate"] {
		if at < len(order) && g[0] == order[at] && g[1] == "0" {
			return g[2]
		}
	}
	return ""
}

// scored scores a shared vector anew and returns its result by lines.
func scored(t testing.TB, name string) lines {
	t.Helper()
	v := readVector(t, filepath.Join(vectorDir, name+".json"))
	return parseLines(resultText(t, v.list(t), &v.Visit))
}

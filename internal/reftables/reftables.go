// Package reftables reads the check tables of testdata/reftables for tests:
// figures from outside the program, each with its source, how sure we are of the
// formula, and where the figure itself comes from.
package reftables

import (
	"encoding/csv"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"doorsill/internal/engine/provenance"
)

// Where a figure comes from.
const (
	Printed  = "printed"  // the source prints this figure
	Computed = "computed" // worked out apart from the program, by the source's formula
	Recalled = "recalled" // printed by the source, but from memory
)

// Row is one line of a table, by column name.
type Row struct {
	t      testing.TB
	table  string
	line   int
	names  []string
	fields []string
}

// Rows returns the lines of a table. The first line names the columns, among
// them "source", which no line may leave empty, "status", a status of package
// provenance for the formula, and "figure", which is Printed, Computed or
// Recalled. It fails the test when the table is missing or empty, or a line does
// not say these.
func Rows(t testing.TB, table string) []Row {
	t.Helper()
	lines := read(t, table)
	var rows []Row
	for i, fields := range lines[1:] {
		row := Row{t, table, i + 2, lines[0], fields}
		if row.Text("source") == "" {
			t.Fatalf("%s:%d has no source", table, row.line)
		}
		if !slices.Contains(provenance.Statuses(), provenance.Status(row.Text("status"))) {
			t.Fatalf("%s:%d has the status %q, expected one of %q", table, row.line, row.Text("status"), provenance.Statuses())
		}
		if figure := row.Text("figure"); figure != Printed && figure != Computed && figure != Recalled {
			t.Fatalf("%s:%d has the figure %q, expected %s, %s or %s", table, row.line, figure, Printed, Computed, Recalled)
		}
		rows = append(rows, row)
	}
	return rows
}

func read(t testing.TB, table string) [][]string {
	t.Helper()
	root, err := rootDir()
	if err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(filepath.Join(root, "testdata", "reftables", table))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(lines) < 2 {
		t.Fatalf("%s has no lines", table)
	}
	return lines
}

// rootDir walks up to the folder that holds go.mod.
func rootDir() (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		_, err := os.Stat(filepath.Join(dir, "go.mod"))
		if err == nil {
			return dir, nil
		}
		if parent := filepath.Dir(dir); parent != dir && errors.Is(err, os.ErrNotExist) {
			dir = parent
			continue
		}
		return "", err
	}
}

// Text returns a field. It fails the test when there is no such column.
func (r Row) Text(column string) string {
	r.t.Helper()
	i := slices.Index(r.names, column)
	if i < 0 {
		r.t.Fatalf("%s has no column %q", r.table, column)
	}
	return r.fields[i]
}

// Number returns a field as a number.
func (r Row) Number(column string) float64 {
	r.t.Helper()
	x, err := strconv.ParseFloat(r.Text(column), 64)
	if err != nil {
		r.t.Fatalf("%s:%d, %s: %v", r.table, r.line, column, err)
	}
	return x
}

// Close fails the test when got is further from the field "want" than the
// field "within" allows.
func (r Row) Close(got float64) {
	r.t.Helper()
	want, within := r.Number("want"), r.Number("within")
	if diff := got - want; !(diff <= within && diff >= -within) {
		r.t.Errorf("%s:%d: got %v, want %v ± %v (%s; %s)", r.table, r.line, got, want, within, r.Text("source"), r.Text("status"))
	}
}

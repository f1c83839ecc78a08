package main

import (
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestTypesAreFresh(t *testing.T) {
	want, err := modelTypes()
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile("../../" + typesFile)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, string(got)); diff != "" {
		t.Errorf("%s is stale; run \"go run ./cmd/bundle types\" (-want +got):\n%s", typesFile, diff)
	}
}

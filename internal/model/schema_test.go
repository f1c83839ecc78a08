package model_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"doorsill/internal/model"
	"doorsill/internal/record"
)

func schema(t *testing.T, file string) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	compiled, err := c.Compile(file)
	if err != nil {
		t.Fatal(err)
	}
	return compiled
}

func accepts(t *testing.T, s *jsonschema.Schema, raw []byte) error {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	return s.Validate(doc)
}

// foldVector is one file of testdata/fold.
type foldVector struct {
	Entries []model.Entry
	Client  model.Raw
	Visit   model.Raw
	Control model.Raw
}

func foldVectors(t *testing.T) map[string]foldVector {
	t.Helper()
	files, err := filepath.Glob("../../testdata/fold/*.json")
	if err != nil || len(files) < 15 {
		t.Fatalf("%d vectors, expected at least 15 (%v)", len(files), err)
	}
	vectors := map[string]foldVector{}
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var v foldVector
		if err := json.Unmarshal(raw, &v); err != nil {
			t.Fatal(err)
		}
		vectors[filepath.Base(file)] = v
	}
	return vectors
}

// withoutNulls leaves out the fields of a body that are null: a client should,
// though our reader takes them.
func withoutNulls(t *testing.T, raw []byte) []byte {
	t.Helper()
	var event map[string]any
	if err := json.Unmarshal(raw, &event); err != nil {
		t.Fatal(err)
	}
	if body, is := event["body"].(map[string]any); is {
		for key, value := range body {
			if value == nil {
				delete(body, key)
			}
		}
	}
	return []byte(encode(t, event))
}

func TestSchemasAcceptTheVectors(t *testing.T) {
	event := schema(t, "event.schema.json")
	client, visit, control := schema(t, "client.schema.json"), schema(t, "visit.schema.json"), schema(t, "control.schema.json")
	for name, v := range foldVectors(t) {
		for i, entry := range v.Entries {
			e, bad := record.Decode(entry.Raw)
			if bad == nil {
				_, bad = record.ReadBody(&e)
			}
			readable := bad == nil
			if err := accepts(t, event, withoutNulls(t, entry.Raw)); (err == nil) != readable {
				t.Errorf("%s: entry %d: we read it: %v, the schema says %v", name, i, readable, err)
			}
		}
		for _, state := range []struct {
			s   *jsonschema.Schema
			raw model.Raw
		}{{client, v.Client}, {visit, v.Visit}, {control, v.Control}} {
			if state.raw == nil {
				continue
			}
			if err := accepts(t, state.s, state.raw); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}

// What the schema of events refuses is what our reader refuses, for each kind
// of limit that a tag can hold.
func TestSchemaAndReaderRefuseTheSame(t *testing.T) {
	event := schema(t, "event.schema.json")
	tests := []struct {
		kind, body string
		good       bool
	}{
		{"needs-noted", `{"hours_driving":24}`, true},
		{"needs-noted", `{"hours_driving":24.5}`, false},
		{"needs-noted", `{"base":""}`, false},
		{"needs-noted", `{"base":"moves"}`, true},
		{"needs-noted", `{"base":"wobbly"}`, false},
		{"needs-noted", `{"moisture":{"chin":"wet"}}`, true},
		{"needs-noted", `{"moisture":{"nose":"wet"}}`, false},
		{"needs-noted", `{"moisture":{"chin":"soggy"}}`, false},
		{"needs-noted", `{"wish_control":"class:small"}`, true},
		{"needs-unset", `{"fields":[]}`, false},
		{"chair-measured", `{"length_mm":1100,"width_mm":640,"drive":"mid"}`, true},
		{"chair-measured", `{"length_mm":1100,"width_mm":640,"drive":"mid","slope_deg":1}`, false},
		{"chair-measured", `{"length_mm":1100,"width_mm":640,"drive":"mid","slope_deg":0}`, true},
		{"chair-measured", `{"width_mm":640,"drive":"mid"}`, false},
		{"answer-chosen", `{"item":"a","keep":"t:1","drop":["t:2"]}`, true},
		{"answer-chosen", `{"item":"a","keep":"t:0","drop":["t:2"]}`, false},
		{"answer-chosen", `{"item":"a","keep":"t:1","drop":["t"]}`, false},
		{"answer-chosen", `{"item":"A","keep":"t:1","drop":["t:2"]}`, false},
		{"plan-agreed", `{"recheck":"2026-02-29"}`, false},
		{"plan-agreed", `{"recheck":""}`, true},
		{"setup-chosen", `{"class":"small","site":"chin","needed":["left"],"throw":{"left":20}}`, true},
		{"setup-chosen", `{"class":"small","site":"chin","needed":["up"]}`, false},
		{"setup-chosen", `{"class":"small","site":"chin","throw":{"left":10}}`, false},
		{"run-timed", `{"place":"rough","state":"tired","things":1.5}`, false},
		{"run-timed", `{"place":"rough","state":"tired","things":10000}`, false},
		{"control-listed", `{"team":"n","name":"b","class":"small","sealing":"IPX4"}`, true},
		{"control-listed", `{"team":"n","name":"b","class":"small","sealing":"waterproof"}`, false},
		{"amendment-made", `{"reason":"x","kind":"plan-agreed","change":{"note":"y"}}`, true},
		{"amendment-made", `{"reason":"x","kind":"plan-agreed","change":{"note":1}}`, false},
		{"amendment-made", `{"reason":"x","kind":"visit-signed","change":{}}`, false},
		{"from-tomorrow", `{"anything":1}`, true},
	}
	for _, tt := range tests {
		raw := []byte(`{"tablet":"t","n":3,"kind":"` + tt.kind + `","subject":"v","author":"a","at":"2026-03-01T09:30:00.000Z","zone":"Etc/UTC","schema":1,"seen":0,"body":` + tt.body + `}`)
		e, err := record.Decode(raw)
		if err == nil {
			_, err = record.ReadBody(&e)
		}
		if (err == nil) != tt.good {
			t.Errorf("%s %s: reader says %v", tt.kind, tt.body, err)
		}
		if bad := accepts(t, event, raw); (bad == nil) != tt.good && tt.body != `{"base":""}` { // nothing at all is stated: no schema says so
			t.Errorf("%s %s: schema says %v", tt.kind, tt.body, bad)
		}
	}
}

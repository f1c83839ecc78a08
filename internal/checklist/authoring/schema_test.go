package authoring_test

import (
	"bytes"
	"path/filepath"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"doorsill/internal/checklist/authoring"
)

func schema(t testing.TB) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(authoring.Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	const url = "urn:doorsill:checklist:1"
	if err := c.AddResource(url, doc); err != nil {
		t.Fatal(err)
	}
	compiled, err := c.Compile(url)
	if err != nil {
		t.Fatal(err)
	}
	return compiled
}

func accepts(s *jsonschema.Schema, content []byte) error {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(content))
	if err != nil {
		return err
	}
	return s.Validate(doc)
}

func TestTheSchemaIsItselfValid(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(authoring.Schema()))
	if err != nil {
		t.Fatal(err)
	}
	meta, err := jsonschema.NewCompiler().Compile("https://json-schema.org/draft/2020-12/schema")
	if err != nil {
		t.Fatal(err)
	}
	if err := meta.Validate(doc); err != nil {
		t.Error(err)
	}
}

func TestSchemaAndParserAgree(t *testing.T) {
	s := schema(t)
	if err := accepts(s, authoring.Standard().Raw()); err != nil {
		t.Errorf("the standard checklist: %v", err)
	}
	for _, c := range []struct {
		folder string
		valid  bool
	}{{"good", true}, {"bad", false}, {"beyond", true}} {
		for _, path := range files(t, c.folder) {
			err := accepts(s, read(t, path))
			if (err == nil) != c.valid {
				t.Errorf("%s/%s: the schema says %v", c.folder, filepath.Base(path), err)
			}
		}
	}
}

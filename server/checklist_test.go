package server

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
)

// TestAChecklistIsSentWhole: what the tablet gets is the definition that the
// server scores by, under the hash that its visits name.
func TestAChecklistIsSentWhole(t *testing.T) {
	s := newSite(t, Options{})
	var list ChecklistList
	s.ask(t, clinician, "GET", "/api/v1/checklists", "").into(t, &list)
	if len(list.Checklists) != 1 || !list.Checklists[0].Current {
		t.Fatalf("%+v", list)
	}
	var got ChecklistAnswer
	s.ask(t, clinician, "GET", "/api/v1/checklists/"+list.Checklists[0].Hash, "").into(t, &got)
	standard := authoring.Standard()
	sum := sha256.Sum256(standard.Raw())
	if got.Hash != hex.EncodeToString(sum[:]) || got.Hash != list.Checklists[0].Hash {
		t.Errorf("hash %s", got.Hash)
	}
	var want bytes.Buffer
	if err := json.Compact(&want, standard.Raw()); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got.Definition, want.Bytes()) {
		t.Error("the definition is another one")
	}
	read, err := checklist.Read(got.Definition, got.Hash)
	if err != nil || read.Count() != 90 {
		t.Errorf("the program in the browser cannot read it: %v", err)
	}
}

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
	versions := authoring.StandardVersions()
	if len(list.Checklists) != len(versions) || !list.Checklists[0].Current {
		t.Fatalf("%+v", list)
	}
	for i, version := range versions {
		if one := list.Checklists[i]; one.Hash != version.Hash() || one.Current != (i == 0) {
			t.Errorf("version %s is listed as %+v", version.Version, one)
		}
		var earlier ChecklistAnswer
		s.ask(t, clinician, "GET", "/api/v1/checklists/"+version.Hash(), "").into(t, &earlier)
		if read, err := checklist.Read(earlier.Definition, earlier.Hash); err != nil || read.Version != version.Version {
			t.Errorf("version %s cannot be read: %v", version.Version, err)
		}
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
	if err != nil || read.Count() != standard.Count() {
		t.Errorf("the program in the browser cannot read it: %v", err)
	}
}

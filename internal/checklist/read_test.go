package checklist_test

import (
	"strings"
	"testing"

	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
)

const small = `{"format": "doorsill-checklist/1", "id": "a", "version": "1", "title": "A", "sections": [{"code": "a", "title": "A", "items": [
	{"id": "a-one", "title": "One", "prompt": "One?", "type": "count", "weight": 2, "from": "rescues", "effects": [{"effect": "stop", "when": [{"bands": [3]}]}]}]}]}`

func TestADefinitionCarriesTheHashThatItIsToldAndItsBytes(t *testing.T) {
	data := []byte(small)
	d, err := checklist.Read(data, "told")
	if err != nil {
		t.Fatal(err)
	}
	clear(data)
	if d.Hash() != "told" || string(d.Raw()) != small {
		t.Errorf("hash %s of\n%s", d.Hash(), d.Raw())
	}
	if item := d.Item("a-one"); item == nil || item.Weight != 2 || d.Count() != 1 || d.Item("a-two") != nil {
		t.Errorf("read %+v", d)
	}
}

func TestADefinitionNamesItsItemsAndSections(t *testing.T) {
	d, err := checklist.Read([]byte(strings.Replace(small, `"title": "A", "items"`, `"title": "First part", "items"`, 1)), "")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		find      func(string) (string, bool)
		id, title string
		known     bool
	}{{d.ItemTitle, "a-one", "One", true}, {d.ItemTitle, "a-two", "", false}, {d.SectionTitle, "a", "First part", true}, {d.SectionTitle, "a-one", "", false}} {
		if title, known := c.find(c.id); title != c.title || known != c.known {
			t.Errorf("%s is called %q, %v", c.id, title, known)
		}
	}
}

func TestUnknownFieldsArePassedOver(t *testing.T) {
	content := strings.NewReplacer(`"version"`, `"since": {"year": [2031]}, "version"`, `"weight"`, `"colour": null, "weight"`).Replace(small)
	d, err := checklist.Read([]byte(content), "")
	if err != nil {
		t.Fatal(err)
	}
	if d.Version != "1" || d.Item("a-one").Weight != 2 {
		t.Errorf("read %+v", d)
	}
}

// What this program would leave out of a result must not be read: the checklist
// was written for a newer one.
func TestWhatIsNoDefinitionOfThisProgramIsRefused(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{small, "nonsense", `expected a value at byte 1, got "nonsense"`},
		{small, "", "expected an object at byte 1, got the end"},
		{small, small + "}", "expected nothing more"},
		{"checklist/1", "checklist/3", `format: expected doorsill-checklist/1 or doorsill-checklist/2, got "doorsill-checklist/3"`},
		{`"format": "doorsill-checklist/1", `, "", "format: expected doorsill-checklist/1 or doorsill-checklist/2"},
		{`"count"`, `"scale"`, `sections[0].items[0].type: expected help, fit, yes-no, number or count, got "scale"`},
		{`"rescues"`, `"bumps"`, `sections[0].items[0].from: expected force-reserve,`},
		{`"stop"`, `"halt"`, `sections[0].items[0].effects[0].effect: expected stop,`},
		{`"weight": 2`, `"weight": 2.5`, `sections[0].items[0].weight: expected a whole number, got 2.5`},
	} {
		_, err := checklist.Read([]byte(strings.Replace(small, c.old, c.new, 1)), "")
		if err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %s", c.new, err, c.want)
		}
	}
}

func TestTheStandardChecklistIsReadAgainFromItsBytes(t *testing.T) {
	standard := authoring.Standard()
	d, err := checklist.Read(standard.Raw(), standard.Hash())
	if err != nil {
		t.Fatal(err)
	}
	if d.Count() != standard.Count() || d.Hash() != standard.Hash() {
		t.Errorf("%d items of %s, want %d of %s", d.Count(), d.Hash(), standard.Count(), standard.Hash())
	}
}

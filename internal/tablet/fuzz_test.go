package tablet_test

import (
	"encoding/json"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
	"doorsill/internal/tablettest"
)

// FuzzAsk asks whatever there is after a visit was opened. Every answer is JSON,
// and no question, however wrong, ends the program.
func FuzzAsk(f *testing.F) {
	w := &writer{t: f, tablet: "tab-a", subject: "v1"}
	start, first := w.start(), w.answer("pos-pelvis", "3")
	for _, q := range tablettest.Questions() {
		f.Add(q.Op, q.JSON)
	}
	list := authoring.Standard()
	for op, question := range map[string]string{
		"open-visit": string(openQuestion(f, "v2", start, first)), "add-entries": string(addQuestion(f, "v1", 1, first)),
		"load-checklist": string(marshal(f, model.ChecklistQuestion{Hash: list.Hash(), Definition: list.Raw()})),
		"load-catalogue": `{"language":"en","text":"level.pause: Pause\n"}`, "close-visit": `{"visit":"v2"}`, "canonical": `{"visit":"v1"}`,
		"fold-client": string(marshal(f, model.EntriesQuestion{Entries: []model.Entry{start}})),
		"check-body":  `{"kind":"answer-given","body":{"item":"pos-pelvis","state":"answered","level":"3"}}`,
	} {
		f.Add(op, question)
	}
	p := loaded(f)
	f.Fuzz(func(t *testing.T, op, question string) {
		must(t, p, "load-catalogue", catalogue(t))
		must(t, p, "open-visit", openQuestion(t, "v1", start))
		answer := p.Ask(op, []byte(question))
		if !json.Valid(answer) {
			t.Fatalf("%s %q: not JSON: %q", op, question, answer)
		}
	})
}

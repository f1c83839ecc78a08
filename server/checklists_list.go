package server

import (
	"encoding/json"
	"net/http"

	"doorsill/internal/account"
	"doorsill/internal/checklist"
)

// checklistShelf holds the answers about checklists, which never change while
// the server runs.
type checklistShelf struct {
	list   ChecklistList
	byHash map[string]ChecklistAnswer
}

// shelve prepares the answers; the first definition is the current one.
func shelve(definitions []*checklist.Definition) checklistShelf {
	shelf := checklistShelf{byHash: make(map[string]ChecklistAnswer)}
	for i, d := range definitions {
		shelf.list.Checklists = append(shelf.list.Checklists, ChecklistItem{
			ID: d.ID, Version: d.Version, Hash: d.Hash(), Title: d.Title, Current: i == 0,
		})
		rules := d.Rules()
		shelf.byHash[d.Hash()] = ChecklistAnswer{
			Hash: d.Hash(), Definition: json.RawMessage(d.Raw()), Rules: string(rules.Encode()),
		}
	}
	return shelf
}

// checklistsList lists the checklist versions that the server knows.
func checklistsList(s *server, _ *http.Request, _ account.Caller) (answer, error) {
	return ok(s.checklists.list), nil
}

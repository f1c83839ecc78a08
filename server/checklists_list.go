package server

import (
	"encoding/json"
	"net/http"

	"doorsill/internal/account"
	"doorsill/internal/checklist"
)

// checklistAnswers holds the answers about checklists, which never change while
// the server runs.
type checklistAnswers struct {
	list   ChecklistList
	byHash map[string]ChecklistAnswer
}

// prepareChecklists prepares the answers; the first definition is the current one.
func prepareChecklists(definitions []*checklist.Definition) checklistAnswers {
	answers := checklistAnswers{byHash: make(map[string]ChecklistAnswer)}
	for i, d := range definitions {
		answers.list.Checklists = append(answers.list.Checklists, ChecklistItem{
			ID: d.ID, Version: d.Version, Hash: d.Hash(), Title: d.Title, Current: i == 0,
		})
		answers.byHash[d.Hash()] = ChecklistAnswer{Hash: d.Hash(), Definition: json.RawMessage(d.Raw())}
	}
	return answers
}

// checklistsList lists the checklist versions that the server knows.
func checklistsList(s *server, _ *http.Request, _ account.Caller) (answer, error) {
	return ok(s.checklists.list), nil
}

package server

import (
	"net/http"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
)

// checklistRead gives one checklist version. Its hash names its content, so a
// browser may keep it for ever.
func checklistRead(s *server, r *http.Request, _ account.Caller) (answer, error) {
	one, known := s.checklists.byHash[mux.Vars(r)["hash"]]
	if !known {
		return answer{}, account.ErrNotFound
	}
	return answer{body: one, header: http.Header{"Cache-Control": {"private, max-age=31536000, immutable"}}}, nil
}

package server

import (
	"errors"
	"net/http"

	"github.com/gorilla/mux"

	"doorsill/internal/account"
	"doorsill/internal/caseload"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// eventsPull gives a page of a team's log.
func eventsPull(s *server, r *http.Request, c account.Caller) (answer, error) {
	team := mux.Vars(r)["team"]
	after, err := number(r, "after")
	if err != nil {
		return answer{}, err
	}
	limit, err := number(r, "limit")
	if err != nil {
		return answer{}, err
	}
	p, err := s.deps.Records.Pull(r.Context(), c, team, r.URL.Query().Get("log"), after, int(min(limit, caseload.MaxPull)))
	if errors.Is(err, caseload.ErrOtherLog) {
		return answer{}, pullAnew("log", "The server was restored from a copy. Everything on the tablet will be sent again.", p.Logs.Log, err)
	}
	if errors.Is(err, caseload.ErrAhead) {
		return answer{}, pullAnew("cursor", "This tablet asks for what comes after the end of the server's records. Everything is sent and fetched again.", p.Logs.Log, err)
	}
	if err != nil {
		return answer{}, err
	}
	a := ok(&model.PullAnswer{
		Log: p.Logs.Log, Earlier: p.Logs.Earlier, Events: p.Events, Next: p.Next, More: p.More, Head: p.Head,
		ServerTime: s.deps.Now().UTC().Format(store.TimeLayout),
	}).about("", team)
	a.untraced = len(p.Events) == 0
	return a, nil
}

// pullAnew tells a tablet that its cursor means nothing here, and which log there is.
func pullAnew(code, message, log string, cause error) error {
	return &refusal{status: http.StatusConflict, cause: cause, body: OtherLogAnswer{
		ErrorAnswer: ErrorAnswer{Error: code, Message: message}, Log: log,
	}}
}

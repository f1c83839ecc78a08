package server

import (
	"net/http"

	"doorsill/internal/account"
)

// quarantineSettle settles.
func quarantineSettle(_ *server, _ *http.Request, _ account.Caller) (answer, error) {
	return answer{status: http.StatusNotImplemented}, nil
}

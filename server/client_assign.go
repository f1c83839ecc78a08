package server

import (
	"net/http"

	"doorsill/internal/account"
)

// clientAssign assigns.
func clientAssign(_ *server, _ *http.Request, _ account.Caller) (answer, error) {
	return answer{status: http.StatusNotImplemented}, nil
}

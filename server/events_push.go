package server

import (
	"net/http"

	"doorsill/internal/account"
)

// eventsPush takes events in.
func eventsPush(_ *server, _ *http.Request, _ account.Caller) (answer, error) {
	return answer{status: http.StatusNotImplemented}, nil
}

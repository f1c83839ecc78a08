package server

import (
	"errors"
	"fmt"
	"net/http"

	"doorsill/internal/account"
)

// tabletAdd registers the caller's device, and says what their other devices
// were last known to hold.
func tabletAdd(s *server, r *http.Request, c account.Caller) (answer, error) {
	var in TabletRequest
	if err := decode(r, &in); err != nil {
		return answer{}, err
	}
	t, err := s.deps.Accounts.AddTablet(r.Context(), c, account.NewTablet{Label: in.Label, ID: in.ID})
	if errors.Is(err, account.ErrManyTablets) {
		return answer{}, &refusal{status: http.StatusTooManyRequests, retry: 3600, cause: err, ErrorAnswer: ErrorAnswer{
			Error: "too-many", Message: fmt.Sprintf("You have registered %d tablets within a day, which is the most. Try again tomorrow.", account.MostTabletsADay),
		}}
	}
	if err != nil {
		return answer{}, err
	}
	held, err := s.deps.Accounts.HoldingElsewhere(r.Context(), c, t.ID)
	if err != nil {
		return answer{}, err
	}
	made := TabletMade{ID: t.ID}
	for _, h := range held {
		made.Holding = append(made.Holding, TabletHolding{ID: h.ID, Label: h.Label, Waiting: int(h.Waiting), Oldest: h.OldestWaiting})
	}
	return answer{status: http.StatusCreated, body: made}, nil
}

package caseload

import (
	"doorsill/internal/account"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// Two therapists who rate the same trial are not told each other's answers
// until both have signed. Here that holds for what is read by name; the log
// that a tablet pulls is whole, because a tablet must be whole without a
// network, and there it is the app that does not show it.

// hideBlind takes what was said out of every visit that the caller rates too,
// given all visits of the client.
func hideBlind(c account.Caller, visits []VisitView) {
	for i := range visits {
		if blindTo(c.Person, &visits[i].Visit, visits) {
			visits[i] = hidden(&visits[i].Visit)
		}
	}
}

// blindTo says whether a person rates the same trial and one of the two visits
// is not signed.
func blindTo(person string, visit *model.Visit, visits []VisitView) bool {
	if visit.Started.By == person {
		return false
	}
	for i := range visits {
		own := &visits[i].Visit
		same := own.SecondOf == visit.ID || visit.SecondOf != "" && visit.SecondOf == own.ID
		if same && own.Started.By == person && (own.Signed == nil || visit.Signed == nil) {
			return true
		}
	}
	return false
}

// hidden leaves who, when, with which checklist, and whether it is signed.
func hidden(v *model.Visit) VisitView {
	left := model.Visit{
		ID: v.ID, Client: v.Client, Team: v.Team, Checklist: v.Checklist, Unit: v.Unit, Started: v.Started, Unknown: v.Unknown,
		SecondOf: v.SecondOf, Notes: map[string]string{}, Answers: []model.Answer{}, Readings: []model.Reading{},
		Runs: []model.Run{}, Amendments: []model.Amendment{},
	}
	if v.Signed != nil {
		// What level was signed is an answer too.
		left.Signed = &model.Signature{Stamp: v.Signed.Stamp, VisitSigned: model.VisitSigned{Name: v.Signed.Name}}
	}
	return VisitView{Visit: left, Blind: true}
}

// foldVisits folds all visits of a client, oldest first, as the caller may see
// them.
func foldVisits(r store.Reader, c account.Caller, client string) ([]VisitView, error) {
	ids, err := r.VisitsOfClient(client)
	if err != nil {
		return nil, err
	}
	visits := make([]VisitView, 0, len(ids))
	for _, id := range ids {
		one, err := foldVisit(r, id)
		if err != nil {
			return nil, err
		}
		visits = append(visits, one)
	}
	hideBlind(c, visits)
	return visits, nil
}

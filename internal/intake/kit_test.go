package intake_test

import (
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
)

func listed(team string) model.ControlListed {
	return model.ControlListed{Team: team, Name: "Blue stick", Class: "standard", StartGF: 60, OperateGF: 250, TravelMM: 28}
}

func TestOnlyALeadListsAControl(t *testing.T) {
	tests := []struct {
		person, subject, team, want string
	}{
		{"lena", "k1", "north", "1 stored"},
		{"lena", "k2", "north", "1 stored"},
		{"lena", "k1", "south", "1 quarantined other-team"},
		{"lena", "c1", "north", "1 quarantined subject"},
		{"lena", "v1", "north", "1 quarantined subject"},
		{"marit", "k2", "north", "1 quarantined not-allowed"},
		{"ansel", "k2", "north", "1 quarantined not-allowed"},
		{"sora", "k1", "south", "1 quarantined other-team"},
		{"nemo", "k2", "north", "1 quarantined other-team"},
	}
	for _, tt := range tests {
		t.Run(tt.person+" "+tt.subject+" "+tt.team, func(t *testing.T) {
			h := newService(t)
			h.visited()
			lead := h.tablet("tab-l", "lena")
			lead.write(model.KindControlListed, "k1", listed("north"))
			lead.sendAll()
			other := h.tablet("tab-o", tt.person)
			other.write(model.KindControlListed, tt.subject, listed(tt.team))
			if got := verdicts(other.send()); got != tt.want {
				t.Errorf("got %s, want %s", got, tt.want)
			}
		})
	}
}

// What is said of a control comes with the team's pull and has no caseload
// line; what belongs to a visit can not be said of it.
func TestAControlIsTheTeams(t *testing.T) {
	h := newService(t)
	lead := h.tablet("tab-l", "lena")
	lead.write(model.KindControlListed, "k1", listed("north"))
	gone := listed("north")
	gone.Gone = true
	lead.write(model.KindControlListed, "k1", gone)
	lead.write(model.KindAnswerGiven, "k1", level("pos-pelvis", "2"))
	lead.write(model.KindClientChanged, "k1", model.ClientChanged{Fields: map[string]string{"ref": "x"}})
	if got, want := verdicts(lead.send()), "1 stored, 2 stored, 3 quarantined subject, 4 quarantined subject"; got != want {
		t.Fatalf("got %s, want %s", got, want)
	}
	h.view(func(r store.Reader) error {
		entries, err := r.EntriesOfSubject("k1")
		if err != nil {
			return err
		}
		control, err := record.FoldControl(entries)
		if err != nil {
			return err
		}
		if control.ID != "k1" || !control.Gone || control.By != "lena" {
			t.Errorf("got %+v", control)
		}
		_, err = r.Summary("k1")
		if err == nil {
			t.Error("a control has a line in the caseload")
		}
		return nil
	})
}

func TestASecondRatingIsOfAColleaguesVisit(t *testing.T) {
	tests := []struct {
		name, person, client, second, want string
	}{
		{"a colleague's", "davit", "c1", "v1", "1 stored"},
		{"one's own", "marit", "c1", "v1", "1 quarantined subject"},
		{"another client's", "davit", "c2", "v1", "1 quarantined subject"},
		{"unknown", "davit", "c1", "v9", "1 quarantined subject"},
		{"a client", "davit", "c1", "c2", "1 quarantined subject"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			h := newService(t)
			marit := h.visited()
			marit.openClient("c2", "north")
			marit.sendAll()
			other := h.tablet("tab-o", tt.person)
			body := started(authoring.Standard(), tt.client, "north")
			body.SecondOf = tt.second
			other.write(model.KindVisitStarted, "v2", body)
			if got := verdicts(other.send()); got != tt.want {
				t.Fatalf("got %s, want %s", got, tt.want)
			}
			if tt.want != "1 stored" {
				return
			}
			if second := h.visit("v2"); second.SecondOf != "v1" {
				t.Errorf("the visit does not name the first: %+v", second)
			}
			if line := h.summary("c1"); line.Visit != "v1" || line.Visits != 2 {
				t.Errorf("the caseload shows visit %s of %d, want v1 of 2", line.Visit, line.Visits)
			}
		})
	}
}

// A setting that is changed after the signature takes the release and the stop
// call out of the result.
func TestASettingMakesStoppingDue(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	five := 5.0
	marit.write(model.KindAnswerGiven, "v1", model.AnswerGiven{Item: "saf-stopcall", State: model.StateAnswered, Number: &five})
	marit.write(model.KindVisitSigned, "v1", signature())
	marit.write(model.KindSettingChanged, "v1", model.SettingChanged{Key: "decel", Before: "40", After: "30", Why: "jerks"})
	marit.write(model.KindAmendmentMade, "v1", model.AmendmentMade{Reason: "changed at hand-over", Kind: model.KindSettingChanged,
		Change: []byte(`{"key":"decel","before":"40","after":"30","why":"jerks"}`)})
	if got, want := verdicts(marit.send()), "3 stored, 4 stored, 5 quarantined signed, 6 stored"; got != want {
		t.Fatalf("got %s, want %s", got, want)
	}
	visit := h.visit("v1")
	if due := record.DueAgain(&visit); len(due) != 1 || due[0] != "saf-stopcall" {
		t.Errorf("due again: %v", due)
	}
}

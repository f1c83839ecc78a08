package simulation

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
)

// say has a person enter something that makes sense on this tablet, or now and
// then something that does not.
func (t *tablet) say() {
	clients, visits := t.subjects()
	switch {
	case len(clients) == 0 || len(clients) < 3 && t.w.one(12):
		t.openClient()
	case len(visits) == 0 || len(visits) < 4 && t.w.one(10):
		t.startVisit(pick(t.w, clients))
	case t.w.one(12):
		t.write(model.KindClientChanged, pick(t.w, clients), model.ClientChanged{Fields: map[string]string{"visiting": t.words("ring twice")}})
	default:
		t.sayOfVisit(pick(t.w, visits))
	}
}

func (t *tablet) words(text string) string {
	t.w.counter++
	return fmt.Sprintf("%s %d", text, t.w.counter)
}

func (t *tablet) openClient() {
	t.w.counter++
	t.write(model.KindClientOpened, fmt.Sprintf("c%d", t.w.counter), model.ClientOpened{
		Team: t.team, Ref: "R-1", Name: t.words("Invented Client"), Referred: "2026-02-20", Priority: "soon", Course: "slow"})
}

func (t *tablet) startVisit(client string) {
	t.w.counter++
	list := authoring.Standard()
	t.write(model.KindVisitStarted, fmt.Sprintf("v%d", t.w.counter), model.VisitStarted{Client: client, Team: t.team, Unit: "gf",
		Checklist: model.ChecklistRef{ID: list.ID, Version: list.Version, Hash: list.Hash()}})
}

// sayOfVisit enters something about one visit.
func (t *tablet) sayOfVisit(id string) {
	visit, err := record.FoldVisit(t.entries(id), t.logs())
	t.w.must(err)
	if visit.Signed != nil {
		t.amend(&visit)
		return
	}
	switch t.w.rng.IntN(20) {
	case 0, 1, 2, 3:
		t.write(model.KindReadingTaken, id, model.ReadingTaken{What: model.ReadForce, Site: "chin", Direction: pick(t.w, []string{"forward", "left"}),
			State: "rested", Supported: true, Value: float64(t.w.rng.IntN(200)), Unit: "gf"})
	case 4:
		if len(visit.Readings) > 0 {
			t.write(model.KindReadingMarked, id, model.ReadingMarked{Reading: pick(t.w, visit.Readings).Ref, Slip: true, Reason: "the gauge slipped"})
		}
	case 5:
		t.write(model.KindRunTimed, id, model.RunTimed{Place: "indoors", State: "rested", Seconds: 60, Metres: 20, Things: t.w.rng.IntN(3)})
	case 6, 7:
		t.write(model.KindVisitNoted, id, model.VisitNoted{Fields: map[string]string{"note": t.words("she smiled")}})
	case 8:
		t.nonsense(id)
	case 9:
		if t.w.one(3) {
			t.sign(id)
		}
	case 10, 11, 12:
		t.choose(&visit)
	default:
		t.write(model.KindAnswerGiven, id, t.answer())
	}
}

func (t *tablet) answer() model.AnswerGiven {
	return model.AnswerGiven{Item: pick(t.w, []string{"pos-pelvis", "pos-trunk", "pos-head"}), State: model.StateAnswered,
		Level: pick(t.w, []string{"3", "2", "1", "0"}), Note: t.words("seen")}
}

// nonsense is what a server must quarantine, or cannot read.
func (t *tablet) nonsense(id string) {
	switch t.w.rng.IntN(4) {
	case 0:
		t.write(model.KindAnswerGiven, id, model.AnswerGiven{Item: "pos-nose", State: model.StateAnswered, Level: "3"})
	case 1:
		t.write(model.KindReadingTaken, id, model.ReadingTaken{What: model.ReadForce, Site: "chin", Direction: "forward", State: "rested", Value: 99999, Unit: "gf"})
	case 2:
		t.write("tea-made", id, map[string]string{"milk": t.words("first")})
	default:
		t.write(model.KindVisitNoted, "nothing-known", model.VisitNoted{Fields: map[string]string{"note": t.words("about nobody")}})
	}
}

func (t *tablet) choose(visit *model.Visit) {
	for _, answer := range visit.Answers {
		if len(answer.Heads) > 1 {
			t.write(model.KindAnswerChosen, visit.ID, model.AnswerChosen{Item: answer.Item, Keep: answer.Heads[0].Ref, Drop: []model.Ref{answer.Heads[1].Ref}})
			return
		}
	}
}

func (t *tablet) sign(id string) {
	t.write(model.KindVisitSigned, id, model.VisitSigned{Level: "practise", Result: strings.Repeat("ab", 32), Name: "Invented " + t.person})
}

func (t *tablet) amend(visit *model.Visit) {
	reason := t.words("typed wrongly")
	t.write(model.KindAmendmentMade, visit.ID, amendment{Reason: reason, Kind: model.KindAnswerGiven, Change: t.replacing(visit.ID, t.answer())})
}

// amendment is a model.AmendmentMade whose change is not bytes yet.
type amendment struct {
	Change any    `json:"change"`
	Kind   string `json:"kind"`
	Reason string `json:"reason"`
}

// subjects are the clients and visits that the tablet shows.
func (t *tablet) subjects() (clients, visits []string) {
	for _, key := range slices.Sorted(maps.Keys(t.disk.events)) {
		r := t.disk.events[key]
		if r.quarantined {
			continue
		}
		event, err := record.Decode(r.raw)
		switch {
		case err != nil:
		case event.Kind == model.KindClientOpened:
			clients = append(clients, event.Subject)
		case event.Kind == model.KindVisitStarted:
			visits = append(visits, event.Subject)
		}
	}
	slices.Sort(clients)
	slices.Sort(visits)
	return slices.Compact(clients), slices.Compact(visits)
}

// role changes what a person may do; an empty role takes them out.
func (w *world) role(who, team, role string) {
	w.note("%s is now %q in %s", who, role, team)
	w.server.set(func(sw store.Writer) error {
		if role == "" {
			return sw.RemoveMembership(who, team)
		}
		return sw.SetMembership(store.Membership{Person: who, Team: team, Role: role})
	})
}

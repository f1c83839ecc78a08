package demo

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/model"
)

// Service is the part of a running service that the demo fills.
type Service struct {
	Accounts *account.Service
	Intake   *intake.Intake
	// Log is the id of the service's log.
	Log string
}

// seeder carries what one seeding knows.
type seeder struct {
	Service
	now     time.Time
	list    *checklist.Definition
	teams   map[string]string // team id by key
	people  map[string]staff  // by login
	numbers int               // service numbers given
	settle  []assignment      // to be made once the clients are there
}

// staff is a signed-in member of a team with a tablet.
type staff struct {
	Person
	caller account.Caller
	tab    *tablet
}

// assignment puts a client into somebody's hands.
type assignment struct{ client, assignee, status, lead string }

// Seed invents the whole service: accounts first, then clients, visits and
// their readings through the same door as real ones. The service must be
// empty.
func Seed(ctx context.Context, s Service, now time.Time) error {
	d := &seeder{Service: s, now: now, list: authoring.Standard(), teams: map[string]string{}, people: map[string]staff{}}
	if err := d.accounts(ctx); err != nil {
		return fmt.Errorf("invent accounts: %w", err)
	}
	d.listKit("harbour", "ilse")
	d.listKit("upland", "davit")
	if err := d.caseload("harbour", "marit", harbour()); err != nil {
		return err
	}
	if err := d.caseload("upland", "davit", upland()); err != nil {
		return err
	}
	if err := d.send(ctx); err != nil {
		return err
	}
	d.secondOpinion("Heath Ellery")
	// Five pairs are the fewest that agreement shows figures for.
	for i, name := range []string{"Juniper Vale", "Rowan Thatcher", "Bracken Odell", "Clover Whitby", "Moss Tarrant"} {
		if err := d.secondRating(name, "ilse", uint64(i)); err != nil {
			return err
		}
	}
	if err := d.send(ctx); err != nil {
		return err
	}
	for _, a := range d.settle {
		if _, err := s.Intake.Assign(ctx, d.people[a.lead].caller, a.client, 0, a.assignee, a.status); err != nil {
			return fmt.Errorf("assign invented client: %w", err)
		}
	}
	return nil
}

func (d *seeder) accounts(ctx context.Context) error {
	for _, t := range Teams() {
		team, err := d.Accounts.AddTeam(ctx, account.Console(), t.Name)
		if err != nil {
			return err
		}
		d.teams[t.Key] = team.ID
	}
	for _, p := range People() {
		if err := d.account(ctx, p); err != nil {
			return fmt.Errorf("%s: %w", p.Login, err)
		}
	}
	return nil
}

func (d *seeder) account(ctx context.Context, p Person) error {
	in := account.NewPerson{Login: p.Login, Name: p.Name, Credential: p.Credential, Password: Password, Printed: true, Admin: p.Role == "admin"}
	if !in.Admin {
		in.Roles = map[string]string{d.teams[p.Team]: p.Role}
	}
	if _, err := d.Accounts.AddPerson(ctx, account.Console(), in); err != nil || in.Admin {
		return err
	}
	_, caller, err := d.Accounts.SignIn(ctx, account.SignIn{Login: p.Login, Password: Password, Agent: "demo", Source: "demo"})
	if err != nil {
		return err
	}
	tab, err := d.Accounts.AddTablet(ctx, caller, account.NewTablet{Label: "invented tablet of " + p.Name})
	if err != nil {
		return err
	}
	caller.Tablet = tab.ID
	d.people[p.Login] = staff{p, caller, &tablet{id: tab.ID, person: caller.Person}}
	return nil
}

// caseload writes a team's clients and visits onto the tablets of its people.
func (d *seeder) caseload(team, opener string, clients []client) error {
	for _, c := range clients {
		who := d.people[opener]
		if c.assign != "" {
			who = d.people[c.assign]
		}
		id := idFor("client " + c.name)
		d.numbers++
		who.tab.write(d.before(c.referred, 8), model.KindClientOpened, id, model.ClientOpened{
			Team: d.teams[team], Ref: "INV-" + strconv.Itoa(1000+d.numbers), Name: c.name, Born: c.born,
			Referred: d.before(c.referred, 8).Format(time.DateOnly), Priority: c.priority, Course: c.course,
			Reason: c.reason, Visiting: "invented address; parking behind the house",
		})
		lead := map[string]string{"harbour": "ilse", "upland": "davit"}[team]
		d.settle = append(d.settle, assignment{id, who.assigneeOr(c.assign), c.status, lead})
		if c.profile == "" {
			continue
		}
		if err := d.visits(c, id, team, who); err != nil {
			return err
		}
	}
	return nil
}

// visits writes a client's earlier visits and the last one.
func (d *seeder) visits(c client, id, team string, who staff) error {
	for i, was := range earlier()[c.name] {
		before := c
		before.visited, before.recheck = was.days, 0
		w := d.visitOf(before, team, who)
		w.id = idFor("visit " + strconv.Itoa(i) + " " + c.name)
		w.p.reserve *= was.decay
		if err := w.visit(id, d.teams[team], who.signer(), d.now); err != nil {
			return err
		}
	}
	return d.visitOf(c, team, who).visit(id, d.teams[team], who.signer(), d.now)
}

// visitOf is a client's last visit, not yet written.
func (d *seeder) visitOf(c client, team string, who staff) *visitWriter {
	return &visitWriter{
		tab: who.tab, list: d.list, id: idFor("visit " + c.name), at: d.before(c.visited, 6), kit: packed(team),
		p: profiles()[c.profile](), c: c, chance: rand.New(rand.NewPCG(7, uint64(d.numbers))),
	}
}

// signer is the person's name as it stands under a visit.
func (s staff) signer() string { return s.Name + ", " + s.Credential }

// secondRating has a colleague rate a signed visit's trial anew, a little
// differently, and sign.
func (d *seeder) secondRating(name, login string, chance uint64) error {
	at := slices.IndexFunc(harbour(), func(c client) bool { return c.name == name })
	c := harbour()[at]
	c.recheck = 0
	who := d.people[login]
	w := d.visitOf(c, "harbour", who)
	w.second, w.id = w.id, idFor("second visit "+name)
	w.p.reserve *= 0.95
	w.chance = rand.New(rand.NewPCG(8, chance))
	return w.visit(idFor("client "+name), d.teams["harbour"], who.signer(), d.now)
}

// assigneeOr is the person's id, or nobody when the client has no login.
func (s staff) assigneeOr(login string) string {
	if login == "" {
		return ""
	}
	return s.caller.Person
}

// secondOpinion has the assistant answer two items of an open visit without
// having seen the therapist's answers: a choice to make.
func (d *seeder) secondOpinion(name string) {
	tobin := d.people["tobin"]
	visit := idFor("visit " + name)
	at := d.before(0, 4)
	tobin.tab.write(at, model.KindAnswerGiven, visit, model.AnswerGiven{
		Item: "saf-look", State: model.StateAnswered, Level: "1", Note: "needed a hand on the shoulder before reversing"})
	tobin.tab.write(at.Add(time.Minute), model.KindAnswerGiven, visit, model.AnswerGiven{
		Item: "pos-feet", State: model.StateAnswered, Level: "1"})
}

// send pushes what every tablet holds.
func (d *seeder) send(ctx context.Context) error {
	for _, p := range People() {
		who, ok := d.people[p.Login]
		if !ok {
			continue
		}
		for _, body := range who.tab.pushes(d.Log) {
			answer, err := d.Intake.Push(ctx, who.caller, bytes.NewReader(body))
			if err != nil {
				return fmt.Errorf("send %s's invented entries: %w", p.Login, err)
			}
			for _, v := range answer.Verdicts {
				if v.Verdict != intake.Stored {
					return fmt.Errorf("send %s's invented entries: number %d was %s: %s", p.Login, v.N, v.Verdict, v.Hint)
				}
			}
		}
	}
	return nil
}

// before is a moment some days ago, a few hours before the hour of now.
func (d *seeder) before(days, hours int) time.Time {
	return d.now.AddDate(0, 0, -days).Add(-time.Duration(hours) * time.Hour)
}

// idFor is the same id for the same name each time.
func idFor(name string) string {
	sum := sha256.Sum256([]byte("doorsill demo " + name))
	return hex.EncodeToString(sum[:16])
}

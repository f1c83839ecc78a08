package simulation

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"time"

	"doorsill/internal/history"
	"doorsill/internal/model"
)

// happening is a row of the table of steps. A rare one is a disaster of its own.
type happening struct {
	name   string
	weight int
	do     func(*world, *tablet)
	rare   bool
}

// steps is what can happen, and how often.
func steps() []happening {
	return []happening{
		{"say", 30, say, false},
		{"sync", 20, sync, false},
		{"sync in bad weather", 20, syncInWeather, false},
		{"tablet dies while saving", 3, dieSaving, false},
		{"tablet dies while exchanging", 8, dieExchanging, false},
		{"server dies while taking in", 8, serverDies, false},
		{"disk of the server is full", 4, serverFull, false},
		{"server is started again", 1, func(w *world, _ *tablet) { w.server.restart() }, false},
		{"held back requests arrive", 5, func(w *world, _ *tablet) { w.net.late() }, false},
		{"clock of a tablet jumps", 4, tabletClock, false},
		{"clock of the server jumps", 2, serverClock, false},
		{"time passes", 4, func(w *world, _ *tablet) { w.pass(time.Duration(w.rng.IntN(60*24*3)) * time.Minute) }, false},
		{"a client is closed", 3, closeClient, false},
		{"a closed client is opened again", 2, openAgain, false},
		{"a month passes", 2, month, false},
		{"session ends", 2, func(_ *world, t *tablet) { t.cookie = nil }, false},
		{"lead assigns", 3, assign, false},
		{"backup", 2, func(w *world, _ *tablet) { w.server.backup() }, true},
		{"restore", 2, restore, true},
		{"tablet is cloned", 2, clone, true},
		{"person changes role", 2, changeRole, true},
		{"an entry says that it has seen what it has not", 0, forge, true},
		{"somebody inside forges a file", 0, forgeFile, true},
		{"what waits comes in a file", 0, comeInFile, true},
		{"a person confirms what came unsigned", 0, confirm, true},
		{"another device takes a tablet's name", 0, impersonate, true},
	}
}

// step is one thing that happens, with luck of its own: leaving out others
// does not change it.
type step struct {
	kind int
	luck uint64
}

// script draws the steps of a run; rare ones come so many times as often.
func script(seed uint64, length, rare int) []step {
	table := steps()
	for i, s := range table {
		if s.rare {
			table[i].weight *= rare
		}
	}
	return drawn(seed, length, table)
}

// years is a script of much time and few storms: clients are closed, leave the
// tablets and come back.
func years(seed uint64, length int) []step {
	table := steps()
	for i, s := range table {
		table[i].weight = map[string]int{"say": 6, "sync": 3, "tablet dies while exchanging": 2, "a client is closed": 5,
			"a closed client is opened again": 3, "a month passes": 5, "backup": 1, "restore": 1}[s.name]
	}
	return drawn(seed, length, table)
}

// restores is a script of many restores, in which people answer the same items.
func restores(seed uint64, length int) []step {
	table := steps()
	for i, s := range table {
		table[i].weight = map[string]int{"say": 24, "sync": 16, "sync in bad weather": 4, "server dies while taking in": 1,
			"held back requests arrive": 1, "backup": 5, "restore": 4, "an entry says that it has seen what it has not": 3}[s.name]
	}
	return drawn(seed, length, table)
}

// forgers is a script of files and devices that are not what they say.
func forgers(seed uint64, length int) []step {
	table := steps()
	for i, s := range table {
		table[i].weight = map[string]int{"say": 20, "sync": 16, "sync in bad weather": 4, "server dies while taking in": 1, "session ends": 1,
			"held back requests arrive": 1, "backup": 2, "restore": 1, "tablet is cloned": 1, "person changes role": 1,
			"somebody inside forges a file": 6, "what waits comes in a file": 3, "a person confirms what came unsigned": 6,
			"another device takes a tablet's name": 2}[s.name]
	}
	return drawn(seed, length, table)
}

// drawn are steps of a table by their weights.
func drawn(seed uint64, length int, table []happening) []step {
	rng := rand.New(rand.NewPCG(seed, 7))
	var total int
	for _, s := range table {
		total += s.weight
	}
	list := make([]step, length)
	for i := range list {
		at := rng.IntN(total)
		for kind, s := range table {
			if at -= s.weight; at < 0 {
				list[i] = step{kind, rng.Uint64()}
				break
			}
		}
	}
	return list
}

func (w *world) run(list []step) {
	table := steps()
	for i, s := range list {
		w.rng = rand.New(rand.NewPCG(s.luck, 3))
		t := pick(w, w.tablets)
		w.note("-- %d %s (%s)", i, table[s.kind].name, t.label)
		w.pass(time.Minute)
		t.alive(func() { table[s.kind].do(w, t) })
		if i%4 == 3 {
			w.checkAlways()
		}
	}
}

func (w *world) pass(d time.Duration) { w.clock = w.clock.Add(d) }

func say(w *world, t *tablet) {
	for range 1 + w.rng.IntN(3) {
		t.say()
	}
}

// sync exchanges; who is asked to sign in does so and tries again.
func sync(_ *world, t *tablet) {
	err := t.exchange()
	if !mustSignIn(err) {
		return
	}
	if t.signIn() == nil {
		_ = t.exchange()
	}
}

// mustSignIn says whether the person is asked for the password: the session
// has ended, or the server does not know the tablet.
func mustSignIn(err error) bool {
	p, is := err.(*problem)
	return is && (p.code == "sign-in" || p.reason == "tablet")
}

func syncInWeather(w *world, t *tablet) {
	for range 1 + w.rng.IntN(4) {
		sky := weather(w.rng.IntN(int(allWeather)))
		if (sky == flipAnswer || sky == flipRequest) && !w.has.flips {
			sky = fair
		}
		w.net.forecast = append(w.net.forecast, sky)
	}
	sync(w, t)
	w.net.forecast = nil
}

func dieSaving(w *world, t *tablet) {
	t.crashAt, t.crashAfter = 1+w.rng.IntN(2), w.one(2)
	say(w, t)
}

func dieExchanging(w *world, t *tablet) {
	t.crashAt, t.crashAfter = 1+w.rng.IntN(4), w.one(2)
	sync(w, t)
}

// fail plans what happens at one of the next commits of the server.
func (w *world) fail(fault commitFault) {
	w.server.file.plan = append(make([]commitFault, w.rng.IntN(3)), fault)
}

func serverDies(w *world, t *tablet) {
	w.fail(pick(w, []commitFault{crashBefore, crashAfter}))
	sync(w, t)
	w.server.file.plan = nil
}

func serverFull(w *world, t *tablet) {
	w.fail(diskFull)
	sync(w, t)
	w.server.file.plan = nil
}

func jumps() []time.Duration {
	return []time.Duration{0, time.Hour, -24 * time.Hour, 10 * 365 * 24 * time.Hour, -10 * time.Minute, 3 * time.Minute}
}

func tabletClock(w *world, t *tablet) {
	t.ahead = pick(w, jumps())
	t.zone = pick(w, []string{"Europe/Dublin", "Asia/Kathmandu", "Etc/UTC"})
	w.note("%s: clock is %v off, in %s", t.label, t.ahead, t.zone)
}

func serverClock(w *world, _ *tablet) {
	w.ahead = pick(w, jumps())
	w.note("server: clock is %v off", w.ahead)
}

// assign is done online by the lead, by compare-and-set.
func assign(w *world, _ *tablet) {
	lead := w.tablets[2]
	clients, _ := lead.subjects()
	if len(clients) == 0 {
		return
	}
	body, err := json.Marshal(map[string]any{"version": w.rng.IntN(3), "assignee": pick(w, []string{"", "marit", "davit"}), "status": pick(w, []string{"active", "hold"})})
	w.must(err)
	_, _, _ = lead.ask("PUT", "/api/v1/clients/"+pick(w, clients)+"/assignment", "application/json", body)
}

func restore(w *world, _ *tablet) {
	if backups := w.server.fresh(); w.has.restores && len(backups) > 0 {
		w.server.restore(pick(w, backups))
	}
}

// clone copies a tablet's disk to a second device, as a backup of the whole
// device does.
func clone(w *world, t *tablet) {
	if !w.has.clones || len(w.tablets) > 6 {
		return
	}
	twin := *t
	twin.recorder = nil
	twin.disk, twin.label = t.disk.clone(), fmt.Sprintf("%s-twin%d", t.label, len(w.tablets))
	w.tablets = append(w.tablets, &twin)
	w.seen.Add(history.Exchange{Client: twin.label, CopyOf: t.label})
	w.note("%s: is cloned to %s at number %d", t.label, twin.label, t.disk.n)
}

func changeRole(w *world, _ *tablet) {
	if w.has.roles {
		w.role("davit", north, pick(w, []string{"", model.RoleClinician, model.RoleAssistant}))
	}
}

// canonical is JSON without the freedom of writing it.
func canonical(v any) string {
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	if err := enc.Encode(v); err != nil {
		return err.Error()
	}
	return out.String()
}

package simulation

import (
	"bytes"
	"context"
	"net/http"
	"slices"
	gosync "sync"
	"testing"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/history"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/record"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// calm is a world without disasters, in which Marit has begun a visit that is
// on her tablet only.
func calm(t *testing.T) (w *world, marit *tablet, visit string) {
	t.Helper()
	return calmWith(t, false)
}

// calmWith may have all tablets with an app that does not sign.
func calmWith(t *testing.T, unsigned bool) (w *world, marit *tablet, visit string) {
	t.Helper()
	w = newWorldWith(t, newGround(t), 1, noMutation, &features{})
	t.Cleanup(w.close)
	marit = w.tablets[0]
	for _, one := range w.tablets {
		one.most, one.page = 1000, 1000
		one.unsigned = unsigned
		w.must(one.signIn())
		w.must(one.registerKey())
	}
	marit.openClient()
	clients, _ := marit.subjects()
	marit.startVisit(clients[0])
	_, visits := marit.subjects()
	marit.write(model.KindAnswerGiven, visits[0], marit.answer())
	return w, marit, visits[0]
}

// holds ends the storm and fails the test when an invariant does not hold.
func (w *world) holds(t *testing.T) *serverState {
	t.Helper()
	if err := w.judge(); err != nil {
		t.Fatalf("%v\n%s", err, w.tail(80))
	}
	return w.serverState()
}

// through exchanges in given weather and says how the tablet and the server
// stand afterwards.
func (w *world) through(t *tablet, sky ...weather) (waiting, head int64) {
	w.net.forecast = sky
	_ = t.exchange()
	w.net.forecast = nil
	return t.waiting(), w.server.head()
}

func TestFault01RequestIsLostBeforeTheServer(t *testing.T) {
	w, marit, _ := calm(t)
	if waiting, head := w.through(marit, loseRequest); waiting != 3 || head != 0 || marit.problem == "" {
		t.Errorf("waiting %d, head %d, %q", waiting, head, marit.problem)
	}
	w.holds(t)
}

func TestFault02AnswerIsLostAfterTheCommit(t *testing.T) {
	w, marit, _ := calm(t)
	if waiting, head := w.through(marit, loseAnswer); waiting != 3 || head != 3 {
		t.Errorf("waiting %d, head %d", waiting, head)
	}
	if v := w.holds(t); v.head != 3 {
		t.Errorf("%d entries for 3", v.head)
	}
}

func TestFault03PushIsDeliveredTwice(t *testing.T) {
	w, marit, _ := calm(t)
	if waiting, head := w.through(marit, sendTwice); waiting != 0 || head != 3 {
		t.Errorf("waiting %d, head %d", waiting, head)
	}
	w.holds(t)
}

func TestFault04BatchesArriveInAnotherOrder(t *testing.T) {
	w, marit, _ := calm(t)
	later := batch{from: 3, lines: marit.nextBatch(3, false).lines[2:]}
	sent := marit.bytesOf(later)
	status, _, err := marit.askSigned("POST", "/api/v1/events", "application/x-ndjson", sent, marit.signatureOf(sent))
	if err != nil || status != http.StatusConflict || w.server.head() != 0 {
		t.Errorf("the second batch first: %d, %v, head %d", status, err, w.server.head())
	}
	marit.most = 1
	w.through(marit, fair, holdBack) // the second of three waits somewhere
	w.through(marit)
	w.net.late()
	if v := w.holds(t); v.head != 3 {
		t.Errorf("%d entries for 3", v.head)
	}
}

func TestFault05BodyIsCut(t *testing.T) {
	w, marit, _ := calm(t)
	whole := marit.bytesOf(marit.nextBatch(1000, false))
	for cut := 0; cut < len(whole); cut += 23 {
		if status, _, err := marit.askSigned("POST", "/api/v1/events", "application/x-ndjson", whole[:cut], marit.signatureOf(whole)); statusOf(err) != http.StatusBadRequest {
			t.Fatalf("cut at %d of %d: %d %v", cut, len(whole), status, err)
		}
	}
	if head := w.server.head(); head != 0 {
		t.Errorf("%d entries were taken from cut pushes", head)
	}
	w.holds(t)
}

func TestFault07ProxyGivesAnOldAnswer(t *testing.T) {
	w, marit, visit := calm(t)
	davit := w.tablets[1]
	w.through(davit) // a proxy has seen an empty log
	w.through(marit)
	w.through(davit, staleAnswer)
	if at := davit.disk.cursors[north].after; at != 0 && len(davit.entries(visit)) == 0 {
		t.Errorf("read up to %d without a row", at)
	}
	w.through(davit)
	if len(davit.entries(visit)) != 2 {
		t.Errorf("davit sees %d entries of the visit, want 2", len(davit.entries(visit)))
	}
	got, err := w.net.send(ask{method: "GET", path: "/api/v1/teams/north/events?after=0&limit=1", cookie: marit.cookie})
	if err != nil || got.store != "no-store" {
		t.Errorf("an answer may be kept on the way: %q, %v", got.store, err)
	}
	w.holds(t)
}

func TestFault08SessionOrRoleEndsInTheMiddle(t *testing.T) {
	w, marit, visit := calm(t)
	w.through(marit)
	marit.write(model.KindAnswerGiven, visit, marit.answer())
	cookie := marit.cookie
	marit.cookie = nil
	if waiting, _ := w.through(marit); waiting != 1 || marit.problem != "sign-in 401 signed-out" {
		t.Errorf("signed out: waiting %d, %q", waiting, marit.problem)
	}
	marit.cookie = cookie
	w.role("marit", north, "")
	if waiting, _ := w.through(marit); waiting != 0 || len(marit.disk.refused) != 1 || marit.disk.refused[0].code != validation.CodeOtherTeam {
		t.Errorf("without a role: waiting %d, shown %v", waiting, marit.disk.refused)
	}
	w.holds(t)
}

func TestFault09ServerIsBusyOrTakesLess(t *testing.T) {
	w, marit, _ := calm(t)
	for _, sky := range []weather{busy, unavailable} {
		if waiting, head := w.through(marit, sky); waiting != 3 || head != 0 {
			t.Errorf("%s: waiting %d, head %d", sky, waiting, head)
		}
	}
	if waiting, head := w.through(marit, tooLarge); waiting != 0 || head != 3 {
		t.Errorf("after 413 in smaller pieces: waiting %d, head %d", waiting, head)
	}
	w.holds(t)
}

func TestFault11SlowLineTakesWhatWaitsInSmallerPieces(t *testing.T) {
	w, marit, visit := calm(t)
	for range 5 {
		marit.write(model.KindAnswerGiven, visit, marit.answer())
	}
	// Eight at once, then four, take longer than the tablet waits.
	if waiting, head := w.through(marit, tooSlow, tooSlow); waiting != 0 || head != 8 {
		t.Errorf("waiting %d, head %d, %q", waiting, head, marit.problem)
	}
	w.holds(t)
}

func TestFault32ServerIsFullAndCanStillBeRead(t *testing.T) {
	w, marit, visit := calm(t)
	davit := w.tablets[1]
	w.through(marit)
	w.through(davit)
	marit.write(model.KindAnswerGiven, visit, marit.answer())
	davit.write(model.KindAnswerGiven, visit, davit.answer())
	w.through(marit)
	if waiting, head := w.through(davit, full); waiting != 1 || head != 4 || len(davit.entries(visit)) != 4 || davit.last.(*problem).shown() != serverFullCode {
		t.Errorf("waiting %d, head %d, %d entries, %q", waiting, head, len(davit.entries(visit)), davit.problem)
	}
	if waiting, head := w.through(davit); waiting != 0 || head != 5 {
		t.Errorf("with room again: waiting %d, head %d", waiting, head)
	}
	w.holds(t)
}

// TestFault10BitFlips changes each bit of a push by itself: it is refused, or
// taken for what it is. Of a push that is signed no bit can be another.
func TestFault10BitFlips(t *testing.T) {
	for name, unsigned := range map[string]bool{"signed": false, "unsigned": true} {
		t.Run(name, func(t *testing.T) {
			w, marit, visit := calmWith(t, unsigned)
			w.through(marit)
			for range 4 {
				marit.write(model.KindAnswerGiven, visit, marit.answer())
				w.through(marit)
			}
			marit.write(model.KindAnswerGiven, visit, marit.answer()) // number 8
			marit.disk.ack = 6                                        // and 7 again: its digit has three bits to lose
			whole := marit.bytesOf(marit.nextBatch(1000, false))
			signature := marit.signatureOf(whole)
			for bit := 0; bit < len(whole)*8; bit++ {
				if bit > 1700 && bit%7 != 0 {
					continue // the body is hashed: some of its bits are enough
				}
				flipped := slices.Clone(whole)
				flipped[bit/8] ^= 1 << (bit % 8)
				status, _, _ := marit.askSigned("POST", "/api/v1/events", "application/x-ndjson", flipped, signature)
				if v := w.serverState(); len(v.quarantined) != 0 || !unsigned && status == http.StatusOK {
					t.Fatalf("bit %d: %d, aside %v", bit, status, v.quarantined)
				}
			}
			w.holds(t)
		})
	}
}

func TestFault13KilledBetweenCommitAndReceipt(t *testing.T) {
	w, marit, _ := calm(t)
	for _, fault := range []commitFault{crashBefore, diskFull, crashAfter} {
		w.server.file.plan = []commitFault{fault}
		if waiting, _ := w.through(marit); waiting != 3 {
			t.Errorf("fault %d: the tablet counts as sent what nobody acknowledged", fault)
		}
	}
	for _, after := range []bool{false, true} {
		marit.crashAt, marit.crashAfter = 1, after
		marit.alive(func() { _ = marit.exchange() })
	}
	if v := w.holds(t); v.head != 3 {
		t.Errorf("%d entries for 3", v.head)
	}
}

func TestFault22ClocksJump(t *testing.T) {
	w, marit, visit := calm(t)
	w.through(marit)
	for _, ahead := range append(jumps(), -time.Hour) {
		marit.ahead, marit.zone = ahead, "Asia/Kathmandu"
		marit.write(model.KindAnswerGiven, visit, marit.answer())
		w.through(marit)
		entries := w.stored(visit)
		last := entries[len(entries)-1]
		if off := ahead > intake.MostSkew || ahead < -intake.MostSkew; last.Skewed != off || marit.waiting() != 0 {
			t.Errorf("clock %v off: marked %v, waiting %d", ahead, last.Skewed, marit.waiting())
		}
	}
	marit.ahead = 0
	for _, ahead := range jumps() {
		w.ahead = ahead
		marit.write(model.KindAnswerGiven, visit, marit.answer())
		if w.through(marit); mustSignIn(marit.last) {
			w.must(marit.signIn())
			w.through(marit)
		}
		if marit.waiting() != 0 {
			t.Errorf("server's clock %v off: waiting %d", ahead, marit.waiting())
		}
	}
	w.ahead = 0
	// The zone's clock is set back between two entries; the later one stands.
	for _, zone := range []string{"Europe/Dublin", "America/St_Johns"} {
		marit.zone = zone
		w.clock = time.Date(2026, 10, 25, 1, 30, 0, 0, time.UTC).Add(-time.Duration(len(zone)) * time.Minute)
		marit.write(model.KindAnswerGiven, visit, model.AnswerGiven{Item: "pos-head", State: model.StateAnswered, Level: "2", Note: zone})
	}
	w.holds(t)
	folded, err := record.FoldVisit(w.stored(visit), w.serverState().logs)
	w.must(err)
	for _, answer := range folded.Answers {
		if answer.Item == "pos-head" && (len(answer.Heads) != 1 || answer.Heads[0].Note != "America/St_Johns") {
			t.Errorf("the last answer does not stand: %+v", answer.Heads)
		}
	}
}

func TestFault23TabletIsClonedOrRestored(t *testing.T) {
	w, marit, visit := calm(t)
	w.through(marit)
	older := marit.disk.clone()
	w.has.clones = true
	clone(w, marit)
	twin := w.tablets[len(w.tablets)-1]
	marit.write(model.KindVisitNoted, visit, model.VisitNoted{Fields: map[string]string{"note": "first device"}})
	twin.write(model.KindVisitNoted, visit, model.VisitNoted{Fields: map[string]string{"note": "second device"}})
	w.through(marit)
	w.through(twin)
	if len(twin.disk.refused) != 1 || twin.disk.refused[0].code != validation.CodeForked {
		t.Errorf("the twin shows %v", twin.disk.refused)
	}
	w.holds(t)
	// The first device is put back to what it was, has read what it said itself
	// since, and goes on.
	marit.disk = older
	w.seen.Add(history.Exchange{Client: marit.label, CopyOf: marit.label})
	marit.reopen()
	w.through(marit)
	if marit.write(model.KindAnswerGiven, visit, marit.answer()) == nil {
		t.Fatal("a restored tablet takes no more entries")
	}
	if w.through(marit); len(marit.disk.refused) != 0 {
		t.Errorf("what it says next is set aside: %v", marit.disk.refused)
	}
	w.holds(t)
}

func TestFault24FourteenDaysOfflineFiveHundredVisits(t *testing.T) {
	w, marit, _ := calm(t)
	clients, _ := marit.subjects()
	list := authoring.Standard()
	for day := range 14 {
		for i := range 36 {
			id := "v-" + string(rune('a'+day)) + string(rune('A'+i%26)) + string(rune('0'+i/26))
			marit.put(model.KindVisitStarted, id, model.VisitStarted{Client: clients[0], Team: north, Unit: "gf",
				Checklist: model.ChecklistRef{ID: list.ID, Version: list.Version, Hash: list.Hash()}})
			for range 4 {
				marit.put(model.KindAnswerGiven, id, marit.answer())
			}
		}
		w.pass(24 * time.Hour)
	}
	said := marit.disk.n
	w.through(marit, fair, loseAnswer) // a bad place for the first time
	if marit.waiting() == 0 {
		t.Error("everything got through at once: the fault was not tried")
	}
	if mustSignIn(marit.last) {
		w.must(marit.signIn())
	}
	v := w.holds(t)
	if v.head != said || len(v.quarantined) != 0 {
		t.Errorf("%d of %d entries arrived, %d aside", v.head, said, len(v.quarantined))
	}
}

func TestFault29PersonIsRemovedWhileOffline(t *testing.T) {
	w, marit, visit := calm(t)
	w.through(marit)
	marit.write(model.KindAnswerGiven, visit, marit.answer())
	active := func(is bool) {
		w.server.set(func(sw store.Writer) error {
			p, err := sw.Person("marit")
			p.Active = is
			if err != nil {
				return err
			}
			return sw.SetPerson(p)
		})
	}
	active(false)
	if waiting, _ := w.through(marit); waiting != 1 || !mustSignIn(marit.last) || marit.signIn() == nil {
		t.Errorf("a closed account: waiting %d, %q", waiting, marit.problem)
	}
	active(true)
	w.role("marit", north, "")
	w.holds(t)
	w.server.view(func(r store.Reader) error {
		list, err := r.QuarantinedOf(store.QuarantineFilter{Team: north})
		if len(list) != 1 || list[0].Person != "marit" || list[0].Code != validation.CodeOtherTeam {
			t.Errorf("the lead sees %+v", list)
		}
		return err
	})
}

// TestFault36SameEventThroughTwoHandlersOverOneStore: the default is one node;
// where two share a store, an event that reaches both is stored once.
func TestFault36SameEventThroughTwoHandlersOverOneStore(t *testing.T) {
	w, marit, _ := calm(t)
	body := marit.bytesOf(marit.nextBatch(1000, false))
	who := account.Caller{Person: "marit", Teams: map[string]string{north: model.RoleClinician}}
	var both gosync.WaitGroup
	for range 2 {
		in := intake.New(w.server.file.Store, authoring.StandardVersions(), w.serverNow)
		defer in.Close()
		for range 4 {
			both.Go(func() {
				answer, err := in.PushSigned(context.Background(), who, bytes.NewReader(body), marit.signatureOf(body))
				if err != nil || answer.Ack != 3 {
					t.Errorf("%+v, %v", answer, err)
				}
			})
		}
	}
	both.Wait()
	if head := w.server.head(); head != 3 {
		t.Errorf("%d entries for 3", head)
	}
	w.server.restart() // the third intake on this store has kept nothing of its own
	w.holds(t)
}

// TestFault39RulesChangedBetweenTabletAndServer: the result that was shown when
// signing and the server's are both kept, and the caseload marks that they
// differ.
func TestFault39RulesChangedBetweenTabletAndServer(t *testing.T) {
	w, marit, visit := calm(t)
	marit.sign(visit) // with the hash of another result
	w.holds(t)
	clients, _ := marit.subjects()
	w.server.view(func(r store.Reader) error {
		line, err := r.Summary(clients[0])
		if err != nil {
			return err
		}
		result, err := r.Result(visit)
		folded, bad := record.FoldVisit(w.stored(visit), w.serverState().logs)
		w.must(bad)
		if !line.Mismatch || len(result.Body) == 0 || result.SHA256 == folded.Signed.Result {
			t.Errorf("marked %v; shown when signing %s, the server's %s", line.Mismatch, folded.Signed.Result, result.SHA256)
		}
		return err
	})
}

func TestFault40InvalidEventOfAnOldClient(t *testing.T) {
	w, marit, visit := calm(t)
	n := marit.disk.n + 1
	old := lineOf(w, model.Event{Tablet: marit.disk.tablet, N: n, Kind: model.KindAnswerGiven, Subject: visit, Author: "marit",
		At: marit.now(), Zone: "Etc/UTC", Schema: 0, Body: []byte(`{"item":"pos-head","answer":"good"}`)})
	marit.commit(func(r *rows) {
		r.events[ref(r.tablet, n)] = row{key: ref(r.tablet, n), subject: visit, own: n, raw: old}
		r.n = n
	})
	// An answer names what it replaces, for which the visit has to be read.
	marit.write(model.KindVisitNoted, visit, model.VisitNoted{Fields: map[string]string{"note": "after it"}})
	v := w.holds(t)
	if v.quarantined[string(old)] != 1 || v.head != 4 || len(marit.disk.refused) != 1 || marit.disk.refused[0].hint == "" {
		t.Errorf("quarantined %v, head %d, shown %v", v.quarantined, v.head, marit.disk.refused)
	}
}

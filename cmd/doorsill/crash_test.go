package main

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"sync"
	"testing"
	"time"

	"doorsill/internal/history"
	"doorsill/internal/tablettest"
)

// rounds is how often a test kills the server: few in every run of the tests,
// more where CRASH_ROUNDS says so.
func rounds(usual int) int {
	if n, err := strconv.Atoi(os.Getenv("CRASH_ROUNDS")); err == nil {
		return n
	}
	return usual
}

// freshAfter is how many rounds share a folder: verifying takes longer the
// more is in it.
const freshAfter = 25

// TestFault31KilledWhileSeveralPush kills the real program at random moments
// while several tablets push to it and others pull, looks at what it left
// behind, and at whether what everybody was told fits together.
func TestFault31KilledWhileSeveralPush(t *testing.T) {
	seed := rand.Uint64()
	random := rand.New(rand.NewPCG(seed, 31))
	const pushers = 4
	var dir, team string
	var tablets []*tablet
	var readers []*reader
	var seen *history.Recorder
	events := int64(0)
	for round := range rounds(8) {
		if round%freshAfter == 0 {
			dir, tablets, readers, seen = t.TempDir(), nil, nil, &history.Recorder{}
			team = staffed(t, dir, pushers)
		}
		p := startServer(t, dir, os.Args[0])
		for i := range pushers {
			if len(tablets) == i {
				tablets = append(tablets, signedIn(t, p.url, clinicianNo(i)).tablet(team))
				tablets[i].watch(seen, tablets[i].ID)
			}
			tablets[i].url = p.url
		}
		for i := range 2 {
			if len(readers) == i {
				readers = append(readers, &reader{person: signedIn(t, p.url, "lead"), team: team})
				readers[i].watch(seen, fmt.Sprint("reader ", i))
			}
			readers[i].url = p.url
		}
		pushUntilKilled(t, p, tablets, readers, random)
		logs := make([]*tablettest.Tablet, len(tablets))
		for i, tab := range tablets {
			logs[i] = &tab.Tablet
		}
		wantKept(t, dir, logs...)
		if t.Failed() {
			t.Fatalf("seed %d, round %d", seed, round)
		}
		if (round+1)%freshAfter == 0 || round+1 == rounds(8) {
			events += settled(t, dir, seen, tablets, readers)
		}
	}
	t.Logf("seed %d: %d rounds, %d events acknowledged and all there", seed, rounds(8), events)
	if events == 0 {
		t.Error("nothing was ever acknowledged")
	}
}

// settled lets everybody come to rest on a server that is not killed, and
// returns how many events it has acknowledged.
func settled(t *testing.T, dir string, seen *history.Recorder, tablets []*tablet, readers []*reader) (events int64) {
	t.Helper()
	p := startServer(t, dir, os.Args[0])
	for _, tab := range tablets {
		tab.url = p.url
		tab.sync()
		events += tab.Ack
	}
	for _, r := range readers {
		r.url = p.url
		r.pullAll(1000)
	}
	p.kill()
	wantOneHistory(t, seen, tablets, readers...)
	return events
}

// pushUntilKilled has every tablet push and every reader pull until the server
// is gone, which it is a random while after a random number of receipts.
func pushUntilKilled(t *testing.T, p *program, tablets []*tablet, readers []*reader, random *rand.Rand) {
	t.Helper()
	receipts := make(chan struct{}, 1)
	var all sync.WaitGroup
	for _, tab := range tablets {
		most := 1 + random.IntN(40)
		all.Go(func() { pushOn(t, tab, most, receipts) })
	}
	for i, r := range readers {
		most := 1000 - i*970 // whole, and in many pages
		all.Go(func() { r.pullOn(most) })
	}
	ended := make(chan struct{})
	go func() {
		all.Wait()
		close(ended)
	}()
	for range random.IntN(60) {
		select {
		case <-receipts:
		case <-ended:
			t.Fatalf("the server ended by itself: %s", p.said)
		}
	}
	<-time.After(time.Duration(random.IntN(12_000)) * time.Microsecond) // any moment of a commit
	p.kill()
	<-ended
}

// pushOn writes and pushes until the network fails.
func pushOn(t *testing.T, tab *tablet, most int, receipts chan<- struct{}) {
	visit := someWork(&tab.Tablet)
	for {
		var no *refused
		err := tab.push(most)
		if errors.As(err, &no) && no.status == 429 {
			continue
		}
		if errors.As(err, &no) {
			t.Errorf("refused: %v", no)
		}
		if err != nil {
			return
		}
		select {
		case receipts <- struct{}{}:
		default:
		}
		for range most {
			tab.Answer(visit, len(tab.Lines))
		}
	}
}

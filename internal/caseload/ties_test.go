package caseload

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"doorsill/internal/store"
)

// TestTiesStandInOneOrder, by id, in whatever order the clients came and whether
// they were there at the start: a reader must not meet one twice and another
// never because the server was started anew between two pages.
func TestTiesStandInOneOrder(t *testing.T) {
	var list []store.Summary
	want := ""
	for i := range 20 {
		list = append(list, store.Summary{Client: fmt.Sprintf("c%02d", i), Team: "t1", Name: "Robin Same", Status: "waiting", Referred: "2026-03-01", Priority: "soon"})
		want += fmt.Sprintf("c%02d ", i)
	}
	for seed := range uint64(5) {
		random := rand.New(rand.NewPCG(seed, 1))
		random.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		x := loaded(t, list[:10]...)
		x.Put(list[10:]...)
		x.Put(list[3], list[15]) // said once more
		for _, by := range sorts {
			page, err := x.Page(lead(), "t1", Query{Sort: by}, today)
			if got := clients(page); err != nil || got != strings.TrimSpace(want) {
				t.Errorf("seed %d by %s: %s, %v", seed, by, got, err)
			}
		}
	}
}

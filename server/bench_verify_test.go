package server

import (
	"bytes"
	"context"
	"fmt"
	"sync"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/tablettest"
)

// BenchmarkPush is one push of ten entries, alone and while the records, which
// hold 500 visits, are verified beside it without an end.
func BenchmarkPush(b *testing.B) {
	app, err := Open(b.TempDir(), Options{})
	if err != nil {
		b.Fatal(err)
	}
	defer app.Close()
	const team, person = "north", "marit"
	who := account.Caller{Person: person, Teams: map[string]string{team: model.RoleClinician}}
	tab := &tablettest.Tablet{ID: "tab-a", Person: person, Team: team}
	err = app.Store.Update(b.Context(), func(w store.Writer) error {
		return w.SetTablet(store.Tablet{ID: tab.ID, Person: person})
	})
	if err != nil {
		b.Fatal(err)
	}
	push := func() {
		client, visit := fmt.Sprint("c", len(tab.Lines)), fmt.Sprint("v", len(tab.Lines))
		tab.Client(client, "Invented")
		tab.Visit(visit, client)
		for i := range 8 {
			tab.Answer(visit, i)
		}
		body, _ := tab.Push(1000)
		answer, err := app.Intake.Push(b.Context(), who, bytes.NewReader(body))
		if err != nil {
			b.Fatal(err)
		}
		tab.Ack, tab.Log = answer.Ack, answer.Log
	}
	for range 500 {
		push()
	}
	b.Run("alone", func(b *testing.B) {
		for b.Loop() {
			push()
		}
	})
	b.Run("beside verifying", func(b *testing.B) {
		ctx, stop := context.WithCancel(b.Context())
		var watching sync.WaitGroup
		watching.Go(func() {
			for ctx.Err() == nil {
				_, _ = app.Watch.Run(ctx) // ends with the benchmark
			}
		})
		for b.Loop() {
			push()
		}
		stop()
		watching.Wait()
	})
}

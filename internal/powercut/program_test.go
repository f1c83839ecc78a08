package powercut

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/checklist"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
	"doorsill/internal/tablettest"
)

// childFolder names the folder in which a child process of these tests is to be
// the program, childNoSync that it does not wait for the disk.
const (
	childFolder = "POWERCUT_FOLDER"
	childNoSync = "POWERCUT_NOSYNC"
)

func TestMain(m *testing.M) {
	if folder := os.Getenv(childFolder); folder != "" {
		if err := work(context.Background(), folder); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// pushes is how many the program makes in all.
const pushes = 40

const (
	team   = "north"
	person = "marit"
	device = "tab-a"
)

func lists() []*checklist.Definition { return authoring.StandardVersions() }

func noon() time.Time { return time.Date(2026, 3, 10, 12, 0, 0, 0, time.UTC) }

// everything is all that the tablet says, and where its pushes end.
func everything() (tab *tablettest.Tablet, ends []int64) {
	tab = &tablettest.Tablet{ID: device, Person: person, Team: team}
	visit := ""
	for i := range pushes {
		if i%8 == 0 {
			client := fmt.Sprint("client-", i)
			visit = fmt.Sprint("visit-", i)
			tab.Client(client, "Quillon Marrowby")
			tab.Visit(visit, client)
		}
		for j := range 1 + i*7%9 {
			tab.Answer(visit, j)
		}
		if i%5 == 0 {
			tab.Answer("no-such-visit", 1) // is set aside
		}
		ends = append(ends, int64(len(tab.Lines)))
	}
	return tab, ends
}

// work is the program: it opens the records, which it may have to make, and
// pushes what they do not have, and notes each acknowledgement on the disk.
func work(ctx context.Context, folder string) error {
	db, err := bolt.Open(filepath.Join(folder, recordsFile), bolt.Options{NoSync: os.Getenv(childNoSync) != ""})
	if err != nil {
		return err
	}
	marks, err := os.OpenFile(filepath.Join(folder, markFile), os.O_CREATE|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	tab, ends := everything()
	tab.Ack, tab.Log, err = prepared(ctx, db)
	if err != nil {
		return err
	}
	mark := func() error {
		_, err := marks.WriteAt([]byte(strconv.FormatInt(tab.Ack, 10)), 0)
		return err
	}
	if err := mark(); err != nil {
		return err
	}
	in := intake.New(db, lists(), noon)
	who := account.Caller{Person: person, Tablet: device, Teams: map[string]string{team: model.RoleLead}}
	for i, end := range ends {
		if end <= tab.Ack {
			continue
		}
		body, _ := tab.Push(int(end - tab.Ack))
		answer, err := in.Push(ctx, who, bytes.NewReader(body))
		if err != nil {
			return err
		}
		tab.Ack = answer.Ack
		if err := mark(); err != nil {
			return err
		}
		if i%8 == 3 {
			var before *intake.Changed // the power went just after it
			_, err := in.Assign(ctx, who, fmt.Sprint("client-", i-3), 0, person, "active")
			if err != nil && !errors.As(err, &before) {
				return err
			}
		}
	}
	in.Close()
	return errors.Join(marks.Close(), db.Close())
}

// prepared makes team, person and tablet in new records, and says how far the
// tablet's receipt goes.
func prepared(ctx context.Context, db store.Store) (ack int64, log string, err error) {
	err = db.Update(ctx, func(w store.Writer) error {
		if log, err = w.LogID(); err != nil {
			return err
		}
		known, err := w.Tablet(device)
		if !errors.Is(err, store.ErrNotFound) {
			ack = known.Ack
			return err
		}
		at := noon().Format(store.TimeLayout)
		return errors.Join(w.SetTeam(store.Team{ID: team, Name: "North"}),
			w.SetPerson(store.Person{ID: person, Name: "Invented", Login: person, Active: true, Created: at}),
			w.SetMembership(store.Membership{Person: person, Team: team, Role: model.RoleLead}),
			w.SetTablet(store.Tablet{ID: device, Person: person, Label: "invented", Registered: at}))
	})
	return ack, log, err
}

func number(text []byte) int64 {
	n, err := strconv.ParseInt(string(text), 10, 64)
	if err != nil {
		panic(err)
	}
	return n
}

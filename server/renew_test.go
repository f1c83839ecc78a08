package server

import (
	"bytes"
	"log/slog"
	"os"
	"path/filepath"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/checklist/authoring"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/store/storetest"
)

// TestRecordsOfAnEarlierVersionAreServed: their results are computed anew before
// anybody asks.
func TestRecordsOfAnEarlierVersionAreServed(t *testing.T) {
	dir := t.TempDir()
	records := storetest.Unpacked(t, "../testdata/records/doorsill-result-1.db.gz")
	if err := os.WriteFile(filepath.Join(dir, RecordsFile), records, 0o600); err != nil {
		t.Fatal(err)
	}
	var log bytes.Buffer
	app, err := Open(dir, Options{NoSync: true, Log: slog.New(slog.NewTextHandler(&log, nil))})
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := app.Close(); err != nil {
			t.Error(err)
		}
	}()
	if log.Len() > 0 {
		t.Errorf("log: %s", &log)
	}
	marit := account.Caller{Person: "marit", Teams: map[string]string{"north": model.RoleClinician}}
	client, err := app.Records.Client(t.Context(), marit, "c1")
	if err != nil || len(client.Visits) != 3 {
		t.Fatalf("%d visits (%v), want 3", len(client.Visits), err)
	}
	words := prepareWordings(authoring.StandardVersions())
	for _, view := range client.Visits {
		answer, err := words.visitAnswer(view)
		if err != nil || answer.Scored == nil || answer.Unscored || answer.Scored.Result.Level != "practise" {
			t.Errorf("visit %s (%v): %+v", view.Visit.ID, err, answer.Scored)
		}
		view.Result.Brief.Mismatch = !answer.Mismatch
		if other, err := words.visitAnswer(view); err != nil || other.Mismatch == answer.Mismatch {
			t.Errorf("visit %s (%v): a signature that names another result is not marked", view.Visit.ID, err)
		}
	}
	before := client.Visits[0]
	before.Result = &store.Result{Format: model.FirstResultFormat, Body: []byte("doorsill-result\t1\n")}
	if answer, err := words.visitAnswer(before); err != nil || answer.Scored != nil || !answer.Unscored {
		t.Errorf("a result that was not computed anew (%v): %+v", err, answer.Scored)
	}
}

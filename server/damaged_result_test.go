package server

import (
	"net/http"
	"strings"
	"testing"

	"doorsill/internal/caseload"
	"doorsill/internal/model"
)

// TestADamagedResultThatTheCaseloadKnowsOf is computed anew at the start.
func TestADamagedResultThatTheCaseloadKnowsOf(t *testing.T) {
	f := newFlipped(t)
	if err := f.open().Close(); err != nil {
		t.Fatal(err)
	}
	editRecords(t, f.path(), spoilResult(f.site.visit))
	unscored := func(app *App) (count int) {
		var page caseload.Page
		f.send(app, question{lead, "GET", "/api/v1/teams/" + f.site.north + "/caseload?status=any", ""}).into(t, &page)
		for _, row := range page.Rows {
			count += row.Unscored
		}
		return count
	}
	for i, want := range []int{1, 0} {
		app, err := f.reopen()
		if err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			push := pushBody(f.site.tablet, f.next, f.site.event(t, f.next, model.KindClientChanged, f.site.client, model.ClientChanged{Fields: map[string]string{"reason": "again"}}))
			if got := f.send(app, question{clinician, "POST", pushPath, push}); got.Code != http.StatusOK {
				t.Fatal(got.Body)
			}
		}
		if got := unscored(app); got != want {
			t.Errorf("start %d: %d visits without a score, want %d", i+1, got, want)
		}
		if err := app.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

// TestADamagedResultIsComputedAnew when somebody reads the visit or its client, and
// shown as unscored, never as a level, where it can not be.
func TestADamagedResultIsComputedAnew(t *testing.T) {
	f := newFlipped(t)
	paths := []string{"/api/v1/visits/" + f.site.visit, "/api/v1/clients/" + f.site.client}
	for _, path := range paths {
		app := f.open()
		right := f.send(app, question{lead, "GET", path, ""}).Body.String()
		if err := app.Close(); err != nil {
			t.Fatal(err)
		}
		editRecords(t, f.path(), spoilResult(f.site.visit))
		for range 2 {
			app, err := f.reopen()
			if err != nil {
				t.Fatal(err)
			}
			if got := f.send(app, question{lead, "GET", path, ""}); got.Body.String() != right || !strings.Contains(right, `"sha256"`) {
				t.Errorf("%s: %s, want %s", path, got.Body, right)
			}
			if err := app.Close(); err != nil {
				t.Fatal(err)
			}
		}
		editRecords(t, f.path(), spoilResult(f.site.visit))
		app, err := f.reopen()
		if err != nil {
			t.Fatal(err)
		}
		app.Intake.Close() // nothing can be written
		var one VisitAnswer
		got := f.send(app, question{lead, "GET", paths[0], ""})
		if got.into(t, &one); !one.Unscored || one.Scored != nil {
			t.Errorf("where nothing can be written: %s", got.Body)
		}
		if err := app.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

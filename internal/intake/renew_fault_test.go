package intake_test

import (
	"context"
	"errors"
	"iter"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
)

// barred is a store of which one thing cannot be read, or written.
type barred struct {
	store.Store
	what string
}

func (b *barred) View(ctx context.Context, fn func(store.Reader) error) error {
	return b.Store.View(ctx, func(r store.Reader) error { return fn(barredReader{r, b}) })
}

func (b *barred) Update(ctx context.Context, fn func(store.Writer) error) error {
	if b.what == "all, once" {
		b.what = ""
		return store.ErrFull
	}
	return b.Store.Update(ctx, func(w store.Writer) error { return fn(barredWriter{w, b}) })
}

type barredReader struct {
	store.Reader
	*barred
}

func (r barredReader) Summaries(team string) iter.Seq2[store.Summary, error] {
	if r.what == "lines" {
		return func(yield func(store.Summary, error) bool) { yield(store.Summary{}, errDisk) }
	}
	return r.Reader.Summaries(team)
}

func (r barredReader) VisitsOfClient(client string) ([]string, error) {
	if r.what == "visits" {
		return nil, errDisk
	}
	return r.Reader.VisitsOfClient(client)
}

func (r barredReader) Result(visit string) (store.Result, error) {
	result, err := r.Reader.Result(visit)
	if r.what == "result of "+visit {
		return result, errors.Join(err, store.ErrDamaged)
	}
	return result, err
}

type barredWriter struct {
	store.Writer
	*barred
}

func (w barredWriter) Subject(id string) (store.Subject, error) {
	if w.what == "subject "+id {
		return store.Subject{}, errDisk
	}
	return w.Writer.Subject(id)
}

func (w barredWriter) SetResultFormat(format string) error {
	if w.what == "format" {
		return errDisk
	}
	return w.Writer.SetResultFormat(format)
}

// renewWithout renews with a store of which something cannot be read or written.
func (h *service) renewWithout(what string) error {
	in := intake.New(&barred{h.store, what}, authoring.StandardVersions(), h.now)
	defer in.Close()
	return in.Renew(context.Background())
}

// noted is the format that all results are said to have.
func (h *service) noted() (format string) {
	h.Helper()
	h.view(func(r store.Reader) (err error) { format, err = r.ResultFormat(); return err })
	return format
}

// TestRenewingSaysWhatFailed, and does not note that all results are renewed.
func TestRenewingSaysWhatFailed(t *testing.T) {
	for what, want := range map[string]error{"lines": errDisk, "visits": errDisk, "format": errDisk, "all, once": store.ErrFull} {
		h := before(t)
		if err := h.renewWithout(what); !errors.Is(err, want) {
			t.Errorf("without %s: %v, want %v", what, err, want)
		}
		renewed := h.result("v1").Format == model.ResultFormat
		if h.noted() != "" || what != "all, once" && renewed != (what == "format") {
			t.Errorf("without %s: renewed %v, noted %q", what, renewed, h.noted())
		}
	}
	h := before(t)
	h.intake.Close()
	if err := h.intake.Renew(context.Background()); !errors.Is(err, intake.ErrClosed) {
		t.Errorf("after it was closed: %v", err)
	}
}

// TestAVisitWithoutItsClientIsToldOf: its line of the caseload would not be
// written.
func TestAVisitWithoutItsClientIsToldOf(t *testing.T) {
	h := before(t)
	err := h.renewWithout("subject c4")
	if err == nil || err.Error() != "renew results: 1 of 6 visits cannot be read; verify says which" {
		t.Errorf("got %v", err)
	}
	if got := h.result("v6").Format; got != model.FirstResultFormat {
		t.Errorf("v6 is of %q", got)
	}
}

// TestOnceAllIsRenewedNothingIsReadOrWritten, so that a start costs nothing.
func TestOnceAllIsRenewedNothingIsReadOrWritten(t *testing.T) {
	h := before(t)
	h.renew()
	for _, what := range []string{"lines", "all, once"} {
		if err := h.renewWithout(what); err != nil {
			t.Errorf("without %s: %v", what, err)
		}
	}
}

// TestOnlyWhatIsOutdatedIsComputedAnew: a result of the present format stands,
// unless it cannot be read.
func TestOnlyWhatIsOutdatedIsComputedAnew(t *testing.T) {
	h := before(t)
	h.renew()
	h.update(func(w store.Writer) error { return w.SetResultFormat("") })
	old := h.now().Format(store.TimeLayout)
	h.minutes.Add(10)
	if err := h.renewWithout("result of v2"); err != nil {
		t.Fatal(err)
	}
	for _, visit := range visitsBefore {
		want := old
		if visit == "v2" {
			want = h.now().Format(store.TimeLayout)
		}
		if got := h.result(visit).At; got != want {
			t.Errorf("%s was computed at %s, want %s", visit, got, want)
		}
	}
	if h.noted() != model.ResultFormat {
		t.Error("it is not noted")
	}
}

// TestNoneIsWorthNoMoreThanNone: a visit that could not be scored before and
// cannot now has its result brought up to date.
func TestNoneIsWorthNoMoreThanNone(t *testing.T) {
	h := before(t)
	h.update(func(w store.Writer) error {
		result, err := w.Result("v6")
		result.Body, result.SHA256, result.Brief.Unscored = nil, "", true
		return errors.Join(err, w.SetResult(result))
	})
	h.intake.Stumble()
	h.renew()
	for visit, want := range map[string]string{"v1": model.FirstResultFormat, "v6": model.ResultFormat} {
		if got := h.result(visit).Format; got != want {
			t.Errorf("%s is of %q, want %q", visit, got, want)
		}
	}
}

package intake_test

import (
	"context"
	"errors"
	"iter"
	"testing"

	"github.com/google/go-cmp/cmp"

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

// spoilt is a store in which the results of visits are damaged until they are
// written.
type spoilt struct {
	store.Store
	visits map[string]bool
	damage func(*store.Result)
}

func (s *spoilt) Update(ctx context.Context, fn func(store.Writer) error) error {
	return s.Store.Update(ctx, func(w store.Writer) error { return fn(spoiltWriter{w, s}) })
}

type spoiltWriter struct {
	store.Writer
	*spoilt
}

func (w spoiltWriter) Result(visit string) (store.Result, error) {
	result, err := w.Writer.Result(visit)
	if w.visits[visit] {
		w.damage(&result)
		err = errors.Join(err, store.ErrDamaged)
	}
	return result, err
}

func (w spoiltWriter) SetResult(r store.Result) error {
	delete(w.visits, r.Visit)
	return w.Writer.SetResult(r)
}

// TestADamagedResultIsRescored with all that it said, and what was signed is
// kept as far as it has its hash.
func TestADamagedResultIsRescored(t *testing.T) {
	flip := func(body []byte) {
		if len(body) > 0 {
			body[len(body)/2] ^= 1
		}
	}
	for name, tt := range map[string]struct {
		damage   func(*store.Result)
		evidence bool
	}{
		"its body":      {func(r *store.Result) { flip(r.Body) }, true},
		"its evidence":  {func(r *store.Result) { flip(r.Evidence.Body) }, false},
		"all but names": {func(r *store.Result) { r.Body, r.Evidence = nil, nil }, false},
	} {
		h := before(t)
		h.renew()
		right := map[string]store.Result{}
		on := &spoilt{h.store, map[string]bool{}, tt.damage}
		for _, visit := range visitsBefore {
			right[visit], on.visits[visit] = h.result(visit), true
		}
		in := intake.New(on, authoring.StandardVersions(), h.now)
		for _, visit := range visitsBefore {
			if err := in.Rescore(t.Context(), visit); err != nil {
				t.Errorf("%s: %s: %v", name, visit, err)
			}
			got, want := h.result(visit), right[visit]
			if !tt.evidence {
				want.Evidence, want.Brief.Mismatch = nil, got.Brief.Mismatch
			}
			want.At = got.At
			if diff := cmp.Diff(want, got); diff != "" || on.visits[visit] {
				t.Errorf("%s: %s: %s", name, visit, diff)
			}
		}
		in.Close()
	}
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

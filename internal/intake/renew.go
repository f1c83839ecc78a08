package intake

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"golang.org/x/sync/errgroup"

	"doorsill/internal/model"
	"doorsill/internal/store"
)

// Renew computes anew the results that an earlier version stored in another
// format, and keeps those as evidence of what was signed. It may be stopped at
// any point and called again. A visit that cannot be scored any more keeps its
// old result. When some visits cannot be read all others are renewed, and the
// error says how many; store.ErrFull and the context's end it early.
func (in *Intake) Renew(ctx context.Context) error {
	visits, done, err := in.outdated(ctx)
	if err == nil {
		if done {
			return nil
		}
		err = in.renewAll(ctx, visits)
	}
	if err == nil {
		err = in.submit(ctx, func(c *commit) error { return c.w.SetResultFormat(model.ResultFormat) })
	}
	if err != nil {
		return fmt.Errorf("renew results: %w", err)
	}
	return nil
}

// renewAll hands one job a visit to the writer, which takes what waits into one
// commit and tries each alone when one of them fails.
func (in *Intake) renewAll(ctx context.Context, visits []string) error {
	faults := make([]error, len(visits))
	jobs, within := errgroup.WithContext(ctx)
	jobs.SetLimit(mostJobs)
	for i, id := range visits {
		jobs.Go(func() error {
			faults[i] = in.submit(within, func(c *commit) error { return c.renew(id) })
			if errors.Is(faults[i], store.ErrFull) || errors.Is(faults[i], ErrClosed) || within.Err() != nil {
				return faults[i]
			}
			return nil
		})
	}
	if err := jobs.Wait(); err != nil {
		return err
	}
	faults = slices.DeleteFunc(faults, func(err error) bool { return err == nil })
	if len(faults) > 0 {
		// What cannot be read may name what was entered: that is not for a log.
		return fmt.Errorf("%d of %d visits cannot be read; verify says which", len(faults), len(visits))
	}
	return nil
}

// outdated lists the visits whose result is of another format, or cannot be read.
// Once all results are of the present one they are not read any more.
func (in *Intake) outdated(ctx context.Context) (visits []string, done bool, err error) {
	err = in.store.View(ctx, func(r store.Reader) error {
		format, err := r.ResultFormat()
		if done = format == model.ResultFormat; done || err != nil {
			return err
		}
		for line, err := range r.Summaries("") {
			if err != nil && line.Client == "" {
				return err
			}
			ids, err := r.VisitsOfClient(line.Client)
			if err != nil {
				return err
			}
			for _, id := range ids {
				if result, err := r.Result(id); err != nil || result.Format != model.ResultFormat {
					visits = append(visits, id)
				}
			}
		}
		return nil
	})
	return visits, done, err
}

// Rescore computes the result of a visit anew where the stored one is damaged, and
// keeps what it holds of earlier versions as far as that is whole. It does nothing
// where the result can be read.
func (in *Intake) Rescore(ctx context.Context, visit string) error {
	return in.submit(ctx, func(c *commit) error { return c.rescore(visit) })
}

func (c *commit) rescore(visit string) error {
	_, err := c.w.Result(visit)
	if errors.Is(err, store.ErrDamaged) {
		return c.renew(visit)
	}
	return err
}

// Remake makes the lines of clients anew from the log, and the results of their
// visits that are damaged. A line that could not be made stays marked as damaged.
func (in *Intake) Remake(ctx context.Context, clients []string) error {
	var faults []error
	for _, id := range clients {
		faults = append(faults, in.submit(ctx, func(c *commit) error {
			visits, _ := c.w.VisitsOfClient(id) // the line says when they can not be read
			for _, visit := range visits {
				if err := c.rescore(visit); err != nil && !errors.Is(err, store.ErrDamaged) && !errors.Is(err, store.ErrNotFound) {
					return err
				}
			}
			return c.touchClient(id)
		}))
	}
	return errors.Join(faults...)
}

func (c *commit) renew(id string) error {
	visit, err := c.find(id)
	if err != nil || visit == nil {
		return err
	}
	if err := c.unfold(visit); err != nil {
		return err
	}
	return c.touch(visit)
}

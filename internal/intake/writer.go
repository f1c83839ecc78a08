package intake

import (
	"context"
	"errors"

	"doorsill/internal/store"
)

// mostJobs is how many jobs one commit takes together. More would only make
// the first of them wait longer.
const mostJobs = 64

// job is one thing to be committed. do must only change what the commit holds,
// because it is done again when another job of the same commit fails.
type job struct {
	ctx  context.Context
	do   func(*commit) error
	err  error
	done chan struct{}
}

// submit has a job committed. It returns early when the context ends; the job
// may then still be committed, which is why pushes can be repeated.
func (in *Intake) submit(ctx context.Context, do func(*commit) error) error {
	j := &job{ctx: ctx, do: do, done: make(chan struct{})}
	select {
	case in.jobs <- j:
	case <-in.ended:
		return ErrClosed
	case <-ctx.Done():
		return ctx.Err()
	}
	select {
	case <-j.done:
		return j.err
	case <-ctx.Done():
		return ctx.Err()
	}
}

// write is the one writer: it takes what waits and commits it together.
func (in *Intake) write() {
	defer close(in.done)
	for {
		select {
		case first := <-in.jobs:
			in.together(in.gather(first))
		case <-in.ended:
			return
		}
	}
}

func (in *Intake) gather(first *job) []*job {
	jobs := []*job{first}
	for len(jobs) < mostJobs {
		select {
		case next := <-in.jobs:
			jobs = append(jobs, next)
		default:
			return jobs
		}
	}
	return jobs
}

// together commits jobs in one go. When that fails each is tried by itself, so
// that one does not fail the others.
func (in *Intake) together(jobs []*job) {
	changed, err := in.commit(jobs)
	if err == nil {
		in.tell(changed)
	} else if errors.Is(err, store.ErrFull) {
		for _, j := range jobs {
			j.err = err // trying each alone would use up the last space
		}
	} else if len(jobs) > 1 {
		for _, j := range jobs {
			in.together([]*job{j})
		}
		return
	} else {
		jobs[0].err = err
	}
	for _, j := range jobs {
		close(j.done)
	}
}

// commit does the jobs in one update. A job's own refusal is its answer and
// does not undo the others; it must come before the job has written anything.
func (in *Intake) commit(jobs []*job) (changed []store.Summary, err error) {
	defer func() {
		if recovered := recover(); recovered != nil {
			err = fatal(recovered)
		}
	}()
	var c *commit
	err = in.store.Update(context.Background(), func(w store.Writer) (err error) {
		if c != nil {
			return store.ErrFull // what the store found is not for pushes
		}
		if c, err = newCommit(in, w); err != nil {
			return err
		}
		for _, j := range jobs {
			j.err = j.ctx.Err()
			if j.err == nil {
				j.err = j.do(c)
			}
			if j.err != nil && !refused(j.err) {
				return j.err
			}
		}
		changed, err = c.finish()
		return err
	})
	if err == nil {
		in.recent.keep(c)
	}
	return changed, err
}

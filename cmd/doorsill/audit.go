package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"
	"time"

	"doorsill/internal/audit"
	"doorsill/internal/store"
	"doorsill/internal/store/bolt"
)

// auditOptions narrow what is printed of the trail. The chain is always
// checked whole.
type auditOptions struct {
	client, person, since, kept string
	head                        bool
}

// runAudit prints the audit trail and checks its chain.
func runAudit(_ context.Context, args []string, con console) error {
	var from source
	var o auditOptions
	flags := flag.NewFlagSet("audit", flag.ContinueOnError)
	from.flags(flags)
	flags.StringVar(&o.client, "client", "", "only lines about the client `ID` and their visits")
	flags.StringVar(&o.person, "person", "", "only what the person with that `ID` or login did")
	flags.StringVar(&o.since, "since", "", "only lines from `DATE` on, such as 2026-03-01 (UTC)")
	flags.BoolVar(&o.head, "head", false, "print only the number and hash of the last line, to be kept elsewhere")
	flags.StringVar(&o.kept, "kept", "", "check that a line still has the hash that was kept, as `NUMBER:HASH`")
	file, err := parseWithFile(flags, con, args)
	if err != nil {
		return err
	}
	if err := o.check(); err != nil {
		return err
	}
	from.file = file
	return from.read(con, func(db *bolt.DB, _ string) error {
		return db.View(context.Background(), func(r store.Reader) error { return o.print(con, r) })
	})
}

func (o *auditOptions) check() error {
	if o.since != "" {
		at, err := time.Parse(time.DateOnly, o.since)
		if err != nil {
			return &usageError{fmt.Sprintf("--since: expected a date, got %q", o.since), "for example --since 2026-03-01"}
		}
		o.since = at.Format(store.TimeLayout)
	}
	if number, hash, ok := strings.Cut(o.kept, ":"); o.kept != "" {
		if _, err := strconv.ParseInt(number, 10, 64); err != nil || !ok || len(hash) != 64 {
			return &usageError{fmt.Sprintf("--kept: expected NUMBER:HASH, got %q", o.kept), "\"doorsill audit --head\" prints it"}
		}
	}
	return nil
}

func (o *auditOptions) print(con console, r store.Reader) error {
	last, chain := audit.Follow(r)
	if err := o.compareKept(r); err != nil {
		return errors.Join(chain, err)
	}
	if !o.head {
		if err := o.lines(con, r); err != nil {
			return errors.Join(chain, err)
		}
	}
	if chain != nil {
		return chain
	}
	if o.head {
		_, err := fmt.Fprintf(con.out, "%d:%s\n", last.Seq, last.Hash)
		return err
	}
	_, err := fmt.Fprintf(con.out, "The chain of %d lines holds. Head, to be kept elsewhere: %d:%s\n", last.Seq, last.Seq, last.Hash)
	return err
}

// compareKept finds out whether the trail was written anew since a head of it
// was kept: the chain alone can not show that.
func (o *auditOptions) compareKept(r store.Reader) error {
	if o.kept == "" {
		return nil
	}
	number, hash, _ := strings.Cut(o.kept, ":")
	seq, err := strconv.ParseInt(number, 10, 64)
	if err != nil {
		return err
	}
	for e, err := range r.AuditEntries(seq - 1) {
		if err != nil {
			return err
		}
		if e.Seq == seq && e.Hash == hash {
			return nil
		}
		break
	}
	return fmt.Errorf("%w: line %d is not the one whose hash was kept, so lines up to there were changed or taken out", audit.ErrBroken, seq)
}

// lines prints those that the options let through.
func (o *auditOptions) lines(con console, r store.Reader) error {
	subjects, err := o.subjects(r)
	if err != nil {
		return err
	}
	person := o.person
	if p, err := r.PersonByLogin(strings.ToLower(person)); err == nil {
		person = p.ID
	}
	table := tabwriter.NewWriter(con.out, 0, 8, 2, ' ', 0)
	fmt.Fprintln(table, "line\tat\twho\twhat\tabout\tteam\tfrom and result")
	for e, err := range r.AuditEntries(0) {
		if err != nil {
			return errors.Join(err, table.Flush())
		}
		if e.At < o.since || person != "" && e.Person != person || o.client != "" && !slices.Contains(subjects, e.Subject) {
			continue
		}
		fmt.Fprintf(table, "%d\t%s\t%s\t%s\t%s\t%s\t%s\n", e.Seq, e.At, who(r, e.Person), plain(e.Action), plain(e.Subject), teamName(r, e.Team), plain(e.Detail))
	}
	return table.Flush()
}

// subjects are the client and their visits.
func (o *auditOptions) subjects(r store.Reader) ([]string, error) {
	if o.client == "" {
		return nil, nil
	}
	if _, err := r.Subject(o.client); errors.Is(err, store.ErrNotFound) {
		return nil, &usageError{fmt.Sprintf("there is no client %q", o.client), "give the id as it stands in the address of the client's page"}
	}
	visits, err := r.VisitsOfClient(o.client)
	return append(visits, o.client), err
}

func who(r store.Reader, id string) string {
	if id == "" {
		return "nobody"
	}
	if p, err := r.Person(id); err == nil {
		return p.Login
	}
	return plain(id)
}

func teamName(r store.Reader, id string) string {
	if team, err := r.Team(id); err == nil {
		return plain(team.Name)
	}
	return plain(id)
}

// plain quotes what could move the cursor: some of it came from outside.
func plain(text string) string {
	if strings.ContainsFunc(text, func(c rune) bool { return !strconv.IsPrint(c) }) {
		return strconv.QuoteToASCII(text)
	}
	return text
}

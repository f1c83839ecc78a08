package intake

import (
	"errors"
	"fmt"

	"doorsill/internal/store"
	"doorsill/internal/validation"
)

// Bounds of what may be set aside before somebody has dealt with some of it. A
// tablet that works for weeks with a checklist that the server lacks stays below
// them.
const (
	MostOpenOfTablet = 2_000 // entries
	MostOpenOfPerson = 5_000 // entries
	// MostOpenBytes is what the events of a person's open entries may hold.
	MostOpenBytes = 64 << 20
)

// mayQuarantine refuses to set more aside of a tablet or person of whom too much
// is. Nothing is lost: the tablet keeps what it has not sent.
func (t *pushTransaction) mayQuarantine(q *store.Quarantined) error {
	if t.confirming {
		return nil // it takes the place of one that was open until now
	}
	of, err := t.openCount(store.QuarantineByTablet, q.Tablet)
	if err != nil {
		return err
	}
	by, err := t.openCount(store.QuarantineByPerson, q.Person)
	if err != nil {
		return err
	}
	share := int64(1)
	if q.Code == validation.CodeUnsigned {
		share = 2 // what anybody can have written leaves half to the tablet's own
	}
	switch {
	case of.Entries >= MostOpenOfTablet/share:
		return quarantineFull(q, of.Entries, fmt.Sprintf("fewer than %d open entries of one tablet", MostOpenOfTablet/share))
	case by.Entries >= MostOpenOfPerson/share:
		return quarantineFull(q, by.Entries, fmt.Sprintf("fewer than %d open entries of one person", MostOpenOfPerson/share))
	case by.Bytes+int64(len(q.Raw)) > MostOpenBytes/share:
		return quarantineFull(q, by.Entries, fmt.Sprintf("at most %d MiB in open entries of one person", MostOpenBytes/share>>20))
	}
	return nil
}

// openCount counts what is open. A count that is damaged bounds nothing this once: it is
// made anew when the entry is set aside.
func (t *pushTransaction) openCount(by store.QuarantineList, name string) (store.QuarantineCount, error) {
	n, err := t.w.QuarantineOpen(by, name)
	if errors.Is(err, store.ErrDamaged) {
		return store.QuarantineCount{}, nil
	}
	return n, err
}

func quarantineFull(q *store.Quarantined, open int64, want string) *PushError {
	return &PushError{Code: CodeQuarantineFull, Field: "count", Want: want, Message: fmt.Sprintf(
		"%d entries from here are set aside and nobody has dealt with them, so the server takes no more of that kind. "+
			"Nothing is lost: this tablet keeps what it has not sent and tries again. %s The next one would be set aside too: %s",
		open, wayOut(q.Code), q.Hint)}
}

// wayOut says who can do what.
func wayOut(code string) string {
	switch code {
	case validation.CodeUnknownSchema:
		return "Ask your administrator to update the server: it then looks at them again."
	case validation.CodeUnreadable:
		return "Ask your administrator to restore the last backup of the server."
	case validation.CodeOtherChecklist, validation.CodeSubject:
		return "If the server lacks a checklist, ask your administrator to update it; otherwise settle entries under “Set aside”, or ask your lead to."
	}
	return "Settle entries under “Set aside”, or ask your lead to."
}

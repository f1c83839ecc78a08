package verify

import (
	"bytes"
	"cmp"
	"fmt"
	"maps"
	"slices"

	"doorsill/internal/store"
	"doorsill/internal/validation"
)

func sorted[K cmp.Ordered, V any](m map[K]V) []K { return slices.Sorted(maps.Keys(m)) }

// quarantined checks the quarantine: every entry is counted, says why, and is
// where its tablet's number leads.
func (c *checker) quarantined() error {
	list, err := c.r.QuarantinedOf(store.QuarantineFilter{})
	if err != nil {
		c.fault("quarantine", "It can not be read: %v.", err)
		return nil
	}
	lists := quarantineLists{}
	for i := range list {
		q := &list[i]
		c.report.Quarantined++
		where := fmt.Sprintf("quarantined entry %d", q.ID)
		if q.ID != int64(i)+1 {
			c.fault(where, "It follows entry %d.", i)
		}
		if q.Code == "" || q.Hint == "" || q.Received == "" {
			c.fault(where, "It does not say why it was set aside, or when.")
		}
		c.quarantineListed(where, q, lists)
		if q.Code == validation.CodeForked || q.Code == validation.CodeUnsigned {
			continue
		}
		placed, err := c.r.Placed(q.Tablet, q.N)
		here := placed.Quarantine == q.ID && q.Pos == 0 || q.Pos != 0 && placed.Pos == q.Pos
		if err != nil || !here || !bytes.Equal(placed.Raw, q.Raw) {
			c.fault(where, "It is not found under number %d of tablet %s%s.", q.N, q.Tablet, reason(err))
			continue
		}
		if q.Pos == 0 { // else it was counted in the log
			c.placed(q.Tablet, q.N)
		}
	}
	c.quarantineFound(list)
	c.quarantineCounted(list)
	return nil
}

// receipts checks that each tablet's receipt is the highest number up to which
// all have a place, neither more nor less.
func (c *checker) receipts() error {
	tablets, err := c.r.Tablets()
	if err != nil {
		c.fault("tablets", "They can not be read: %v.", err)
		return nil
	}
	for _, tablet := range tablets {
		c.report.Tablets++
		where := "tablet " + tablet.ID
		s := c.tablets[tablet.ID]
		if s == nil {
			s = &stream{}
		}
		delete(c.tablets, tablet.ID)
		if found, err := c.r.Tablet(tablet.ID); err != nil || found.ID != tablet.ID {
			c.fault(where, "It is not found under its id%s.", reason(err))
		}
		if s.count != tablet.Ack || s.highest != tablet.Ack {
			c.fault(where, "Its receipt says %d; %d of its numbers have a place, up to %d.", tablet.Ack, s.count, s.highest)
		}
	}
	for _, id := range sorted(c.tablets) {
		c.fault("tablet "+id, "Its numbers have a place, but the tablet is not known.")
	}
	return nil
}

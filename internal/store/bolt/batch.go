package bolt

import (
	"encoding/binary"
	"fmt"

	"doorsill/internal/model"
	"doorsill/internal/store"
)

// A batch is stored as: one byte of flags, then received, tablet, team and
// subject each as length and bytes, the first number, the count, the length
// of each event, the events, and a checksum over the key and all of it. Lengths
// and numbers are uvarints. Batches written before there were checksums lack
// the flag for it.

const (
	flagSkewed = 1
	flagSummed = 2
)

// appendBatch writes a batch whose first event has the position given.
func appendBatch(out []byte, first int64, b *store.Batch) []byte {
	flags := byte(flagSummed)
	if b.Skewed {
		flags |= flagSkewed
	}
	out = append(out, flags)
	for _, text := range []string{b.Received, b.Tablet, b.Team, b.Subject} {
		out = binary.AppendUvarint(out, uint64(len(text)))
		out = append(out, text...)
	}
	out = binary.AppendUvarint(out, uint64(b.FirstN))
	out = binary.AppendUvarint(out, uint64(len(b.Events)))
	for _, event := range b.Events {
		out = binary.AppendUvarint(out, uint64(len(event)))
	}
	for _, event := range b.Events {
		out = append(out, event...)
	}
	return binary.BigEndian.AppendUint32(out, sumOf(numberKey(first), out))
}

// sizeOf is at least as much as appendBatch needs.
func sizeOf(b *store.Batch) int {
	size := 64 + len(b.Received) + len(b.Tablet) + len(b.Team) + len(b.Subject)
	for _, event := range b.Events {
		size += len(event) + 4
	}
	return size
}

// batch is a stored batch being read.
type batch struct {
	first    int64 // position
	skewed   bool
	received string
	count    int
	firstN   int64
	// tablet, team and subject point into the file.
	tablet, team, subject []byte
	// lengths and events point into the file.
	lengths []byte
	events  []byte
}

// openBatch reads a batch's head and checks that the rest is as long as it says.
func openBatch(first int64, data []byte) (batch, error) {
	b := batch{first: first}
	r := reader{data: data}
	flags := r.byte()
	b.skewed = flags&flagSkewed != 0
	if end := len(data) - sumSize; flags&flagSummed != 0 {
		if end < 1 || binary.BigEndian.Uint32(data[end:]) != sumOf(numberKey(first), data[:end]) {
			return b, fmt.Errorf("read batch at position %d: the checksum does not fit: %w", first, store.ErrDamaged)
		}
		r.data = data[1:end]
	}
	b.received = string(r.text())
	b.tablet, b.team, b.subject = r.text(), r.text(), r.text()
	b.firstN = int64(r.number())
	b.count = int(r.number())
	b.lengths = r.data
	sum := uint64(0)
	for i := 0; i < b.count && !r.bad; i++ {
		sum += r.number()
	}
	if r.bad || b.count < 1 || flags&^(flagSkewed|flagSummed) != 0 || sum != uint64(len(r.data)) {
		return b, fmt.Errorf("read batch at position %d: %w", first, store.ErrDamaged)
	}
	b.events = r.data
	return b, nil
}

// end is the position of the last event.
func (b *batch) end() int64 { return b.first + int64(b.count) - 1 }

// entries appends those after a position, up to limit in all.
func (b *batch) entries(list []model.Entry, after int64, limit int) ([]model.Entry, error) {
	lengths := reader{data: b.lengths}
	events := b.events
	for pos := b.first; pos <= b.end() && len(list) < limit; pos++ {
		n := lengths.number()
		if n > uint64(len(events)) {
			return list, fmt.Errorf("read entry at position %d: %w", pos, store.ErrDamaged)
		}
		if pos > after {
			list = append(list, model.Entry{Pos: pos, Received: b.received, Skewed: b.skewed, Raw: events[:n:n]})
		}
		events = events[n:]
	}
	return list, nil
}

// reader takes values off the front and remembers when there was too little.
type reader struct {
	data []byte
	bad  bool
}

func (r *reader) byte() byte {
	if len(r.data) == 0 {
		r.bad = true
		return 0
	}
	b := r.data[0]
	r.data = r.data[1:]
	return b
}

func (r *reader) number() uint64 {
	value, n := binary.Uvarint(r.data)
	if n <= 0 {
		r.bad = true
		return 0
	}
	r.data = r.data[n:]
	return value
}

func (r *reader) text() []byte {
	n := r.number()
	if n > uint64(len(r.data)) {
		r.bad = true
		return nil
	}
	text := r.data[:n]
	r.data = r.data[n:]
	return text
}

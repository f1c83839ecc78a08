package bolt

import (
	"encoding/binary"
	"errors"
	"math"
	"slices"
	"testing"

	"doorsill/internal/store"
)

// numbers writes uvarints.
func numbers(out []byte, list ...uint64) []byte {
	for _, n := range list {
		out = binary.AppendUvarint(out, n)
	}
	return out
}

// TestBatchesThatLie, without a checksum, about how much they hold: each reads
// to its end when the lie is believed.
func TestBatchesThatLie(t *testing.T) {
	// Flags, four texts, the first number, the count, the lengths, the events.
	for name, data := range map[string][]byte{
		"a text that goes on beyond the end": append(numbers([]byte{0}, 0, 0, 0, 1<<40, 1, 1, 2), "{}"...),
		"more events than could ever be":     append(numbers([]byte{0}, 0, 0, 0, 0, 1, 1<<62, 2), "{}"...),
		"as many events as no number counts": append(numbers([]byte{0}, 0, 0, 0, 0, 1, 1<<63, 2), "{}"...),
	} {
		if _, err := openBatch(1, data); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("%s: %v", name, err)
		}
	}
	// Lengths whose sum comes round to what is there.
	b, err := openBatch(1, append(numbers([]byte{0}, 0, 0, 0, 0, 1, 2, math.MaxUint64, 3), "{}"...))
	if err != nil {
		t.Fatal(err)
	}
	if list, err := b.entries(nil, 0, 9); len(list) > 0 || !errors.Is(err, store.ErrDamaged) {
		t.Errorf("an event that is longer than all: %d entries, %v", len(list), err)
	}
}

// TestABatchThatIsOnlyItsChecksum: the first byte of a checksum over nothing can
// look like the flag for one.
func TestABatchThatIsOnlyItsChecksum(t *testing.T) {
	tried := 0
	for first := range int64(100) {
		data := binary.BigEndian.AppendUint32(nil, sumOf(numberKey(first)))
		if data[0]&flagSummed == 0 {
			continue
		}
		tried++
		if _, err := openBatch(first, data); !errors.Is(err, store.ErrDamaged) {
			t.Errorf("position %d: %v", first, err)
		}
	}
	if tried == 0 {
		t.Error("no checksum looks so")
	}
}

// TestValuesOfFewBytes: what is too short for a checksum has none, and nothing
// at all can have one.
func TestValuesOfFewBytes(t *testing.T) {
	bucket, key := bucketTeams, []byte("north")
	for size := range sealSize {
		short := make([]byte, size)
		if got, err := unseal(bucket, key, short); err != nil || len(got) != size {
			t.Errorf("%d bytes are read as %x, %v", size, got, err)
		}
	}
	sealed := seal(bucket, key, nil)
	if got, err := unseal(bucket, key, slices.Clone(sealed)); err != nil || len(got) != 0 {
		t.Errorf("nothing is read as %x, %v", got, err)
	}
	for at := range sumSize {
		broken := slices.Clone(sealed)
		broken[1+at] ^= 0x10
		if got, err := unseal(bucket, key, broken); len(got) != 0 || !errors.Is(err, store.ErrDamaged) {
			t.Errorf("with byte %d of the checksum changed it is read as %x, %v", at, got, err)
		}
	}
}

// TestNumbersOfKeys are in the last eight bytes; a shorter key has none.
func TestNumbersOfKeys(t *testing.T) {
	for size := range 8 {
		if n := numberOf(slices.Repeat([]byte{1}, size)); n != 0 {
			t.Errorf("%d bytes are number %d", size, n)
		}
	}
	for _, n := range []int64{0, 1, 255, 1 << 40, math.MaxInt64} {
		if got := numberOf(numbered(under("tab-a"), n)); got != n {
			t.Errorf("%d is read as %d", n, got)
		}
	}
}

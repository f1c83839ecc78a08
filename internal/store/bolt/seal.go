package bolt

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"

	"doorsill/internal/store"
)

// A stored value ends in a zero byte and a checksum over its key and itself,
// so that a bit that flips on the disk is noticed instead of believed. Files
// written before there were checksums are read as they are: no value of theirs
// has a zero byte in that place.

const (
	sumSize  = 4
	sealSize = 1 + sumSize
)

func sumOf(parts ...[]byte) uint32 {
	table := crc32.MakeTable(crc32.Castagnoli) // made once by the package
	sum := uint32(0)
	for _, part := range parts {
		sum = crc32.Update(sum, table, part)
	}
	return sum
}

// seal appends the zero byte and the checksum.
func seal(bucket bucketName, key, value []byte) []byte {
	return binary.BigEndian.AppendUint32(append(value, 0), sumOf(bucket.values, key, value))
}

// unseal returns the value without its checksum.
func unseal(bucket bucketName, key, stored []byte) ([]byte, error) {
	end := len(stored) - sealSize
	if end < 0 || stored[end] != 0 {
		return stored, nil
	}
	if binary.BigEndian.Uint32(stored[end+1:]) != sumOf(bucket.values, key, stored[:end]) {
		return nil, fmt.Errorf("read %s %q: the checksum does not fit: %w", bucket, bytes.Trim(key, "\x00"), store.ErrDamaged)
	}
	return stored[:end:end], nil
}

package storetest

import (
	"compress/gzip"
	"errors"
	"io"
	"os"
	"testing"
)

// Unpacked is the file that was packed by gzip into another one: the records of
// earlier versions lie in testdata/records like that.
func Unpacked(t testing.TB, path string) []byte {
	t.Helper()
	packed, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	unpacked, err := gzip.NewReader(packed)
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	data, err := io.ReadAll(unpacked)
	if err := errors.Join(err, packed.Close()); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	return data
}

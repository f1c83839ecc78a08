package engine_test

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"doorsill/internal/engine"
)

// recordedVersion names a version of the engine and, for each shared vector, a hash of
// what it is asked and of the result, as it is signed: codes and figures, no words.
const recordedVersion = "testdata/version.txt"

// TestVectorsChangeWithTheVersion: a result that another rule gives under the same
// version could not be told from the one before, and a stored one would not be taken
// for old. Only what is asked otherwise may be answered otherwise.
func TestVectorsChangeWithTheVersion(t *testing.T) {
	recorded, err := os.ReadFile(recordedVersion)
	if err != nil {
		t.Fatal(err)
	}
	version, rest, _ := strings.Cut(string(recorded), "\n")
	before := map[string]string{}
	for line := range strings.Lines(rest) {
		asked, answered, _ := strings.Cut(strings.TrimSpace(line), " gives ")
		before[asked] = answered
	}
	now := engine.Version + "\n"
	for _, path := range vectors(t) {
		v := readVector(t, path)
		asked := v.Name + " " + digest(t, v.Checklist, v.Visit)
		result, err := engine.New(v.list(t)).Score(&v.Visit)
		if err != nil {
			t.Fatal(err)
		}
		result.Engine = "" // which rises by itself
		answered := digest(t, &result)
		if was, ok := before[asked]; ok && was != answered && version == engine.Version {
			t.Errorf("%s has another result than engine %s gave: raise engine.Version, then go test ./internal/engine -run Vectors -update", v.Name, version)
		}
		now += asked + " gives " + answered + "\n"
	}
	if t.Failed() || now == string(recorded) {
		return
	}
	if !*update {
		t.Fatalf("%s was recorded by engine %s and is not what engine %s gives for the vectors of today: read what is different, then go test ./internal/engine -run Vectors -update",
			recordedVersion, version, engine.Version)
	}
	if err := os.WriteFile(recordedVersion, []byte(now), 0o644); err != nil {
		t.Fatal(err)
	}
}

// digest tells values apart.
func digest(t *testing.T, values ...any) string {
	t.Helper()
	data, err := json.Marshal(values)
	if err != nil {
		t.Fatal(err)
	}
	return fmt.Sprintf("%x", sha256.Sum256(data))[:16]
}

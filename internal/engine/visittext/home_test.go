package visittext_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"doorsill/internal/engine/visittext"
	"doorsill/internal/model"
)

// The texts were written by hand; the tablet is held to the same files.
func TestKitNeedsHomeAndDueItems(t *testing.T) {
	const folder = "../../../testdata/visittext"
	files, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	if len(files) < 8 {
		t.Errorf("%d files in %s, expected at least 8", len(files), folder)
	}
	for _, file := range files {
		t.Run(file.Name(), func(t *testing.T) {
			data, err := os.ReadFile(filepath.Join(folder, file.Name()))
			if err != nil {
				t.Fatal(err)
			}
			var given struct {
				Visit model.Visit
				Text  string
			}
			if err := json.Unmarshal(data, &given); err != nil {
				t.Fatal(err)
			}
			if got := string(visittext.Encode(given.Visit)); got != given.Text {
				t.Errorf("got\n%s\nwant\n%s", got, given.Text)
			}
		})
	}
}

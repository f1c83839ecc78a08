package embed

import (
	"io/fs"
	"testing"
)

func TestBundledMatchesWhatIsThere(t *testing.T) {
	_, err := fs.Stat(FS(), "index.html")
	if Bundled() != (err == nil) {
		t.Errorf("Bundled says %v, and index.html: %v", Bundled(), err)
	}
	if Bundled() {
		if _, err := fs.Stat(FS(), "sw.js.br"); err != nil {
			t.Errorf("the service worker has no compressed twin: %v", err)
		}
	}
}

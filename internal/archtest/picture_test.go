package archtest

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "draw the picture of the folders in DEVELOPERS.md anew")

const (
	guide         = "../../DEVELOPERS.md"
	pictureBegins = "<!-- picture: go test ./internal/archtest -run Picture -update -->\n"
	pictureEnds   = "<!-- end of the picture -->\n"
)

// notDrawn are parts that only tests and builds need.
var notDrawn = []string{
	"doorsill/internal/archtest", "doorsill/internal/simulation", "doorsill/internal/reftables", "doorsill/internal/tablettest",
	"doorsill/internal/engine/enginetest", "doorsill/internal/store/storetest", "doorsill/internal/codegen", "doorsill/cmd/bundle", "doorsill/cmd/mutate",
	"doorsill/cmd/faults", "doorsill/internal/faults",
}

// notFromImports are arrows that no import shows: cmd/engine is built for the
// browser alone, and the page asks it in JSON. frontend/test holds those between the
// front end's floors.
var notFromImports = []string{
	"frontend/app --> frontend/features",
	"frontend/features --> frontend/ui",
	"frontend/ui --> frontend/lib",
	"frontend/lib -. asks, in a worker .-> cmd/engine",
	"frontend/lib -. HTTP .-> server",
	"cmd/engine --> internal/tablet",
}

// TestThePictureShowsTheFolders holds the picture in the contributor's guide to what
// imports what. An arrow that follows from others is left out.
func TestThePictureShowsTheFolders(t *testing.T) {
	arrows := slices.Concat(notFromImports, arrowsOf(packages(t)))
	want := "```mermaid\ngraph TD\n" + strings.Join(named(arrows), "") + "```\n"
	text, err := os.ReadFile(guide)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, begins := strings.Cut(string(text), pictureBegins)
	got, after, ends := strings.Cut(rest, pictureEnds)
	if !begins || !ends {
		t.Fatalf("%s has no place for the picture", guide)
	}
	if got == want {
		return
	}
	if !*update {
		t.Fatalf("the picture in %s is out of date; draw it with -update. Want:\n%s", guide, want)
	}
	if err := os.WriteFile(guide, []byte(before+pictureBegins+want+pictureEnds+after), 0o644); err != nil {
		t.Fatal(err)
	}
}

// arrowsOf draws what each folder imports of others, in order.
func arrowsOf(all []pkg) []string {
	imports := map[string]map[string]bool{}
	for _, p := range all {
		if slices.ContainsFunc(notDrawn, func(root string) bool { return within(p.ImportPath, root) }) {
			continue
		}
		from := folderOf(p.ImportPath)
		for _, imp := range p.Imports {
			if to := folderOf(imp); within(imp, "doorsill") && to != from {
				if imports[from] == nil {
					imports[from] = map[string]bool{}
				}
				imports[from][to] = true
			}
		}
	}
	var arrows []string
	for from, direct := range imports {
		for to := range direct {
			follows := func(over string) bool { return over != to && reaches(imports, over, to) }
			if !slices.ContainsFunc(slices.Collect(maps.Keys(direct)), follows) {
				arrows = append(arrows, from+" --> "+to)
			}
		}
	}
	slices.Sort(arrows)
	return arrows
}

func reaches(imports map[string]map[string]bool, from, to string) bool {
	for next := range imports[from] {
		if next == to || reaches(imports, next, to) {
			return true
		}
	}
	return false
}

// folderOf is the part of the tree that a package belongs to: internal/store for
// internal/store/bolt.
func folderOf(path string) string {
	parts := strings.Split(strings.TrimPrefix(path, "doorsill/"), "/")
	if parts[0] == "internal" || parts[0] == "cmd" {
		return strings.Join(parts[:2], "/")
	}
	return parts[0]
}

// named gives the ends of each arrow an id, as slashes are no part of one.
func named(arrows []string) []string {
	rows := make([]string, 0, len(arrows))
	end := func(folder string) string { return strings.ReplaceAll(folder, "/", "_") + "[" + folder + "]" }
	for _, arrow := range arrows {
		words := strings.Fields(arrow)
		last := len(words) - 1
		rows = append(rows, fmt.Sprintf("  %s %s %s\n", end(words[0]), strings.Join(words[1:last], " "), end(words[last])))
	}
	return rows
}

package strength

import "strings"

// Part is a kind of body site, as far as rules and limits tell them apart.
type Part uint8

const (
	UnknownPart Part = iota
	Head             // chin, lip, tongue, cheek and head: carried by the neck
	Digit            // fingers and thumb
	Hand
	Arm // forearm, elbow, shoulder
	Knee
	Foot // foot and toe
)

// parts says which kind a site is; read only. Paired sites have a side behind.
var parts = [...]struct {
	site   string
	paired bool
	part   Part
}{
	{"chin", false, Head}, {"lip", false, Head}, {"tongue", false, Head}, {"head-back", false, Head},
	{"head", true, Head}, {"cheek", true, Head},
	{"thumb", true, Digit}, {"index", true, Digit}, {"middle", true, Digit}, {"ring", true, Digit}, {"little", true, Digit},
	{"hand", true, Hand}, {"forearm", true, Arm}, {"elbow", true, Arm}, {"shoulder", true, Arm},
	{"knee", true, Knee}, {"foot", true, Foot}, {"toe", true, Foot},
}

// PartOf returns the kind of a site such as "chin" or "index-right", and
// UnknownPart for an id that is none.
func PartOf(site string) Part {
	base, side := splitSide(site)
	for i := range parts {
		if p := &parts[i]; p.site == base && p.paired == (side != "") {
			return p.part
		}
	}
	return UnknownPart
}

// splitSide parts "index-right" into "index" and "right"; other sites have no
// side.
func splitSide(site string) (base, side string) {
	base, side, _ = strings.Cut(site, "-")
	if side != "left" && side != "right" {
		return site, ""
	}
	return base, side
}

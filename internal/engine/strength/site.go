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

// PartOf returns the kind of a site such as "chin" or "index-right", and
// UnknownPart for an id that is none.
func PartOf(site string) Part {
	if site == "head-back" {
		return Head
	}
	base, side := splitSide(site)
	names := [...]string{
		Head: "head cheek", Digit: "thumb index middle ring little", Hand: "hand",
		Arm: "forearm elbow shoulder", Knee: "knee", Foot: "foot toe",
	}
	if !side {
		names = [len(names)]string{Head: "chin lip tongue"}
	}
	for part, list := range names {
		for list != "" {
			var name string
			name, list, _ = strings.Cut(list, " ")
			if name == base {
				return Part(part)
			}
		}
	}
	return UnknownPart
}

// splitSide takes "-left" or "-right" off a site.
func splitSide(site string) (base string, side bool) {
	if base, side = strings.CutSuffix(site, "-left"); side {
		return base, true
	}
	return strings.CutSuffix(site, "-right")
}

// SiteWords writes a site as a person would say it: "right index finger".
func SiteWords(site string) string {
	if site == "head-back" {
		return "back of the head"
	}
	base, paired := splitSide(site)
	if !paired {
		return base
	}
	side := site[len(base)+1:]
	switch base {
	case "index", "middle", "ring", "little":
		base += " finger"
	case "head":
		return side + " side of the head"
	}
	return side + " " + base
}

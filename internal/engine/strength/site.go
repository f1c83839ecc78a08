package strength

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
	base, side := splitSide(site)
	switch base {
	case "chin", "lip", "tongue":
		return only(!side, Head)
	case "head":
		return only(side || site == "head-back", Head)
	case "cheek":
		return only(side, Head)
	case "thumb", "index", "middle", "ring", "little":
		return only(side, Digit)
	case "hand":
		return only(side, Hand)
	case "forearm", "elbow", "shoulder":
		return only(side, Arm)
	case "knee":
		return only(side, Knee)
	case "foot", "toe":
		return only(side, Foot)
	}
	return UnknownPart
}

func only(right bool, part Part) Part {
	if right {
		return part
	}
	return UnknownPart
}

// splitSide takes "-left", "-right" or the "-back" of the head off a site.
func splitSide(site string) (base string, side bool) {
	for i := len(site) - 1; i > 0; i-- {
		if site[i] == '-' {
			end := site[i+1:]
			if site == "head-back" {
				return "head", false
			}
			return site[:i], end == "left" || end == "right"
		}
	}
	return site, false
}

// SiteWords writes a site as a person would say it: "right index finger".
func SiteWords(site string) string {
	base, side := splitSide(site)
	switch base {
	case "index", "middle", "ring", "little":
		base += " finger"
	case "head":
		if !side {
			return "back of the head"
		}
		return site[len("head-"):] + " side of the head"
	}
	if !side {
		return base
	}
	return site[len(site)-sideLength(site):] + " " + base
}

func sideLength(site string) int {
	if site[len(site)-1] == 't' && site[len(site)-2] == 'f' {
		return len("left")
	}
	return len("right")
}

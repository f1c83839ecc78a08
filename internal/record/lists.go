package record

// Sites returns the ids of the body sites that can work a control, most used
// first. A site that comes in pairs ends in "-left" or "-right"; what comes
// before the last hyphen is the part of the body.
func Sites() []string {
	sites := []string{
		"chin", "lip", "tongue",
		"head-back", "head-left", "head-right",
		"cheek-left", "cheek-right",
	}
	for _, part := range []string{
		"hand", "thumb", "index", "middle", "ring", "little",
		"forearm", "elbow", "shoulder", "knee", "foot", "toe",
	} {
		sites = append(sites, part+"-left", part+"-right")
	}
	return sites
}

// KnownSite says whether a site is one of Sites.
func KnownSite(site string) bool {
	switch site {
	case "chin", "lip", "tongue", "head-back", "head-left", "head-right":
		return true
	}
	part, paired := trimSide(site)
	if !paired {
		return false
	}
	switch part {
	case "cheek", "hand", "thumb", "index", "middle", "ring", "little",
		"forearm", "elbow", "shoulder", "knee", "foot", "toe":
		return true
	}
	return false
}

// trimSide takes the side off a site.
func trimSide(site string) (part string, paired bool) {
	const left, right = "-left", "-right"
	if n := len(site) - len(left); n > 0 && site[n:] == left {
		return site[:n], true
	}
	if n := len(site) - len(right); n > 0 && site[n:] == right {
		return site[:n], true
	}
	return site, false
}

// Classes returns the ids of the control classes, by kind and not by make.
func Classes() []string {
	return []string{
		"standard",      // a stick worked by the hand, about 250 gf
		"small",         // a small stick, about 50 gf
		"very-light",    // a stick for a finger or thumb, about 10 gf
		"force-sensing", // a stick that hardly moves
		"switched",      // one to four switches, also head pads
		"breath",        // worked by sipping and puffing
		"scanning",      // one switch and a moving choice
		"attendant",     // worked by a helper
		"non-contact",   // worked by head, tongue or eye without touch
	}
}

// Levels returns the readiness levels from the most careful to the widest.
func Levels() []string {
	return []string{"pause", "practise", "accompanied", "home-ground", "wider-ground"}
}

// OverrideReasons returns the reasons that a therapist can give for deciding
// against the calculated level.
func OverrideReasons() []string {
	return []string{
		"known-driver",     // known driver with a long safe record
		"harder-trial",     // the trial was harder than real life
		"fluctuating",      // a condition that comes and goes
		"accepted-risk",    // the client accepts the risk and has capacity
		"waiting-for-part", // waiting for a part, safe meanwhile
		"other",
	}
}

// NoteFields returns the free texts that a visit can hold.
func NoteFields() []string {
	return []string{"present", "story", "goals", "consent", "stop-holder", "risks", "note"}
}

// ClientFields returns the keys that ClientChanged can name.
func ClientFields() []string {
	return []string{"ref", "name", "born", "referred", "priority", "course", "reason", "visiting"}
}

// Directions returns the directions of a control, relative to the chair.
func Directions() []string { return []string{"forward", "reverse", "left", "right"} }

// ForceUnits returns the units that a force can be given in.
func ForceUnits() []string { return []string{"gf", "N", "ozf", "lbf"} }

package endurance

import "doorsill/internal/engine/provenance"

// Largest inputs that are taken for measurements.
const (
	mostForce   = 1e6   // any unit of force
	mostSeconds = 86400 // a day
	mostRate    = 600   // commands a minute
	mostPerDay  = 100000
)

func refuseSite(site string) error {
	return provenance.Refuse("site", "a body site such as thumb-left, not \""+site+"\"",
		"The share of strength can be given without a site.")
}

func refuseLimb(site, what string) error {
	return provenance.Refuse("site", "a site "+what+", not \""+site+"\"",
		"The share of strength, a timed hold and the exposure card can still be given.")
}

// checkShare refuses what is not a share of strength.
func checkShare(share float64, still string) error {
	return provenance.Above("share of strength", share, 1, "(all of the strength)", still)
}

package endurance

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// Largest inputs that are taken for measurements.
const (
	mostForce   = 1e6   // any unit of force
	mostSeconds = 86400 // a day
	mostRate    = 600   // commands a minute
	mostPerDay  = 100000
)

// refuseSite refuses a site; code is of the message that says which were expected.
func refuseSite(code, site string) error {
	return provenance.NewRefusal(message.New(code, message.Word("field", "site"), message.Word("got", site)))
}

// checkShare refuses what is not a share of strength.
func checkShare(share float64, still message.Message) error {
	return provenance.AboveZero("share-of-strength", share, 1, "all-of-strength", still)
}

func stillShareAndHold() message.Message { return message.New("endurance.still-share-and-hold") }

// percent is a share of 1 in percent, 1 decimal.
func percent(share float64) float64 { return provenance.Round(100*share, 1) }

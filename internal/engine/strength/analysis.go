package strength

import (
	"doorsill/internal/engine/quantity"
	"doorsill/internal/message"
)

// Analysis is what the readings say, and how they stand against the chosen
// control. The named quantities are for the chosen site; without a set-up they
// are missing.
type Analysis struct {
	// Sites are in the order in which they were first measured.
	Sites []Site
	// Reserve is usable force over the force that the control asks, Travel
	// usable travel over the travel it asks, both in the worst needed
	// direction.
	Reserve, Travel quantity.Quantity
	// Bound is the force reserve that holds with 95 % confidence: as readings
	// scatter, it lies below Reserve.
	Bound quantity.Quantity
	// Weakest is the direction that Reserve is for.
	Weakest Direction
	// Spread is (highest-lowest)/mean in percent, Tired is tired over rested force:
	// each in the needed direction in which it is worst.
	Spread, Tired quantity.Quantity
	// Hold is the shortest hold and Release the slowest release, in seconds.
	Hold, Release quantity.Quantity
	// Missed counts releases that did not come.
	Missed int
	// Hits is the part of the commands that came when they were asked, in percent,
	// Unasked commands that nobody asked in ten minutes, Steps the presses that a
	// command takes, Breath usable pressure over the pressure asked. They have no
	// meaning for other kinds of control.
	Hits, Unasked, Steps, Breath quantity.Quantity
	// Noise is unintended force over the force that starts the control.
	Noise quantity.Quantity
	// Switch is usable switch force over the force that the switch asks, Own the
	// same of one switch. Apart says that something is recorded of one of them;
	// else both stand on the same readings and the same force.
	Switch quantity.Quantity
	Own    [switches]quantity.Quantity
	Apart  bool
	// Notes are cautions about the readings.
	Notes []message.Message
}

// Analyse works out all quantities. A nil setup means that no control has been
// chosen. Readings must be in gf, mm and s and not negative.
func Analyse(readings []Reading, setup *Setup) Analysis {
	a := Analysis{Sites: sites(readings)}
	for i := range a.Sites {
		a.Sites[i].measure(readings)
	}
	if setup == nil {
		a.noSetup()
	} else {
		a.against(setup)
	}
	a.note(setup)
	return a
}

// against compares what was measured with what a control asks.
func (a *Analysis) against(setup *Setup) {
	a.reserve(setup)
	a.bound(setup)
	a.travel(setup)
	a.weakest(setup)
	a.hold(setup)
	a.release(setup)
	a.noise(setup)
	a.switched(setup)
	a.switches(setup)
}

func (a *Analysis) noSetup() {
	names := [...]string{"reserve", "reserve-bound", "travel-reserve", "weakest-spread", "tired-ratio", "hold", "release", "noise", "switch-reserve"}
	for i, f := range a.chosen() {
		f.Name, f.Say = names[i], message.New("strength.no-control")
	}
}

// chosen lists the quantities for the chosen control in the order in which they
// are shown.
func (a *Analysis) chosen() [9]*quantity.Quantity {
	return [...]*quantity.Quantity{&a.Reserve, &a.Bound, &a.Travel, &a.Spread, &a.Tired, &a.Hold, &a.Release, &a.Noise, &a.Switch}
}

// At returns what was measured at a site, or an empty site.
func (a *Analysis) At(id string) *Site {
	for i := range a.Sites {
		if a.Sites[i].ID == id {
			return &a.Sites[i]
		}
	}
	return &Site{ID: id}
}

// sites lists the sites of readings in order of first appearance.
func sites(readings []Reading) []Site {
	list, last := make([]Site, 0, 2), ""
next:
	for i := range readings {
		site := readings[i].Site
		if site == last {
			continue
		}
		last = site
		for j := range list {
			if list[j].ID == site {
				continue next
			}
		}
		list = append(list, Site{ID: site})
	}
	return list
}

// Compare returns force and travel reserve for another control at the site of
// the set-up, and the bound of the former, from the same readings.
func (a *Analysis) Compare(setup *Setup) (reserve, bound, travel quantity.Quantity) {
	other := Analysis{Sites: a.Sites}
	other.reserve(setup)
	other.bound(setup)
	other.travel(setup)
	return other.Reserve, other.Bound, other.Travel
}

package endurance

import (
	"strings"

	"doorsill/internal/message"
)

// Region is a part of the body that a holding curve was published for.
type Region string

const (
	General  Region = "general" // all regions together
	Ankle    Region = "ankle"
	Knee     Region = "knee"
	Trunk    Region = "trunk"
	Shoulder Region = "shoulder"
	Elbow    Region = "elbow"
	Hand     Region = "hand/grip"
)

// Fit says how well a region stands for a site.
type Fit string

const (
	Own      Fit = "own"      // the curve was measured there
	Borrowed Fit = "borrowed" // the nearest curve was measured elsewhere
	NoModel  Fit = "none"     // there is no curve, and none near
)

// Match is the region that stands for a site.
type Match struct {
	// Site is the id that was asked for.
	Site string
	// Region is the curve to use; with NoModel it is empty.
	Region Region
	Fit    Fit
	// Say names the region, and says where it is borrowed or there is none.
	Say message.Message
}

// HeadBorne says whether a site is moved by the head, the jaw or the mouth.
func HeadBorne(site string) bool {
	switch part(site) {
	case "chin", "lip", "tongue", "head", "cheek":
		return true
	}
	return false
}

// UpperLimb says whether a site lies from shoulder to finger, where the limits
// for repeated work were published.
func UpperLimb(site string) bool {
	switch part(site) {
	case "shoulder", "elbow":
		return true
	}
	return Distal(site)
}

// Distal says whether a site lies from forearm to finger, where the strain
// index was published.
func Distal(site string) bool {
	switch part(site) {
	case "hand", "thumb", "index", "middle", "ring", "little", "forearm":
		return true
	}
	return false
}

// RegionOf returns the region that stands for a site such as "thumb-left". It
// refuses an unknown site.
func RegionOf(site string) (Match, error) {
	m := Match{Site: site, Fit: Own}
	switch part(site) {
	case "hand":
		m.Region = Hand
	case "elbow":
		m.Region = Elbow
	case "shoulder":
		m.Region = Shoulder
	case "knee":
		m.Region = Knee
	case "foot":
		m.Region = Ankle
	case "thumb", "index", "middle", "ring", "little":
		m.Region, m.Fit = Hand, Borrowed
	case "forearm":
		m.Region, m.Fit = Elbow, Borrowed
	case "toe":
		m.Region, m.Fit = Ankle, Borrowed
	case "chin", "lip", "tongue", "head", "cheek":
		m.Fit = NoModel
	default:
		return Match{}, refuseSite("endurance.no-site", site)
	}
	m.Say = m.say()
	return m, nil
}

func (m *Match) say() message.Message {
	switch m.Fit {
	case Own:
		return message.New("endurance.curve-own", message.Word("region", string(m.Region)))
	case Borrowed:
		return message.New("endurance.curve-borrowed", message.Word("region", string(m.Region)))
	}
	return message.New("endurance.curve-none")
}

// part takes side and place off a site: "thumb-left" is "thumb".
func part(site string) string {
	name, _, _ := strings.Cut(site, "-")
	return name
}

package model

import (
	"strconv"
	"strings"

	"doorsill/internal/validation"
)

// NeedsNoted replaces what it names of how and where the person will drive.
//
//codegen:partial NeedFields
type NeedsNoted struct {
	// RoughGround: rough ground is on a needed route.
	RoughGround *bool `json:"rough_ground,omitempty"`
	// HelperDrives: a helper will drive with the same control.
	HelperDrives *bool `json:"helper_drives,omitempty"`
	// ReverseKey: a key that turns forward into reverse was shown to work.
	ReverseKey *bool `json:"reverse_key,omitempty"`
	// Blocked: hand and forearm are held so that only the driving part moves.
	Blocked *bool `json:"blocked,omitempty"`
	// BreathLeak: air escapes beside the tube of a breath control, at lips or nose.
	BreathLeak *bool `json:"breath_leak,omitempty"`
	// Tracheostomy: the client breathes through an opening in the throat.
	Tracheostomy *bool `json:"tracheostomy,omitempty"`
	// HoursDriving is hours of driving a day, CommandsPerMin and
	// SecondsPerCommand what a usual minute of it asks.
	HoursDriving      *float64 `json:"hours_driving,omitempty" check:"0..24" unit:"h"`
	CommandsPerMin    *float64 `json:"commands_per_min,omitempty" check:"0..120" unit:"a minute"`
	SecondsPerCommand *float64 `json:"seconds_per_command,omitempty" check:"0..60" unit:"s"`
	// WristDeg is the wrist's angle, flexion positive, extension negative.
	WristDeg *float64 `json:"wrist_deg,omitempty" check:"-90..90" unit:"degrees"`
	// TaskShare is the share of strength that another task of the driving hand
	// asks, TaskPerMin and TaskSeconds its pressings a minute and what one lasts,
	// TaskWristDeg the wrist's angle there. TaskHours are its own hours a day; not
	// given, it is done while driving.
	TaskShare    *float64 `json:"task_share,omitempty" check:"1..100" unit:"%"`
	TaskPerMin   *float64 `json:"task_per_min,omitempty" check:"0..120" unit:"a minute"`
	TaskSeconds  *float64 `json:"task_seconds,omitempty" check:"0..60" unit:"s"`
	TaskWristDeg *float64 `json:"task_wrist_deg,omitempty" check:"-90..90" unit:"degrees"`
	TaskHours    *float64 `json:"task_hours,omitempty" check:"0..24" unit:"h"`
	// WaitWeeks is the expected wait until delivery.
	WaitWeeks *float64 `json:"wait_weeks,omitempty" check:"0..260" unit:"weeks"`
	// Base is "stable", "adjustable" or "moves": the person's base and the
	// mount together.
	Base string `json:"base,omitempty" check:"oneof=Bases,optional"`
	// Course is the client's course as known at the visit.
	Course string `json:"course,omitempty" check:"oneof=Courses,optional"`
	// WishSite and WishControl are what the client would like best; the control
	// is the id of one in the kit, or "class:" and a class.
	WishSite    string `json:"wish_site,omitempty" check:"site,optional"`
	WishControl string `json:"wish_control,omitempty" check:"wish,optional"`
	// Moisture is "dry", "damp" or "wet" by site.
	Moisture map[string]string `json:"moisture,omitempty" check:"keys=site,oneof=Moistures"`
	// Rejected is the reason why a site was ruled out, by site; an empty reason
	// takes it back in.
	Rejected map[string]string `json:"rejected,omitempty" check:"keys=site,max=LongestText"`
}

// NeedsUnset says what is no longer known of the needs: each goes back to not
// asked.
type NeedsUnset struct {
	// Fields are some of NeedFields, or "moisture." and a site.
	Fields []string `json:"fields" check:"required" want:"at least one need"`
}

// Needs is how and where the person will drive, with the stamp of the last
// statement.
type Needs struct {
	Stamp
	NeedsNoted
}

// BySite begins the name of a moisture in NeedsUnset.
const BySite = "moisture."

func (n *NeedsNoted) checkTogether() *validation.Error {
	if n.Empty() {
		return &validation.Error{Code: validation.CodeRequired, Want: "at least one need"}
	}
	return nil
}

func (n *NeedsUnset) checkTogether() *validation.Error {
	for i, field := range n.Fields {
		path := "fields[" + strconv.Itoa(i) + "]"
		site, bySite := strings.CutPrefix(field, BySite)
		switch {
		case !bySite:
			if err := validation.OneOf(path, field, NeedFields()); err != nil {
				return err
			}
		case !KnownSite(site):
			return &validation.Error{Code: validation.CodeWrongType, Path: path, Want: BySite + "chin or another site", Got: validation.Quote(field)}
		}
	}
	return nil
}

// mergeTexts takes texts by key; an empty text takes its key out.
func mergeTexts(dst *map[string]string, said map[string]string) {
	for key, text := range said {
		switch {
		case text == "":
			delete(*dst, key)
		case *dst == nil:
			*dst = map[string]string{key: text}
		default:
			(*dst)[key] = text
		}
	}
}

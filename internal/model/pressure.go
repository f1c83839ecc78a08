package model

// PressureNoted is how often the seat's pressure is relieved. The last one
// counts.
type PressureNoted struct {
	// MinutesApart is the time from one relief to the next.
	MinutesApart float64 `json:"minutes_apart" check:"0..480" unit:"min"`
	Note         string  `json:"note,omitempty" check:"max=LongestText"`
}

// Pressure is how often the seat's pressure is relieved, with its stamp.
type Pressure struct {
	Stamp
	PressureNoted
}

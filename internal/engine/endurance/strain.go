package endurance

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// StrainLimit is the index above which a task is called hazardous.
const StrainLimit = 10.0

// Wrist says which way the wrist is bent.
type Wrist string

const (
	Flexion   Wrist = "flexion"   // towards the palm
	Extension Wrist = "extension" // towards the back of the hand
)

// Task is one kind of command, repeated.
type Task struct {
	// Site is a site from forearm to finger.
	Site string
	// Share is the share of strength of a command, above 0 and at most 1.
	Share float64
	// PerMinute is how many commands come in a minute, above 0.
	PerMinute float64
	// Seconds is how long a command lasts, above 0.
	Seconds float64
	// Bend and Degrees say how the wrist is bent, 0 to 90.
	Bend    Wrist
	Degrees float64
	// Hours is how long a day the task is done, above 0 and at most 24.
	Hours float64
}

// Strain is the revised strain index of a task with its five factors.
type Strain struct {
	Task Task
	// Intensity, Efforts, Duration, Posture and Hours are the factors, 4
	// decimals.
	Intensity, Efforts, Duration, Posture, Hours float64
	// Index is their product, 3 decimals.
	Index float64
	// Over is true when Index is above StrainLimit.
	Over bool
	// Say tells the index and on which side of the limit it lies.
	Say message.Message
	provenance.Provenance

	exact float64 // unrounded, for sums over tasks
}

// StrainIndex returns the revised strain index:
//
//	index = IM(share) · EM(commands a minute) · DM(seconds) · PM(wrist) · HM(hours)
//
// with the factors of intensity, efforts, duration, posture and hours below.
// It has no unit; above 10 a task is called hazardous (that limit is from
// memory). It was made for forearm to finger: other sites are refused, as are
// missing values and more command time than there are seconds in a minute.
//
// Garg, Moore and Kapellusch, Ergonomics 2017;60(7):912–922. Published, for
// healthy workers.
func StrainIndex(t Task) (Strain, error) {
	if err := t.check(); err != nil {
		return Strain{}, err
	}
	im, em, dm := intensityFactor(t.Share), effortsFactor(t.PerMinute), durationFactor(t.Seconds)
	pm, hm := postureFactor(t.Bend, t.Degrees), hoursFactor(t.Hours)
	index := im * em * dm * pm * hm
	s := Strain{
		Task:      t,
		Intensity: provenance.Round(im, 4), Efforts: provenance.Round(em, 4), Duration: provenance.Round(dm, 4),
		Posture: provenance.Round(pm, 4), Hours: provenance.Round(hm, 4),
		Index: provenance.Round(index, 3), Provenance: strainProvenance(), exact: index,
	}
	s.Over = over(index)
	s.Say = indexMessage("driving", index)
	return s, nil
}

func (t Task) check() error {
	if !Distal(t.Site) {
		return refuseSite("endurance.not-distal", t.Site)
	}
	still := stillShareAndHold()
	err := provenance.First(
		checkShare(t.Share, message.New("endurance.still-measure")),
		provenance.Between("wrist-angle", t.Degrees, 0, 90, "degrees", still),
		provenance.AboveZero("hours-a-day", t.Hours, 24, "h", still),
	)
	if err != nil {
		return err
	}
	if t.Bend != Flexion && t.Bend != Extension {
		return provenance.NewRefusal(message.New("endurance.no-wrist", message.Word("field", "wrist"), message.Inner("still", still)))
	}
	_, err = DutyCycle(t.PerMinute, t.Seconds)
	return err
}

// over holds an index against the limit, to six decimals: powers and logarithms
// differ in their last digits between processors.
func over(index float64) bool { return provenance.Round(index, 6) > StrainLimit }

// indexMessage says on which side of the limit an index lies; name is "driving",
// "task", "composite" or "cumulative".
func indexMessage(name string, index float64) message.Message {
	code := "endurance.strain-within"
	if over(index) {
		code = "endurance.strain-over"
	}
	return message.New(code, message.Word("name", name), message.Number("index", index), message.Count("places", provenance.Apart(index, 1, StrainLimit)))
}

const strainSource = "source.strain-index"

func strainProvenance() provenance.Provenance {
	return provenance.Of("formula.strain-index", strainSource, provenance.Published)
}

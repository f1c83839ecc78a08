package strength

// Every number that the engine compares with. The table in Thresholds shows
// them with unit, source and status; code uses these names and no bare number.
const (
	// Readings.
	RepeatsWanted   = 3
	RepeatsApart    = 2 // more, after a rest, where those lie far apart
	TiredWanted     = 2
	SpreadLeast     = 5.0 // %, standard deviation that readings count with at least
	ReleasesWanted  = 5
	SpreadSteady    = 20.0 // %
	SpreadSteadyLow = 30.0 // %, when the mean is below WeakMean
	WeakMean        = 50.0 // gf
	OddTrial        = 2.0  // times the middle reading
	TiredFactor     = 0.7
	HoldCounted     = 120.0 // s

	// Words for the force reserve.
	ReserveOverLight = 20.0
	ReserveRoomy     = 7.0
	ReserveWorkable  = 3.0
	ReserveTight     = 2.0

	// Control rules.
	TravelEnough    = 1.25
	TravelJust      = 1.0
	NoiseQuiet      = 0.5
	NoiseNear       = 0.99
	ReleasePrompt   = 1.5 // s
	ReleaseSlow     = 2.5 // s
	PainMild        = 3.0
	PainBothers     = 6.0
	RoughHeavy      = 80.0 // gf, above which a head-borne control may meet rough ground
	LightControl    = 15   // gf, up to and with which every rule calls a control light
	RoughUnmeantFew = 1.0  // per 20 m
	RoughUnmeantTop = 2.0  // per 20 m
	FadingLittle    = 0.85
	FadingMuch      = 0.5
	HoldLong        = 30.0 // s
	HoldBrief       = 10.0 // s
	SealSplash      = 4    // second digit of the IEC 60529 code
	HelperHand      = 80.0 // gf, above which a control suits a helper's hand
	BalanceEven     = 0.5
	SwitchProven    = 3.0
	ThrowLeast      = 20.0 // %
	AfterDelivery   = 12.0 // weeks

	// Controls that are not held: switches, head pads, breath, scanning.
	CommandsWanted = 10
	CommandsSure   = 95.0 // %
	CommandsMost   = 80.0 // %
	CommandSlow    = 10.0 // s
	UnaskedFew     = 1.0  // per 10 min
	UnaskedMost    = 3.0  // per 10 min
	StepsFew       = 2.0
	StepsMost      = 4.0

	// The trial.
	ContactsPer = 50.0  // m
	RatesPer    = 600.0 // s
	RoughPer    = 20.0  // m

	// Scores and levels.
	SidesUnequal  = 2
	CoverageScore = 80 // %
	CoverageGate  = 90 // %
	TeachLeast    = 3
	OutdoorLeast  = 5
	RunsWanted    = 2

	// Overrides.
	OverrideText  = 20 // characters
	OverrideDays  = 28
	OverrideSteps = 1 // levels
)

// Gate is the least score of a section for a level.
type Gate struct {
	Level, Section string
	Least          int
}

// Gates lists the least section scores by level, in the order of a checklist.
// They add up: a level asks for its own and for those of the levels below.
func Gates() [18]Gate { return gates }

// gates is read only.
var gates = [...]Gate{
	{"accompanied", "pos", 60}, {"accompanied", "ctl", 55}, {"accompanied", "mnt", 60},
	{"accompanied", "saf", 60}, {"accompanied", "ind", 50}, {"accompanied", "eqp", 70},
	{"home-ground", "pos", 70}, {"home-ground", "ctl", 70}, {"home-ground", "mnt", 75},
	{"home-ground", "saf", 80}, {"home-ground", "per", 75}, {"home-ground", "ind", 80},
	{"home-ground", "hom", 65}, {"home-ground", "eqp", 80}, {"home-ground", "hnd", 75},
	{"wider-ground", "saf", 85}, {"wider-ground", "per", 80}, {"wider-ground", "out", 80},
}

package record

// Stamp says who said something, when by their own tablet, and where in the
// log it stands.
type Stamp struct {
	Ref Ref    `json:"ref"`
	By  string `json:"by"`
	At  string `json:"at"`
	// Pos is 0 while the event waits on a tablet.
	Pos int64 `json:"pos"`
}

// Client is the fold of one client's events.
type Client struct {
	ID       string `json:"id"`
	Team     string `json:"team"`
	Ref      string `json:"ref"`
	Name     string `json:"name"`
	Born     string `json:"born"`
	Referred string `json:"referred"`
	Priority string `json:"priority"`
	Course   string `json:"course"`
	Reason   string `json:"reason"`
	Visiting string `json:"visiting"`
	Assignee string `json:"assignee"`
	Status   string `json:"status"`
	// Version counts assignments, for compare-and-set.
	Version int64 `json:"version"`
	Opened  Stamp `json:"opened"`
	Changed Stamp `json:"changed"`
}

// Visit is the fold of one visit's events. It is also the file that
// "doorsill score" reads.
type Visit struct {
	ID        string            `json:"id"`
	Client    string            `json:"client"`
	Team      string            `json:"team"`
	Checklist ChecklistRef      `json:"checklist"`
	Unit      string            `json:"unit"`
	Started   Stamp             `json:"started"`
	Notes     map[string]string `json:"notes"`
	// Answers are sorted by item id.
	Answers []Answer `json:"answers"`
	// Readings and Runs are in log order.
	Readings   []Reading   `json:"readings"`
	Runs       []Run       `json:"runs"`
	Setup      *Setup      `json:"setup,omitempty"`
	Plan       *Plan       `json:"plan,omitempty"`
	Override   *Override   `json:"override,omitempty"`
	Signed     *Signature  `json:"signed,omitempty"`
	Amendments []Amendment `json:"amendments"`
	// Unknown counts events of a kind or schema that this program cannot read.
	Unknown int `json:"unknown"`
}

// Answer is what stands for one item: one statement, or several that had not
// seen each other and wait for a choice.
type Answer struct {
	Item string `json:"item"`
	// Heads are in log order, waiting ones last.
	Heads []Given `json:"heads"`
}

// Given is one answer with its stamp.
type Given struct {
	Stamp
	AnswerGiven
}

// Reading is one measurement with its stamp.
type Reading struct {
	Stamp
	ReadingTaken
	// Slip is the reason why the reading was set aside, or empty.
	Slip string `json:"slip,omitempty"`
}

// Run is one stretch of the trial with its stamp.
type Run struct {
	Stamp
	RunTimed
	// Slip is the reason why the run was set aside, or empty.
	Slip string `json:"slip,omitempty"`
}

// Setup is the chosen control, site and place with its stamp.
type Setup struct {
	Stamp
	SetupChosen
}

// Plan is what happens next with its stamp.
type Plan struct {
	Stamp
	PlanAgreed
}

// Override is a therapist's decision with its stamp.
type Override struct {
	Stamp
	OverrideMade
}

// Signature closes the visit.
type Signature struct {
	Stamp
	VisitSigned
}

// Amendment is one change after signing.
type Amendment struct {
	Stamp
	Reason string `json:"reason"`
	Kind   string `json:"kind"`
	// Item names the item when the change was an answer.
	Item string `json:"item,omitempty"`
}

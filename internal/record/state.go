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
	// Kit is the team's kit as it was packed for the visit.
	Kit   []PackedControl `json:"kit,omitempty"`
	Needs *Needs          `json:"needs,omitempty"`
	Chair *Chair          `json:"chair,omitempty"`
	// Places are in the order in which they were first measured.
	Places   []Place   `json:"places,omitempty"`
	Settings []Setting `json:"settings,omitempty"`
	Mount    *Mount    `json:"mount,omitempty"`
	// SecondOf is the visit of the same trial by another therapist. Until both
	// are signed neither is shown the other's answers.
	SecondOf string `json:"second_of,omitempty"`
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
	// Due marks an answer that must be given anew because a setting was
	// changed since; see Retests.
	Due bool `json:"due,omitempty"`
}

// Reading is one measurement with its stamp.
type Reading struct {
	Stamp
	ReadingTaken
	// Slip is the reason why the reading was set aside, or empty.
	Slip string `json:"slip,omitempty"`
	// Due marks a release that must be timed anew because a setting was
	// changed since; see Retests.
	Due bool `json:"due,omitempty"`
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

package model

// VisitStarted opens a visit and pins it to one checklist.
type VisitStarted struct {
	Client    string       `json:"client" check:"id"`
	Team      string       `json:"team" check:"id"`
	Checklist ChecklistRef `json:"checklist" check:"each"`
	// Unit is the force unit that the visit's gauge shows: gf, N, ozf or lbf.
	Unit string `json:"unit" check:"oneof=ForceUnits"`
	// SecondOf is the visit of the same trial by another therapist. The two are
	// rated apart: see Visit.SecondOf.
	SecondOf string `json:"second_of,omitempty" check:"id,optional"`
}

// ChecklistRef names one checklist version and its content hash.
type ChecklistRef struct {
	ID      string `json:"id" check:"required,max=LongestWord" want:"the checklist's id"`
	Version string `json:"version" check:"required,max=LongestWord" want:"the checklist's version"`
	Hash    string `json:"hash" check:"sha256"`
}

// VisitNoted replaces the free texts of a visit that it names.
type VisitNoted struct {
	// Fields may hold "present", "story", "goals", "consent", "stop-holder",
	// "risks" and "note".
	Fields map[string]string `json:"fields" check:"required,keys=NoteFields,max=LongestText" want:"at least one text"`
}

// PlanAgreed is what happens next.
type PlanAgreed struct {
	// Recheck is a date, 2006-01-02.
	Recheck string `json:"recheck,omitempty" check:"date,optional"`
	Note    string `json:"note,omitempty" check:"max=LongestText"`
}

// Plan is what happens next with its stamp.
type Plan struct {
	Stamp
	PlanAgreed
}

// Visit is the fold of one visit's events. It is also the file that
// "doorsill score" reads.
//
//codegen:read
//codegen:write
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

package model

import (
	"doorsill/internal/decimal"
	"doorsill/internal/message"
	"doorsill/internal/strictjson"
	"doorsill/internal/validation"
)

// What the page asks of the tablet's program, package tablet, and what it
// answers. Which op takes and gives what stands in package tablet.

// BadInput is a validation.Error in JSON.
//
//codegen:write inside
type BadInput struct {
	// Code is one of package validation's, or CodeNotOpen or CodeFault.
	Code string `json:"code"`
	Path string `json:"path"`
	Want string `json:"want"`
	Got  string `json:"got"`
}

// Codes that only the program gives.
const (
	// CodeNotOpen says that the program does not hold the visit, or not with
	// these entries: it is to be opened anew.
	CodeNotOpen = "not-open"
	// CodeFault says that the question could not be answered for a reason that
	// is no input's; Want says which.
	CodeFault = "fault"
)

// FailedAnswer is given instead of an answer.
//
//codegen:write inside
type FailedAnswer struct {
	Error BadInput `json:"error"`
}

// CatalogueQuestion gives the sentences of one language, once for each program
// and before all else that has sentences in its answer.
//
//codegen:read
type CatalogueQuestion struct {
	// Language is a tag of BCP 47, such as "en".
	Language string `json:"language"`
	// Text has a line "code: template" for each message.
	Text string `json:"text"`
}

// ChecklistQuestion gives a checklist, under the hash that visits name.
//
//codegen:read
type ChecklistQuestion struct {
	Hash       string `json:"hash"`
	Definition Raw    `json:"definition"`
}

// OpenVisitQuestion gives a visit's entries in any order; one that is there twice
// counts once. A visit that is open already is opened anew.
//
//codegen:read
type OpenVisitQuestion struct {
	// Visit names the visit in later questions.
	Visit string `json:"visit"`
	// Checklist is the hash of a checklist that was loaded.
	Checklist string  `json:"checklist"`
	Entries   []Entry `json:"entries"`
	// Logs are the log that gave the entries their positions and those before it.
	Logs Logs `json:"logs"`
}

// AddEntriesQuestion adds entries to an open visit.
//
//codegen:read
type AddEntriesQuestion struct {
	Visit string `json:"visit"`
	// After is the Count of the answer before.
	After   int     `json:"after"`
	Entries []Entry `json:"entries"`
}

// OpenVisit is an open visit as it stands.
//
//codegen:write inside
type OpenVisit struct {
	Visit Visit `json:"visit"`
	// Result has a text in every message. It is null when the visit cannot be
	// scored; Unscored then says why.
	Result   *Result   `json:"result"`
	Unscored *BadInput `json:"unscored,omitempty"`
	// Count is how many entries the program holds, each once.
	Count int `json:"count"`
	// Newer is how many of them a newer version of the app wrote: they are kept,
	// and change nothing here.
	Newer int `json:"newer"`
}

// VisitQuestion names an open visit.
//
//codegen:read
type VisitQuestion struct {
	Visit string `json:"visit"`
}

// EntriesQuestion gives all entries of one client or one control, in any order.
//
//codegen:read
type EntriesQuestion struct {
	Entries []Entry `json:"entries"`
}

// CheckBodyQuestion asks what the server would say of an entry's body by itself.
//
//codegen:read
type CheckBodyQuestion struct {
	Kind string `json:"kind"`
	Body Raw    `json:"body"`
}

// PasswordQuestion asks whether a password may be chosen that no server sees.
//
//codegen:read
type PasswordQuestion struct {
	Password string `json:"password"`
	// Context is who chooses it and where they work.
	Context []string `json:"context"`
}

// PlausibleQuestion asks about a value as it is typed.
//
//codegen:read
type PlausibleQuestion struct {
	// What is one of ReadingKinds, Site one of Sites.
	What  string  `json:"what"`
	Site  string  `json:"site"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
	// Others are the readings of the same series in the same unit, Directions those
	// of the same site and state in other directions.
	Others     []float64 `json:"others,omitempty"`
	Directions []float64 `json:"directions,omitempty"`
}

// RoseQuestion asks for the figures of a drawing of force, travel or switch-force
// at one site, with or without support.
//
//codegen:read
type RoseQuestion struct {
	What      string `json:"what"`
	Site      string `json:"site"`
	Supported bool   `json:"supported"`
	// Unit is one of ForceUnits, for travel mm.
	Unit string `json:"unit"`
	// Readings are those of the visit without slips; what is of another kind, site
	// or support is left out.
	Readings []ReadingTaken `json:"readings"`
	// Setup is the chosen control, if there is one.
	Setup *SetupChosen `json:"setup,omitempty"`
}

// SeriesQuestion asks what several series come to.
//
//codegen:read
type SeriesQuestion struct {
	Series []Series `json:"series"`
}

// SeriesAnswer has a summary for each series.
//
//codegen:write inside
type SeriesAnswer struct {
	Summaries []SeriesSummary `json:"summaries"`
}

// QuantitiesAnswer has the quantities that a run counts for.
//
//codegen:write inside
type QuantitiesAnswer struct {
	Quantities []Quantity `json:"quantities"`
}

// ConvertQuestion asks for forces in another unit; both are of ForceUnits.
//
//codegen:read
type ConvertQuestion struct {
	Values []float64 `json:"values"`
	From   string    `json:"from"`
	To     string    `json:"to"`
}

// ConvertAnswer has the forces in the other unit, rounded to what a gauge of it
// shows.
//
//codegen:write inside
type ConvertAnswer struct {
	Values []decimal.Micro `json:"values"`
}

// AdviceQuestion asks what to try for one of Problems.
//
//codegen:read
type AdviceQuestion struct {
	Problem string `json:"problem"`
}

// PlanQuestion asks for a drawing of a place with the chair in it.
//
//codegen:read
type PlanQuestion struct {
	Chair ChairMeasured `json:"chair"`
	Place PlaceMeasured `json:"place"`
}

// NoQuestion is the question of an op that needs none: an empty object.
type NoQuestion struct{}

// ReadField passes over whatever there is.
func (*NoQuestion) ReadField(r *strictjson.Reader, _ []byte) *validation.Error { return r.Skip() }

// ThresholdsAnswer is every number that results depend on.
//
//codegen:write inside
type ThresholdsAnswer struct {
	Thresholds []Threshold `json:"thresholds"`
}

// CeilingsQuestion asks what the answers of a checklist allow; it names one that
// was loaded.
//
//codegen:read
type CeilingsQuestion struct {
	Checklist string `json:"checklist"`
}

// CeilingsAnswer says of each item of a checklist, in its order, what each answer
// allows.
//
//codegen:write inside
type CeilingsAnswer struct {
	Items []CeilingsOfItem `json:"items"`
}

// CeilingsOfItem are the ceilings of one item.
type CeilingsOfItem struct {
	Item string `json:"item"`
	// Harmless items can be answered together: no answer to them can raise a STOP
	// or carry a ceiling.
	Harmless bool            `json:"harmless,omitempty"`
	Answers  []AnswerCeiling `json:"answers"`
}

// AnswerCeiling is the highest level that an answer leaves when all else is at its
// best. It is about one Level or Band of the item, or about any answer in its State.
type AnswerCeiling struct {
	// State is one of AnswerStates.
	State string `json:"state"`
	Level string `json:"level,omitempty"`
	// Band counts from 1, the best; 0 for none.
	Band int `json:"band,omitempty"`
	// Reason is one of the item's own reasons why it does not apply.
	Reason string `json:"reason,omitempty"`
	// Fact is what must be so too; without it the row of the same answer counts
	// that has none.
	Fact string `json:"fact,omitempty"`
	// Ceiling is one of ResultLevels.
	Ceiling string `json:"ceiling"`
	// Message words the ceiling, with the fact.
	Message message.Message `json:"message"`
}

// MeasuredAnswers are the items of a visit's checklist that were measured elsewhere
// in the visit.
//
//codegen:write inside
type MeasuredAnswers struct {
	Items []MeasuredAnswer `json:"items"`
}

// MeasuredAnswer is what an item comes to by what was measured elsewhere.
type MeasuredAnswer struct {
	Item string `json:"item"`
	// Number or Level is the answer, as the item asks.
	Number *float64 `json:"number,omitempty"`
	Level  string   `json:"level,omitempty"`
	// Facts are side questions of the item that are answered by it too.
	Facts map[string]bool `json:"facts,omitempty"`
	// Place is the measured place, or empty where it is the mounting.
	Place string `json:"place,omitempty"`
	// Message says where it was measured and what it comes to.
	Message message.Message `json:"message"`
}

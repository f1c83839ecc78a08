package model

import (
	"slices"

	"doorsill/internal/strictjson"
	"doorsill/internal/validation"
)

// What an event can be about.
const (
	SubjectClient  = "client"
	SubjectVisit   = "visit"
	SubjectControl = "control" // a drive control of a team's kit
)

// Roles of a person in a team.
const (
	RoleClinician = "clinician"
	RoleAssistant = "assistant"
	RoleLead      = "lead"
)

// Roles returns the roles of a person in a team.
func Roles() []string { return []string{RoleLead, RoleClinician, RoleAssistant} }

// Subjects returns what an event can be about.
func Subjects() []string { return []string{SubjectClient, SubjectVisit, SubjectControl} }

// Who may write a kind of event, read only.
var (
	everyone   = []string{RoleLead, RoleClinician, RoleAssistant}
	clinicians = []string{RoleLead, RoleClinician}
	leads      = []string{RoleLead}
)

// Body is the typed body of an event, always a pointer to the struct that the
// event's kind names.
type Body interface {
	// ReadField reads the value of one key and passes over one that it does not
	// know.
	ReadField(r *strictjson.Reader, key []byte) *validation.Error
	// Check refuses what can not be, without knowing checklist or log.
	Check() *validation.Error
}

// Kind is one row of the table of kinds.
type Kind struct {
	Name string
	// New makes an empty body.
	New func() Body
	// Subject is what the event's subject is the id of.
	Subject string
	// Amendable says whether an amendment may carry the kind.
	Amendable bool
	// Roles may write it; none means the server only.
	Roles []string
}

// kinds is the table of all kinds, read only. The constant of a kind follows from
// its row: Kind and the name of its body.
var kinds = []Kind{
	{Name: "client-opened", New: func() Body { return new(ClientOpened) }, Subject: SubjectClient, Roles: clinicians},
	{Name: "client-changed", New: func() Body { return new(ClientChanged) }, Subject: SubjectClient, Roles: clinicians},
	{Name: "client-assigned", New: func() Body { return new(ClientAssigned) }, Subject: SubjectClient},
	{Name: "visit-started", New: func() Body { return new(VisitStarted) }, Subject: SubjectVisit, Roles: clinicians},
	{Name: "visit-noted", New: func() Body { return new(VisitNoted) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
	{Name: "answer-given", New: func() Body { return new(AnswerGiven) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
	{Name: "answer-chosen", New: func() Body { return new(AnswerChosen) }, Subject: SubjectVisit, Amendable: true, Roles: clinicians},
	{Name: "reading-taken", New: func() Body { return new(ReadingTaken) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
	{Name: "reading-marked", New: func() Body { return new(ReadingMarked) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
	{Name: "reading-moved", New: func() Body { return new(ReadingMoved) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
	{Name: "run-timed", New: func() Body { return new(RunTimed) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
	{Name: "run-marked", New: func() Body { return new(RunMarked) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
	{Name: "setup-chosen", New: func() Body { return new(SetupChosen) }, Subject: SubjectVisit, Amendable: true, Roles: clinicians},
	{Name: "plan-agreed", New: func() Body { return new(PlanAgreed) }, Subject: SubjectVisit, Amendable: true, Roles: clinicians},
	{Name: "override-made", New: func() Body { return new(OverrideMade) }, Subject: SubjectVisit, Amendable: true, Roles: clinicians},
	{Name: "visit-signed", New: func() Body { return new(VisitSigned) }, Subject: SubjectVisit, Roles: clinicians},
	{Name: "amendment-made", New: func() Body { return new(AmendmentMade) }, Subject: SubjectVisit, Roles: clinicians},
	{Name: "control-listed", New: func() Body { return new(ControlListed) }, Subject: SubjectControl, Roles: leads},
	{Name: "kit-packed", New: func() Body { return new(KitPacked) }, Subject: SubjectVisit, Amendable: true, Roles: clinicians},
	{Name: "needs-noted", New: func() Body { return new(NeedsNoted) }, Subject: SubjectVisit, Amendable: true, Roles: clinicians},
	{Name: "needs-unset", New: func() Body { return new(NeedsUnset) }, Subject: SubjectVisit, Amendable: true, Roles: clinicians},
	{Name: "chair-measured", New: func() Body { return new(ChairMeasured) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
	{Name: "place-measured", New: func() Body { return new(PlaceMeasured) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
	{Name: "setting-changed", New: func() Body { return new(SettingChanged) }, Subject: SubjectVisit, Amendable: true, Roles: clinicians},
	{Name: "setting-tried", New: func() Body { return new(SettingTried) }, Subject: SubjectVisit, Amendable: true, Roles: clinicians},
	{Name: "mount-noted", New: func() Body { return new(MountNoted) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
}

// Kinds returns the table of all kinds.
func Kinds() []Kind { return slices.Clone(kinds) }

// KindOf returns the row of a kind, nil for one of a later version.
func KindOf(name string) *Kind {
	for i := range kinds {
		if kinds[i].Name == name {
			return &kinds[i]
		}
	}
	return nil
}

// MayWrite reports whether a role may write a kind of event. What a later
// version means by an unknown kind is not for an assistant to write.
func MayWrite(role, kind string) bool {
	if known := KindOf(kind); known != nil {
		return slices.Contains(known.Roles, role)
	}
	return slices.Contains(clinicians, role)
}

// MayAssign reports whether a role may say on the server who sees a client and
// where the client stands.
func MayAssign(role string) bool { return slices.Contains(clinicians, role) }

package model

import (
	"slices"

	"doorsill/internal/strictjson"
	"doorsill/internal/validation"
)

// Kinds of event.
const (
	KindClientOpened   = "client-opened"
	KindClientChanged  = "client-changed"
	KindClientAssigned = "client-assigned"
	KindVisitStarted   = "visit-started"
	KindVisitNoted     = "visit-noted"
	KindAnswerGiven    = "answer-given"
	KindAnswerChosen   = "answer-chosen"
	KindReadingTaken   = "reading-taken"
	KindReadingMarked  = "reading-marked"
	KindRunTimed       = "run-timed"
	KindRunMarked      = "run-marked"
	KindSetupChosen    = "setup-chosen"
	KindPlanAgreed     = "plan-agreed"
	KindOverrideMade   = "override-made"
	KindVisitSigned    = "visit-signed"
	KindAmendmentMade  = "amendment-made"
	KindControlListed  = "control-listed"
	KindKitPacked      = "kit-packed"
	KindNeedsNoted     = "needs-noted"
	KindNeedsUnset     = "needs-unset"
	KindChairMeasured  = "chair-measured"
	KindPlaceMeasured  = "place-measured"
	KindSettingChanged = "setting-changed"
	KindSettingTried   = "setting-tried"
	KindMountNoted     = "mount-noted"
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

// kinds is the table of all kinds, read only.
var kinds = []Kind{
	{Name: KindClientOpened, New: func() Body { return new(ClientOpened) }, Subject: SubjectClient, Roles: clinicians},
	{Name: KindClientChanged, New: func() Body { return new(ClientChanged) }, Subject: SubjectClient, Roles: clinicians},
	{Name: KindClientAssigned, New: func() Body { return new(ClientAssigned) }, Subject: SubjectClient},
	{Name: KindVisitStarted, New: func() Body { return new(VisitStarted) }, Subject: SubjectVisit, Roles: clinicians},
	{Name: KindVisitNoted, New: func() Body { return new(VisitNoted) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
	{Name: KindAnswerGiven, New: func() Body { return new(AnswerGiven) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
	{Name: KindAnswerChosen, New: func() Body { return new(AnswerChosen) }, Subject: SubjectVisit, Amendable: true, Roles: clinicians},
	{Name: KindReadingTaken, New: func() Body { return new(ReadingTaken) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
	{Name: KindReadingMarked, New: func() Body { return new(ReadingMarked) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
	{Name: KindRunTimed, New: func() Body { return new(RunTimed) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
	{Name: KindRunMarked, New: func() Body { return new(RunMarked) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
	{Name: KindSetupChosen, New: func() Body { return new(SetupChosen) }, Subject: SubjectVisit, Amendable: true, Roles: clinicians},
	{Name: KindPlanAgreed, New: func() Body { return new(PlanAgreed) }, Subject: SubjectVisit, Amendable: true, Roles: clinicians},
	{Name: KindOverrideMade, New: func() Body { return new(OverrideMade) }, Subject: SubjectVisit, Amendable: true, Roles: clinicians},
	{Name: KindVisitSigned, New: func() Body { return new(VisitSigned) }, Subject: SubjectVisit, Roles: clinicians},
	{Name: KindAmendmentMade, New: func() Body { return new(AmendmentMade) }, Subject: SubjectVisit, Roles: clinicians},
	{Name: KindControlListed, New: func() Body { return new(ControlListed) }, Subject: SubjectControl, Roles: leads},
	{Name: KindKitPacked, New: func() Body { return new(KitPacked) }, Subject: SubjectVisit, Amendable: true, Roles: clinicians},
	{Name: KindNeedsNoted, New: func() Body { return new(NeedsNoted) }, Subject: SubjectVisit, Amendable: true, Roles: clinicians},
	{Name: KindNeedsUnset, New: func() Body { return new(NeedsUnset) }, Subject: SubjectVisit, Amendable: true, Roles: clinicians},
	{Name: KindChairMeasured, New: func() Body { return new(ChairMeasured) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
	{Name: KindPlaceMeasured, New: func() Body { return new(PlaceMeasured) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
	{Name: KindSettingChanged, New: func() Body { return new(SettingChanged) }, Subject: SubjectVisit, Amendable: true, Roles: clinicians},
	{Name: KindSettingTried, New: func() Body { return new(SettingTried) }, Subject: SubjectVisit, Amendable: true, Roles: clinicians},
	{Name: KindMountNoted, New: func() Body { return new(MountNoted) }, Subject: SubjectVisit, Amendable: true, Roles: everyone},
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

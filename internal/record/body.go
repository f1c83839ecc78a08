package record

import "encoding/json"

// Body is the typed body of an event, always a pointer to the struct that the
// event's Kind names.
type Body interface {
	// field reads the value of one key.
	field(s *scan, key []byte) *Refusal
	// check refuses what can not be, without knowing checklist or log.
	check() *Refusal
}

// newBody makes an empty body of a kind, nil for an unknown kind.
func newBody(kind string) Body {
	switch kind {
	case KindAnswerGiven:
		return new(AnswerGiven)
	case KindReadingTaken:
		return new(ReadingTaken)
	case KindClientOpened:
		return new(ClientOpened)
	case KindClientChanged:
		return new(ClientChanged)
	case KindClientAssigned:
		return new(ClientAssigned)
	case KindVisitStarted:
		return new(VisitStarted)
	case KindVisitNoted:
		return new(VisitNoted)
	case KindAnswerChosen:
		return new(AnswerChosen)
	case KindReadingMarked:
		return new(ReadingMarked)
	case KindRunTimed:
		return new(RunTimed)
	case KindRunMarked:
		return new(RunMarked)
	case KindSetupChosen:
		return new(SetupChosen)
	case KindPlanAgreed:
		return new(PlanAgreed)
	case KindOverrideMade:
		return new(OverrideMade)
	case KindVisitSigned:
		return new(VisitSigned)
	case KindAmendmentMade:
		return new(AmendmentMade)
	}
	return newKitBody(kind)
}

// newKitBody makes an empty body of a kind about the kit, the home or the
// settings.
func newKitBody(kind string) Body {
	switch kind {
	case KindControlListed:
		return new(ControlListed)
	case KindKitPacked:
		return new(KitPacked)
	case KindNeedsNoted:
		return new(NeedsNoted)
	case KindNeedsUnset:
		return new(NeedsUnset)
	case KindChairMeasured:
		return new(ChairMeasured)
	case KindPlaceMeasured:
		return new(PlaceMeasured)
	case KindSettingChanged:
		return new(SettingChanged)
	case KindSettingTried:
		return new(SettingTried)
	case KindMountNoted:
		return new(MountNoted)
	}
	return nil
}

// Known says whether this version can read the event's body. An event of an
// unknown kind or a later schema is kept and counted, not refused.
func (e *Event) Known() bool {
	return e.Schema >= SchemaOldest && e.Schema <= SchemaNow && newBody(e.Kind) != nil
}

// ReadBody reads and checks the body: types, words from lists, units, ranges
// and dates. Fields that it does not know are passed over. It returns nil and
// no error for an event that is not Known because it is newer. The error is a
// *Refusal.
func ReadBody(e *Event) (Body, error) {
	if e.Schema < SchemaOldest {
		return nil, &Refusal{Code: CodeTooOld, Field: "schema", Want: "an event of a newer version of the app"}
	}
	if e.Schema > SchemaNow {
		return nil, nil
	}
	body, bad := readKind(e.Kind, e.Body)
	if bad != nil {
		return nil, bad.within("body")
	}
	return body, nil
}

// CheckBody says whether ReadBody would return the body.
func CheckBody(e Event) error {
	_, err := ReadBody(&e)
	return err
}

func readKind(kind string, raw json.RawMessage) (Body, *Refusal) {
	body := newBody(kind)
	if body == nil {
		return nil, nil
	}
	s := scan{b: raw}
	bad := s.object(func(key []byte) *Refusal { return body.field(&s, key) })
	if bad == nil {
		bad = s.end()
	}
	if bad == nil {
		bad = body.check()
	}
	if bad != nil {
		return nil, bad
	}
	return body, nil
}

// amendable says whether an amendment may carry a kind.
func amendable(kind string) bool {
	switch kind {
	case KindVisitNoted, KindAnswerGiven, KindAnswerChosen, KindReadingTaken, KindReadingMarked,
		KindRunTimed, KindRunMarked, KindSetupChosen, KindPlanAgreed, KindOverrideMade,
		KindKitPacked, KindNeedsNoted, KindNeedsUnset, KindChairMeasured, KindPlaceMeasured,
		KindSettingChanged, KindSettingTried, KindMountNoted:
		return true
	}
	return false
}

// Inner reads the change that an amendment carries.
func (a *AmendmentMade) Inner() (Body, error) {
	body, bad := readKind(a.Kind, a.Change)
	if bad != nil {
		return nil, bad.within("change")
	}
	return body, nil
}

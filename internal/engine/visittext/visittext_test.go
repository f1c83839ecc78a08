package visittext_test

import (
	"slices"
	"strings"
	"testing"

	"doorsill/internal/engine/strength"
	"doorsill/internal/engine/visittext"
	"doorsill/internal/model"
)

func ptr(x float64) *float64 { return &x }

func TestEncode(t *testing.T) {
	v := model.Visit{
		Setup: &model.Setup{SetupChosen: model.SetupChosen{Class: "small", Site: "chin", StartGF: 20, OperateGF: 50.5, TravelMM: 6,
			Throw: map[string]float64{"left": 60}, Needed: []string{"forward", "left"}}},
		Answers: []model.Answer{
			{Item: "hom-door", Heads: []model.Given{
				{AnswerGiven: model.AnswerGiven{Item: "hom-door", State: "answered", Number: ptr(-12.5), Note: "a\tnote"}},
				{AnswerGiven: model.AnswerGiven{Item: "hom-door", State: "not-tested"}}}},
			{Item: "mnt-power", Heads: []model.Given{{AnswerGiven: model.AnswerGiven{Item: "mnt-power", State: "answered", Level: "1",
				Facts: map[string]bool{"zebra": false, "ape": true}}}}},
			{Item: "per-sides", Heads: []model.Given{{AnswerGiven: model.AnswerGiven{Item: "per-sides", State: "answered", Left: ptr(5), Right: ptr(0)}}}},
			{Item: "out-up", Heads: []model.Given{{AnswerGiven: model.AnswerGiven{Item: "out-up", State: "not-applicable", Reason: "no ramp"}}}},
		},
		Readings: []model.Reading{
			{ReadingTaken: model.ReadingTaken{What: "force", Site: "chin", Direction: "left", State: "tired", Supported: true, Value: 0.30000000000000004, Unit: "N"}},
			{ReadingTaken: model.ReadingTaken{What: "force", Site: "chin", Direction: "left", State: "rested", Value: 900, Unit: "gf"}, Slip: "pushed"},
			{ReadingTaken: model.ReadingTaken{What: "release", Site: "chin", State: "rested", Unit: "s", Missed: true}},
		},
		Runs: []model.Run{
			{RunTimed: model.RunTimed{Place: "rough", State: "rested", Seconds: 60, Metres: 24, Things: 1, People: 2, Prompts: 3, Rescues: 4, Unmeant: 5, Presses: 6}},
			{RunTimed: model.RunTimed{Place: "indoors", State: "rested", Seconds: 600, Metres: 50, People: 1}, Slip: "saved twice"},
		},
		Override: &model.Override{OverrideMade: model.OverrideMade{Level: "pause", Reason: "other", Text: "  zwölf Worte ", Agreed: " \n", From: "1970-01-02", Until: ""}},
	}
	want := strings.Join([]string{
		"doorsill-visit\t1",
		"setup\tsmall\tchin\t20\t50.5\t6\t100\t100\t60\t100\tforward,left\t0",
		"item\thom-door\tanswered\t-12.5\t-",
		"item\thom-door\tnot-tested\t-\t-",
		"item\tmnt-power\tanswered\t1\tape=1,zebra=0",
		"item\tper-sides\tanswered\t5/0\t-",
		"item\tout-up\tnot-applicable\t-\t-",
		"reading\tforce\tchin\tleft\ttired\t1\t0.30000000000000004\tN\t0",
		"reading\trelease\tchin\t-\trested\t0\t0\ts\t1",
		"run\trough\trested\t60\t24\t1\t2\t3\t4\t5\t6",
		"override\tpause\tother\t11\t0\t0\t1\t-1",
		"",
	}, "\n")
	if got := string(visittext.Encode(v)); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// TestADamagedRecordCannotForgeAField: a TAB or a line end in an id does not
// become a field or a line of its own.
func TestADamagedRecordCannotForgeAField(t *testing.T) {
	v := model.Visit{Setup: &model.Setup{SetupChosen: model.SetupChosen{Class: "small\nitem\tmnt-stop\tanswered\tyes\t-"}}}
	if got := string(visittext.Encode(v)); strings.Count(got, "\n") != 2 || strings.Contains(got, "mnt-stop\t") {
		t.Errorf("got\n%s", got)
	}
}

// TestTheEngineKnowsEveryIDOfTheRecord: sites and control classes are listed in
// both, because the engine may not import the record.
func TestTheEngineKnowsEveryIDOfTheRecord(t *testing.T) {
	for _, site := range model.Sites() {
		if strength.PartOf(site) == strength.UnknownPart {
			t.Errorf("the engine does not know site %s", site)
		}
	}
	for _, site := range []string{"", "nose", "head", "cheek", "chin-left", "hand", "tongue-right", "-left"} {
		if strength.PartOf(site) != strength.UnknownPart {
			t.Errorf("the engine takes %q for a site", site)
		}
	}
	for _, class := range model.Classes() {
		if !strength.KnownClass(class) {
			t.Errorf("the engine does not know class %s", class)
		}
	}
	for _, c := range strength.Classes() {
		if !slices.Contains(model.Classes(), c.ID) {
			t.Errorf("the record does not know class %s", c.ID)
		}
	}
	for _, unit := range model.ForceUnits() {
		if _, err := strength.ToGF(1, unit); err != nil {
			t.Errorf("the engine does not know unit %s", unit)
		}
	}
	for _, id := range model.Directions() {
		if _, ok := strength.DirectionOf(id); !ok {
			t.Errorf("the engine does not know direction %s", id)
		}
	}
}

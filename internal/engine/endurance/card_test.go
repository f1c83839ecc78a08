package endurance_test

import (
	"math"
	"strings"
	"testing"

	"doorsill/internal/engine/endurance"
	"doorsill/internal/engine/provenance"
)

func row(t *testing.T, c endurance.Card, id string) endurance.CardRow {
	t.Helper()
	for _, r := range c.Rows {
		if r.ID == id {
			return r
		}
	}
	t.Fatalf("the card has no row %q", id)
	return endurance.CardRow{}
}

func TestTheCardSaysThatThereIsNoIndex(t *testing.T) {
	card, err := endurance.ExposureCard(endurance.Exposure{Site: "chin", CommandsPerDay: 2400, HoursPerDay: 8,
		Share: 0.2, Pain: 7, Posture: endurance.ExtremePosture, Signs: endurance.SignsOfStrain})
	if err != nil {
		t.Fatal(err)
	}
	if say := english.Text(&card.NoIndex); !strings.Contains(say, "No validated figure of strain exists") {
		t.Errorf("the card says %q", say)
	}
	if got := row(t, card, "commands-a-minute").Value; got != 5 {
		t.Errorf("2400 commands in 8 h are %v a minute, want 5", got)
	}
	if card.Raised != 5 || card.Missing != 0 {
		t.Errorf("%d rows raised, %d missing; want 5 and 0", card.Raised, card.Missing)
	}
	if say := row(t, card, "pain").Say; say.Code != "endurance.pain-refer" {
		t.Errorf("pain of 7 says %v", &say)
	}
}

func TestTheCardKeepsWhatNobodyMeasured(t *testing.T) {
	none := provenance.NotMeasured()
	card, err := endurance.ExposureCard(endurance.Exposure{Site: "head-left", CommandsPerDay: none, HoursPerDay: 8, Share: none, Pain: none})
	if err != nil {
		t.Fatal(err)
	}
	if card.Missing != 6 || card.Raised != 0 {
		t.Errorf("%d rows missing and %d raised, want 6 and 0", card.Missing, card.Raised)
	}
	if say := row(t, card, "share-of-strength").Say; say.Code != "endurance.no-share-of-strength" {
		t.Errorf("a missing share says %v", &say)
	}
}

// TestSignsAreSaidAsTheyWereAnswered: nobody who was not asked has no signs.
func TestSignsAreSaidAsTheyWereAnswered(t *testing.T) {
	for signs, want := range map[endurance.Signs]string{
		endurance.UnknownSigns:  "Nobody asked about signs of strain.",
		endurance.NoSigns:       "No signs of strain in the past four weeks.",
		endurance.TiredFeeling:  "A tired feeling in the past four weeks, gone by the next morning.",
		endurance.SignsOfStrain: "Signs of strain in the past four weeks.",
	} {
		card, err := endurance.ExposureCard(endurance.Exposure{Site: "chin", CommandsPerDay: 100, HoursPerDay: 2, Share: 0.1, Pain: 0, Signs: signs})
		if err != nil {
			t.Fatal(err)
		}
		got := row(t, card, "signs-of-strain")
		if say := english.Text(&got.Say); say != want || got.Raised != (signs == endurance.SignsOfStrain) || got.Measured == (signs == endurance.UnknownSigns) {
			t.Errorf("%q: %q, measured %v, raised %v; want %q", signs, say, got.Measured, got.Raised, want)
		}
	}
}

func TestTheCardRefusesWhatCannotBe(t *testing.T) {
	good := endurance.Exposure{Site: "chin", CommandsPerDay: 100, HoursPerDay: 2, Share: 0.1, Pain: 0, Posture: endurance.NeutralPosture}
	for _, c := range []struct {
		field, words string
		change       func(*endurance.Exposure)
	}{
		{"site", "site", func(e *endurance.Exposure) { e.Site = "thumb-left" }},
		{"commands-a-day", "commands a day", func(e *endurance.Exposure) { e.CommandsPerDay = -1 }},
		{"hours-of-driving", "hours of driving a day", func(e *endurance.Exposure) { e.HoursPerDay = 0 }},
		{"share-of-strength", "share of strength", func(e *endurance.Exposure) { e.Share = math.Inf(1) }},
		{"pain", "pain", func(e *endurance.Exposure) { e.Pain = 11 }},
		{"posture", "posture", func(e *endurance.Exposure) { e.Posture = "bent" }},
	} {
		e := good
		c.change(&e)
		_, err := endurance.ExposureCard(e)
		refused(t, c.field, err, c.field, c.words)
	}
}

func TestTheDateOfTheNextLook(t *testing.T) {
	none := provenance.NotMeasured()
	for _, c := range []struct {
		name  string
		watch endurance.Watch
		weeks int
		refer bool
		first string
	}{
		{"hand, stable", endurance.Watch{Course: "stable", Site: "hand-left"}, 12, false, "stable"},
		{"thumb, stable", endurance.Watch{Course: "stable", Site: "thumb-left"}, 6, false, "small-movement"},
		{"chin, stable", endurance.Watch{Course: "stable", Site: "chin"}, 6, false, "small-movement"},
		{"hand, slow", endurance.Watch{Course: "slow", Site: "hand-left"}, 8, false, "slow"},
		{"hand, fast", endurance.Watch{Course: "fast", Site: "hand-left"}, 4, false, "fast"},
		{"hand, comes and goes", endurance.Watch{Course: "fluctuating", Site: "hand-left"}, 6, false, "fluctuating"},
		{"course not known", endurance.Watch{Site: "hand-left"}, 4, false, "course-unknown"},
		{"pain not asked", endurance.Watch{Course: "stable", Site: "hand-left", Pain: none}, 4, false, "pain-unasked"},
		{"pain 4", endurance.Watch{Course: "stable", Site: "hand-left", Pain: 4}, 2, false, "pain"},
		{"pain 7", endurance.Watch{Course: "stable", Site: "hand-left", Pain: 7}, 2, true, "pain-refer"},
		{"signs", endurance.Watch{Course: "stable", Site: "chin", Signs: endurance.SignsOfStrain}, 2, false, "signs"},
		{"signs not asked", endurance.Watch{Course: "stable", Site: "chin"}, 4, false, "signs-unasked"},
		{"a tired feeling", endurance.Watch{Course: "stable", Site: "chin", Signs: endurance.TiredFeeling}, 6, false, "small-movement"},
		{"raised", endurance.Watch{Course: "stable", Site: "chin", Raised: true}, 4, false, "raised"},
		{"force open", endurance.Watch{Course: "stable", Site: "hand-left", ForceOpen: true}, 4, false, "force-open"},
		{"runs out", endurance.Watch{Course: "slow", Site: "hand-left", RunsOut: true}, 4, false, "forecast"},
	} {
		if c.watch.Signs == endurance.UnknownSigns && c.first != "signs-unasked" {
			c.watch.Signs = endurance.NoSigns
		}
		got := endurance.RecheckIn(c.watch)
		if got.Weeks != c.weeks || got.Refer != c.refer {
			t.Errorf("%s: in %d weeks, refer %v; want %d, %v", c.name, got.Weeks, got.Refer, c.weeks, c.refer)
		}
		if got.Reasons[0].Weeks != got.Weeks || got.Reasons[0].Say.Code != "endurance.recheck-"+c.first {
			t.Errorf("%s: the first reason is %+v, want %s", c.name, got.Reasons[0], c.first)
		}
	}
}

func TestEveryThresholdSaysWhereItComesFrom(t *testing.T) {
	seen := map[string]bool{}
	endurance.EachThreshold(func(th *provenance.Threshold) {
		if th.ID == "" || seen[th.ID] || th.Value == 0 || th.Source.Empty() || th.Status == "" {
			t.Errorf("threshold %+v is incomplete or doubled", th)
		}
		seen[th.ID] = true
	})
}

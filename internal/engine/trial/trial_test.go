package trial_test

import (
	"testing"

	"doorsill/internal/engine/trial"
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
)

// said words a message.
func said(m message.Message) string { return phrase.NewWriter(phrase.English(), nil).Text(&m) }

func driven(runs ...model.RunTimed) []model.Run {
	list := make([]model.Run, len(runs))
	for i := range runs {
		list[i].RunTimed = runs[i]
	}
	return list
}

func TestRates(t *testing.T) {
	f := trial.Sum(driven(
		model.RunTimed{Place: "indoors", Seconds: 400, Metres: 80, Things: 2, Prompts: 3, Presses: 1},
		model.RunTimed{Place: "indoors", State: "tired", Seconds: 500, Metres: 45, People: 1, Rescues: 1},
		model.RunTimed{Place: "outdoors", Seconds: 300, Metres: 100, Things: 9, Prompts: 9, Rescues: 1},
		model.RunTimed{Place: "rough", Seconds: 60, Metres: 25, Unmeant: 2, Rescues: 1},
	))
	for name, c := range map[string]struct{ got, want string }{
		"things indoors, 2 in 125 m":            {f.Contacts.Value.Text(), "0.8"},
		"prompts indoors, 3 in 900 s":           {f.Prompts.Value.Text(), "2"},
		"rescues anywhere":                      {f.Rescues.Value.Text(), "3"},
		"presses in all runs, 1 in 1260 s":      {f.Presses.Value.Text(), "0.47619"},
		"unmeant on rough ground, 2 in 25 m":    {f.Rough.Value.Text(), "1.6"},
		"the sentence rounds to the worse side": {said(f.Presses.Say), "1 switch press that was not meant in 21 min in all runs, 0.5 per 10 min."},
	} {
		if c.got != c.want {
			t.Errorf("%s: %s, want %s", name, c.got, c.want)
		}
	}
	if !f.PersonContact || f.Drives != 3 || f.Tired != 1 {
		t.Errorf("person %v, drives %d, tired %d; want true, 3, 1", f.PersonContact, f.Drives, f.Tired)
	}
}

func TestARunThatWasSetAsideDoesNotCount(t *testing.T) {
	runs := driven(model.RunTimed{Place: "indoors", State: "tired", Seconds: 400, Metres: 80, People: 1, Rescues: 2})
	runs[0].Slip = "Saved twice."
	if f := trial.Sum(runs); f.Contacts.Has() || f.Rescues.Has() || f.PersonContact || f.Drives != 0 || f.Tired != 0 {
		t.Errorf("%+v", f)
	}
}

func TestTooLittleDrivingMakesNoRate(t *testing.T) {
	f := trial.Sum(driven(model.RunTimed{Place: "indoors", Seconds: 120, Metres: 49, Things: 1}))
	if !f.Contacts.Thin || f.Contacts.Value.Text() != "1" || f.Contacts.Word() != "missing" {
		t.Errorf("49 m: thin %v, %s", f.Contacts.Thin, said(f.Contacts.Say))
	}
	if f = trial.Sum(driven(model.RunTimed{Place: "indoors", Seconds: 120, Metres: 50, Things: 1})); f.Contacts.Thin {
		t.Error("50 m should be enough for a rate per 50 m")
	}
	if f = trial.Sum(nil); f.Rescues.Has() || f.Contacts.Has() || f.Drives != 0 {
		t.Error("no run, and yet a figure")
	}
}

func TestSentencesOfTheTrial(t *testing.T) {
	none := trial.Sum(nil)
	short := trial.Sum(driven(model.RunTimed{Place: "rough", Seconds: 20, Metres: 4, Unmeant: 1}))
	almost := trial.Sum(driven(model.RunTimed{Place: "indoors", Seconds: 599, Metres: 4}))
	helped := trial.Sum(driven(model.RunTimed{Place: "indoors", Seconds: 800, Metres: 80, Things: 2, Prompts: 6, Rescues: 2}))
	for want, got := range map[string]message.Message{
		"Nothing driven indoors yet; drive at least 50 m.":                                                                         none.Contacts.Say,
		"Nothing driven yet; drive at least 10 min.":                                                                               none.Presses.Say,
		"Nothing driven on rough ground yet; drive at least 20 m.":                                                                 helped.Rough.Say,
		"1 command that was not meant in 4 m on rough ground. That is too little to say how often; drive at least 20 m.":           short.Rough.Say,
		"0 switch presses that were not meant in 9.9 min in all runs. That is too little to say how often; drive at least 10 min.": almost.Presses.Say,
		"2 contacts with things in 80 m indoors, 1.3 per 50 m.":                                                                    helped.Contacts.Say,
		"6 prompts in 13.3 min indoors, 4.5 per 10 min.":                                                                           helped.Prompts.Say,
		"No run driven yet.": none.Rescues.Say,
		"Someone took over or used the stop twice, counting every run.": helped.Rescues.Say,
	} {
		if said(got) != want {
			t.Errorf("%q, want %q", said(got), want)
		}
	}
}

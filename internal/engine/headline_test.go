package engine_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/phrase"
)

// jargon is what no plain sentence holds: codes of effects and conditions, ids,
// and the trade's names of figures. Aloud no figure is said either.
var (
	jargon     = regexp.MustCompile(`\b(STOP|LIMIT|STOP-\w+|reserve|verdict|gates?|not feasible|marginal|feasible|throw)\b|[{}]|\b[a-z]{3}-[a-z]+\b`)
	figureSaid = regexp.MustCompile(`[0-9]|\bgf\b`)
)

// mustDecide are the conditions and rules of which at least one random visit has
// its headline read.
var mustDecide = []string{
	"stop headline.answer", "stop-control headline.answer", "stop-control headline.force", "stop-control headline.switch", "stop-shown",
	"before-moving", "stops-answered", "control-chosen", "limit-practise headline.answer", "limit-accompanied trial.rescues",
	"control access.grading", "control-known access.mode-open", "force-readings", "top",
}

// met reports whether each condition of mustDecide has decided a visit.
func met(seen map[string]string) bool {
	return !slices.ContainsFunc(mustDecide, func(key string) bool { return seen[key] == "" })
}

// allHeadlines is how many random visits have their headline read, and more where
// these do not meet every condition of mustDecide.
const allHeadlines = 4000

// plainWords are hyphened words that are no ids.
var plainWords = strings.NewReplacer("cut-outs", "", "two-way", "", "one-way", "")

// TestTheHeadlineIsPlainWhateverDecides: why the level is not higher is said in
// words for each condition and each rule that can decide, and to the client
// without a figure.
func TestTheHeadlineIsPlainWhateverDecides(t *testing.T) {
	list := authoring.Standard()
	scorer, words := engine.New(list), phrase.NewWriter(phrase.English(), list)
	seen := map[string]string{}
	// Another item or rule gives other random visits, so that a rare condition may
	// be met later.
	for seed := uint64(0); seed < headlines || headlines == allHeadlines && seed < 10*headlines && !met(seen); seed++ {
		visit := randomVisit(seed)
		result, err := scorer.Score(&visit)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		headline, aloud := words.Text(&result.Headline), words.Text(&result.Aloud)
		key := why(&result)
		seen[key] = headline + " | " + aloud
		if found := jargon.FindString(plainWords.Replace(headline + " " + aloud)); found != "" {
			t.Errorf("seed %d, %s: %q stands in %q", seed, key, found, headline+" | "+aloud)
		}
		if figureSaid.MatchString(aloud) && result.Aloud.Code != "aloud.section" {
			t.Errorf("seed %d, %s: a figure is read aloud: %q", seed, key, aloud)
		}
		if n := len(headline); n < 20 || n > 400 || !strings.HasSuffix(headline, ".") {
			t.Errorf("seed %d, %s: %q is no sentence to read", seed, key, headline)
		}
	}
	if headlines < allHeadlines {
		return // too few to meet every condition
	}
	for _, key := range mustDecide {
		if seen[key] == "" {
			t.Errorf("no random visit was decided by %q, so that its headline was not read: nothing decides by it any more, or randomVisit must come to it more often", key)
		}
	}
	if testing.Verbose() {
		for key, text := range seen {
			t.Logf("%s: %s", key, text)
		}
	}
}

// TestTheHeadlineNamesTheFactThatDecides: no contacts with things, or a gentle
// ramp, is not what holds a level down where contact with a person, or a question
// that is open, does.
func TestTheHeadlineNamesTheFactThatDecides(t *testing.T) {
	scorer, met := engine.New(authoring.Standard()), map[string]int{}
	for seed := range uint64(400) {
		visit := randomVisit(seed)
		result, err := scorer.Score(&visit)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		effect, limited := strings.CutPrefix(strings.Fields(why(&result))[0], "limit-")
		first := slices.IndexFunc(result.Effects, func(e model.RaisedEffect) bool { return e.Effect == "limit:"+effect })
		if !limited || first < 0 {
			continue
		}
		switch say := result.Effects[first].Message.Code; say {
		case "readiness.raised-with", "readiness.raised-assumed":
			met[say]++
			if result.Headline.Code != say {
				t.Errorf("seed %d: %s decides by %s, and the headline is %s", seed, result.Effects[first].Item, say, result.Headline.Code)
			}
		}
	}
	if len(met) == 0 {
		t.Fatal("no visit was decided by a fact")
	}
	t.Log(met)
}

// why names what decided.
func why(result *model.Result) string {
	for i := range result.Gates {
		g := &result.Gates[i]
		if g.Met {
			continue
		}
		found := ""
		if arg := result.Headline.Arg("found"); arg != nil {
			found = " " + arg.Messages[0].Code
		}
		return g.Code + found
	}
	return "top"
}

// TestEveryConditionAndRuleIsSaidAloud: an id without an entry would be read out
// as it is.
func TestEveryConditionAndRuleIsSaidAloud(t *testing.T) {
	list := authoring.Standard()
	scorer, words := engine.New(list), phrase.NewWriter(phrase.English(), list)
	said := map[string]bool{}
	for seed := range uint64(400) {
		visit := randomVisit(seed)
		result, err := scorer.Score(&visit)
		if err != nil {
			t.Fatal(err)
		}
		for _, gate := range result.Gates {
			if !strings.HasPrefix(gate.Code, "score-") {
				said[gate.Code] = true
			}
		}
		for _, reason := range result.Reasons {
			said[reason.Rule] = true
		}
	}
	if len(said) < 30 {
		t.Fatalf("only %d conditions and rules were met, want nearly all", len(said))
	}
	// These stand for others: the rule that decides, or what is open.
	for _, id := range []string{"control", "control-known", "control-feasible", "control-outdoors", "control-chosen", "before-moving", "stops-answered"} {
		delete(said, id)
	}
	for id := range said {
		m := message.New("aloud.why", message.Word("why", id))
		if words.Text(&m) == id {
			t.Errorf("nothing is said aloud of %s", id)
		}
	}
}

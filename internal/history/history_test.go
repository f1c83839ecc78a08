package history

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// story builds a history by hand. What is added follows what was added before,
// unless together says otherwise.
type story struct {
	Recorder
	begun int64
}

func newStory() *story { return &story{} }

// line is an event of a tablet about a client of team north.
func line(tablet string, n int64) string {
	kind, body := "client-changed", `{"fields":{"name":"Invented & co"}}`
	if n == 1 {
		kind, body = "client-opened", `{"team":"north","name":"Invented & co"}`
	}
	return fmt.Sprintf(`{"tablet":%q,"n":%d,"kind":%q,"subject":"c-%s","body":%s}`, tablet, n, kind, tablet, body)
}

// add takes an exchange as one that began when begin was called last, or now.
func (s *story) add(e Exchange) *story {
	e.Begin, s.begun = s.begun, 0
	if e.Begin == 0 {
		e.Begin = s.Begin()
	}
	if e.Status != 0 {
		e.Type = "application/json"
		sum := sha256.Sum256([]byte(e.Answer))
		e.Sum = hex.EncodeToString(sum[:])
	}
	s.Add(e)
	return s
}

// began has the next exchange begin now, so that it spans what is put before it.
func (s *story) began() int64 { return s.Begin() }

// push sends lines from a number on and gets a verdict for each: a position,
// "known" with one, or "aside".
func (s *story) push(tablet, log string, from int64, lines []string, ack int64, verdicts ...string) *story {
	body := fmt.Sprintf(`{"log":%q,"tablet":%q,"from":%d,"count":%d}`, log, tablet, from, len(lines)) + "\n" + strings.Join(lines, "\n") + "\n"
	said := pushAnswer{Log: "l1", Ack: ack}
	if log != "" {
		said.Log = log
	}
	for i, v := range verdicts {
		one := verdict{N: from + int64(i), Verdict: verdictStored}
		if known, is := strings.CutPrefix(v, "known "); is {
			one.Verdict, v = verdictKnown, known
		}
		if v == "aside" {
			one.Verdict = verdictQuarantined
		} else if _, err := fmt.Sscan(v, &one.Pos); err != nil {
			panic(err)
		}
		said.Verdicts = append(said.Verdicts, one)
	}
	return s.add(Exchange{Client: tablet, Method: "POST", Path: "/api/v1/events", Body: body, Status: 200, Answer: written(said)})
}

// refused is a push that got a 409.
func (s *story) refused(tablet, log string, from int64, answer string) *story {
	body := fmt.Sprintf(`{"log":%q,"tablet":%q,"from":%d,"count":1}`, log, tablet, from) + "\n" + line(tablet, from) + "\n"
	return s.add(Exchange{Client: tablet, Method: "POST", Path: "/api/v1/events", Body: body, Status: 409, Answer: answer})
}

// pull gives what lies at positions, by "position ref" pairs, to the cursor
// next; a next that is less than the head says that there is more.
func (s *story) pull(client, log string, after, next, head int64, events ...string) *story {
	p := map[string]any{"log": log, "next": next, "head": head, "more": next < head}
	list := []any{}
	for _, one := range events {
		var pos, n int64
		var tablet string
		if _, err := fmt.Sscan(one, &pos, &tablet, &n); err != nil {
			panic(err)
		}
		list = append(list, map[string]any{"pos": pos, "raw": json.RawMessage(line(tablet, n))})
	}
	p["events"] = list
	return s.add(Exchange{Client: client, Method: "GET", Path: fmt.Sprintf("/api/v1/teams/north/events?log=%s&after=%d&limit=1000", log, after), Status: 200, Answer: written(p)})
}

func (s *story) cursor(client, log string, after int64) *story {
	s.Add(Exchange{Client: client, Cursor: &Cursor{Log: log, Team: "north", After: after}})
	return s
}

func written(v any) string {
	data, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return string(data)
}

func lines(tablet string, from, to int64) (list []string) {
	for n := from; n <= to; n++ {
		list = append(list, line(tablet, n))
	}
	return list
}

// began is the beginning of most stories: a has said three things, which have
// positions 1 to 3, and b has pulled two of them.
func began() *story {
	return newStory().
		push("a", "", 1, lines("a", 1, 3), 3, "1", "2", "3").
		pull("b", "l1", 0, 2, 3, "1 a 1", "2 a 2").cursor("b", "l1", 2)
}

func TestHonestHistories(t *testing.T) {
	everybody := Settled{Tablets: []string{"a", "b"}, Clients: []string{"a", "b"}}
	for name, s := range map[string]*story{
		"plain": began().pull("b", "l1", 2, 3, 3, "3 a 3").cursor("b", "l1", 3).pull("a", "l1", 0, 3, 3, "1 a 1", "2 a 2", "3 a 3"),
		"a push again after a lost answer": began().push("a", "l1", 2, lines("a", 2, 4), 4, "known 2", "known 3", "4").
			pull("b", "l1", 2, 4, 4, "3 a 3", "4 a 4"),
		"a page again after a crash": began().pull("b", "l1", 0, 2, 3, "1 a 1", "2 a 2").pull("b", "l1", 2, 3, 3, "3 a 3"),
		"something set aside":        began().push("a", "l1", 4, lines("a", 4, 4), 4, "aside").pull("b", "l1", 2, 3, 3, "3 a 3"),
		"a push while another is pulled": func() *story {
			s := began()
			begin := s.began()
			s.push("a", "l1", 4, lines("a", 4, 4), 4, "4")
			s.begun = begin
			return s.pull("b", "l1", 2, 3, 3, "3 a 3").pull("b", "l1", 3, 4, 4, "4 a 4")
		}(),
		"a proxy gives what it kept before the client could ask": func() *story {
			s := began()
			begin := s.began()
			s.pull("c", "l1", 0, 2, 3, "1 a 1", "2 a 2").cursor("c", "l1", 2)
			s.begun = begin
			return s.pull("c", "l1", 2, 3, 3, "3 a 3").pull("b", "l1", 2, 3, 3, "3 a 3")
		}(),
		"a restore, and everything comes again": began().pull("b", "l1", 2, 3, 3, "3 a 3").
			refused("a", "l1", 4, `{"error":"log","log":"l2"}`).push("a", "l2", 1, lines("a", 1, 4), 4, "known 1", "2", "3", "4").
			pull("b", "l2", 0, 4, 4, "1 a 1", "2 a 2", "3 a 3", "4 a 4").cursor("b", "l2", 4),
		"a device is copied, and another put back": func() *story {
			s := began()
			s.Add(Exchange{Client: "c", CopyOf: "b"})
			s.pull("c", "l1", 2, 3, 3, "3 a 3").pull("b", "l1", 2, 3, 3, "3 a 3").cursor("b", "l1", 3)
			s.Add(Exchange{Client: "b", CopyOf: "b"})
			return s.cursor("b", "l1", 2)
		}(),
		"a gap": began().refused("a", "l1", 9, `{"error":"gap","ack":3}`).pull("b", "l1", 2, 3, 3, "3 a 3"),
	} {
		if sum, found := Check(s.Exchanges(), everybody); len(found) != 0 || sum.Pushes == 0 || sum.Pulls == 0 || sum.Teamless != 0 {
			t.Errorf("%s: %+v %v", name, sum, found)
		}
	}
}

// TestATeamIsMissedWhereSomebodyPulled: a pull that lacks events can only be told by
// their team, and of a log that nobody pulled of there is nothing to tell.
func TestATeamIsMissedWhereSomebodyPulled(t *testing.T) {
	unknown := func() *story {
		return began().refused("a", "l1", 4, `{"error":"log","log":"l2"}`).push("a", "l2", 2, lines("a", 2, 2), 2, "1")
	}
	for want, s := range map[int]*story{0: unknown(), 1: unknown().pull("b", "l2", 0, 1, 1)} {
		if sum, _ := Check(s.Exchanges(), Settled{}); sum.Teamless != want {
			t.Errorf("got %d without a team, want %d", sum.Teamless, want)
		}
	}
}

// TestPlantedAnomalies plants one thing in each history that a server must
// never do.
func TestPlantedAnomalies(t *testing.T) {
	spoilt := func(old, new string) func(*story) *story {
		return func(s *story) *story {
			last := &s.list[len(s.list)-1]
			before := last.Answer
			last.Answer, last.Sum = strings.Replace(last.Answer, old, new, 1), ""
			if last.Answer == before {
				panic("nothing was planted: " + before)
			}
			return s
		}
	}
	for name, c := range map[string]struct {
		want string
		s    *story
		// rest says that everybody came to rest at the end.
		rest bool
	}{
		"an acknowledged event is in no later pull":      {Lost, began().pull("b", "l1", 2, 2, 2), false},
		"the end of a team comes too early":              {Lost, spoilt(`"more":true`, `"more":false`)(began().pull("b", "l1", 0, 2, 3, "1 a 1", "2 a 2")), false},
		"a receipt goes back":                            {Lost, began().push("a", "l1", 1, lines("a", 1, 2), 2, "known 1", "known 2"), false},
		"a gap is asked for again":                       {Lost, began().refused("a", "l1", 4, `{"error":"gap","ack":1}`), false},
		"an event comes again at another place":          {Twice, began().push("a", "l1", 3, lines("a", 3, 3), 3, "4"), false},
		"a pull gives one event at two places":           {Twice, began().pull("b", "l1", 2, 4, 4, "3 a 3", "4 a 2"), false},
		"a pull gives one position twice":                {Twice, began().pull("b", "l1", 0, 3, 3, "1 a 1", "2 a 2", "2 a 2", "3 a 3"), false},
		"a pull is in another order":                     {Reordered, began().pull("b", "l1", 0, 3, 3, "1 a 1", "3 a 3", "2 a 2"), false},
		"what came later lies before":                    {Reordered, newStory().pull("b", "l1", 0, 5, 5, "5 b 1").push("a", "l1", 1, lines("a", 1, 1), 1, "4"), false},
		"the first is stored after the second":           {Reordered, newStory().push("a", "l1", 1, lines("a", 1, 2), 2, "2", "1"), false},
		"two clients see two events at one place":        {Forked, began().pull("c", "l1", 0, 3, 3, "1 a 1", "2 b 2", "3 a 3"), false},
		"two receipts name one place":                    {Forked, began().push("b", "l1", 1, lines("b", 1, 1), 1, "3"), false},
		"an event has other bytes":                       {Changed, spoilt("Invented", "Altered")(began().pull("b", "l1", 2, 3, 3, "3 a 3")), false},
		"a cursor goes past an event":                    {Skipped, began().pull("b", "l1", 2, 3, 3), false},
		"a page leaves one out in the middle":            {Skipped, began().pull("c", "l1", 0, 3, 3, "1 a 1", "3 a 3"), false},
		"a client begins where nobody sent it":           {Skipped, began().pull("c", "l1", 1, 3, 3, "2 a 2", "3 a 3"), false},
		"a client stores a cursor that nobody gave":      {Skipped, began().cursor("b", "l1", 3), false},
		"a client's cursor goes back":                    {Back, began().cursor("b", "l1", 0), false},
		"an answer's cursor goes back":                   {Back, began().pull("b", "l1", 2, 1, 3), false},
		"a cursor goes one back":                         {Back, newStory().push("a", "", 1, lines("a", 1, 2), 2, "1", "2").pull("b", "l1", 0, 1, 2, "1 a 1").pull("b", "l1", 1, 2, 2, "2 a 2").cursor("b", "l1", 2).cursor("b", "l1", 1), false},
		"an answer's cursor is one past the head":        {Back, began().pull("b", "l1", 2, 4, 3, "3 a 3"), false},
		"a pull gives the one after its cursor":          {Reordered, began().pull("b", "l1", 2, 3, 4, "3 a 3", "4 a 4"), false},
		"a log comes back":                               {Back, began().push("b", "l2", 1, lines("b", 1, 1), 1, "1").push("a", "l1", 4, lines("a", 4, 4), 4, "4"), false},
		"a push is taken into another log unsaid":        {Unsaid, spoilt(`"l1"`, `"l2"`)(began().push("a", "l1", 4, lines("a", 4, 4), 4, "4")), false},
		"a pull is answered from another log unsaid":     {Unsaid, spoilt(`"l1"`, `"l2"`)(began().pull("b", "l1", 2, 3, 3, "3 a 3")), false},
		"what a restored server lost does not come":      {Lost, began().push("a", "l2", 1, lines("a", 1, 2), 2, "1", "2").pull("b", "l2", 0, 2, 2, "1 a 1", "2 a 2"), true},
		"what a restored server lost comes otherwise":    {Lost, began().push("a", "l2", 1, []string{line("a", 1), line("a", 2), `{"tablet":"a","n":3}`}, 3, "1", "2", "aside"), true},
		"a client that came to rest did not get the end": {Lost, began(), true},
		"a receipt acknowledges less than was sent":      {Receipt, began().push("a", "l1", 4, lines("a", 4, 5), 4, "4", "5"), false},
		"a verdict is missing":                           {Receipt, began().push("a", "l1", 4, lines("a", 4, 5), 5, "4"), false},
		"a verdict is about another event":               {Receipt, spoilt(`"N":4`, `"N":5`)(began().push("a", "l1", 4, lines("a", 4, 4), 4, "4")), false},
		"a stored event has no place":                    {Receipt, began().push("a", "l1", 4, lines("a", 4, 4), 4, "0"), false},
	} {
		settled := Settled{}
		if c.rest {
			settled = Settled{Tablets: []string{"a"}, Clients: []string{"b"}, FromFiles: map[string]bool{line("a", 2): true}}
		}
		_, found := Check(c.s.Exchanges(), settled)
		if !slices.ContainsFunc(found, func(a Anomaly) bool { return a.Code == c.want }) {
			t.Errorf("%s: found %v, want %s", name, found, c.want)
		}
	}
}

// TestWhatCameInAFile: a restored server gets it from the file again, and from no
// tablet; of what a tablet sent itself nothing may be missing.
func TestWhatCameInAFile(t *testing.T) {
	s := began().refused("a", "l1", 4, `{"error":"log","log":"l2"}`).push("a", "l2", 1, lines("a", 1, 2), 2, "1", "2")
	for n, want := range map[int64]string{3: "", 2: Lost} {
		settled := Settled{Tablets: []string{"a"}, FromFiles: map[string]bool{line("a", n): true}}
		_, found := Check(s.Exchanges(), settled)
		if len(found) > 1 || (want == "") != (len(found) == 0) || want != "" && found[0].Code != want {
			t.Errorf("event %d came in a file: found %v, want %q", n, found, want)
		}
	}
}

// TestWhatAClientDoesNotBelieve: an answer that was changed on its way, or is a
// network's own, is none.
func TestWhatAClientDoesNotBelieve(t *testing.T) {
	s := began().pull("b", "l1", 2, 2, 2)
	last := &s.list[len(s.list)-1]
	for _, spoil := range []func(){
		func() { last.Sum = strings.Repeat("0", 64) },
		func() { last.Sum, last.Type = "", "text/html" },
		func() { last.Type, last.Answer = "application/json", last.Answer[:20] },
	} {
		spoil()
		if sum, found := Check(s.Exchanges(), Settled{}); len(found) != 0 || sum.Pulls != 1 {
			t.Errorf("%+v %v", sum, found)
		}
	}
}

func TestHistoriesAreRead(t *testing.T) {
	s := began()
	var text bytes.Buffer
	for _, e := range s.Exchanges() {
		text.WriteString(written(e) + "\n")
	}
	list, err := Read(&text)
	if err != nil || len(list) != 3 || list[2].Cursor == nil || list[0].Body != s.list[0].Body {
		t.Errorf("%v %+v", err, list)
	}
	if _, err := Read(strings.NewReader("{}\nnot JSON\n")); err == nil || !strings.Contains(err.Error(), "line 2") {
		t.Errorf("%v", err)
	}
}

package history

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"net/url"
	"strconv"
	"strings"
)

// event is what the checker reads of an event.
type event struct {
	Tablet  string
	N       int64
	Kind    string
	Subject string
	Body    struct{ Team string }

	// raw is the line written in one way, without the space and the escapes that JSON
	// leaves open, so that lines can be compared.
	raw string
}

func (e *event) ref() string { return e.Tablet + ":" + strconv.FormatInt(e.N, 10) }

// team is the team that the event names which begins something of a team's.
func (e *event) team() string {
	switch e.Kind {
	case "client-opened", "visit-started", "control-listed":
		return e.Body.Team
	}
	return ""
}

// readEvent reads an event's line; what can not be read has its bytes only.
func readEvent(line []byte) event {
	var e event
	if json.Unmarshal(line, &e) != nil {
		return event{raw: string(line)}
	}
	var compact, out bytes.Buffer
	if json.Compact(&compact, line) == nil {
		json.HTMLEscape(&out, compact.Bytes())
	}
	e.raw = out.String()
	return e
}

// push is a push whose answer was believed.
type push struct {
	log, tablet string
	from        int64
	events      []event
	answer      pushAnswer
}

type pushAnswer struct {
	Error    string
	Log      string
	Ack      int64
	Verdicts []verdict
}

type verdict struct {
	N       int64
	Verdict string
	Pos     int64
}

const (
	verdictStored      = "stored"
	verdictKnown       = "known"
	verdictQuarantined = "quarantined"
)

// pull is a pull whose answer was believed.
type pull struct {
	log, team string
	after     int64
	answer    pullAnswer
	events    []event
}

type pullAnswer struct {
	Error  string
	Log    string
	Events []struct {
		Pos int64
		Raw json.RawMessage
	}
	Next, Head int64
	More       bool
}

// believed says whether the client took the answer for the server's.
func (e *Exchange) believed() bool {
	if e.Status == 0 || !strings.HasPrefix(e.Type, "application/json") || !json.Valid([]byte(e.Answer)) {
		return false
	}
	sum := sha256.Sum256([]byte(e.Answer))
	return e.Sum == "" || e.Sum == hex.EncodeToString(sum[:])
}

// push reads the exchange as a push; nil when it is none.
func (e *Exchange) push() *push {
	if e.Method != "POST" || e.Path != "/api/v1/events" {
		return nil
	}
	head, rest, _ := strings.Cut(e.Body, "\n")
	var said struct {
		Log, Tablet string
		From        int64
	}
	p := &push{}
	if json.Unmarshal([]byte(head), &said) != nil || json.Unmarshal([]byte(e.Answer), &p.answer) != nil {
		return nil
	}
	p.log, p.tablet, p.from = said.Log, said.Tablet, said.From
	for line := range strings.SplitSeq(strings.TrimSuffix(rest, "\n"), "\n") {
		p.events = append(p.events, readEvent([]byte(line)))
	}
	return p
}

// pull reads the exchange as a pull; nil when it is none.
func (e *Exchange) pull() *pull {
	at, err := url.Parse(e.Path)
	if err != nil || e.Method != "GET" {
		return nil
	}
	team, found := strings.CutPrefix(at.Path, "/api/v1/teams/")
	team, isPull := strings.CutSuffix(team, "/events")
	// Without a cursor a pull begins at 0.
	after, err := strconv.ParseInt("0"+at.Query().Get("after"), 10, 64)
	p := &pull{log: at.Query().Get("log"), team: team, after: after}
	if !found || !isPull || err != nil || json.Unmarshal([]byte(e.Answer), &p.answer) != nil {
		return nil
	}
	for _, one := range p.answer.Events {
		p.events = append(p.events, readEvent(one.Raw))
	}
	return p
}

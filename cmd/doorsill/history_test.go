package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"testing"

	"doorsill/internal/history"
	"doorsill/internal/model"
)

// watch has everything that the person asks and is told from now on written
// down as what one client saw.
func (p *person) watch(seen *history.Recorder, client string) {
	p.seen, p.client = seen, client
}

// send carries out a request, and writes it down where somebody watches.
func (p *person) send(r *http.Request, body []byte) (*http.Response, error) {
	if p.seen == nil {
		return http.DefaultClient.Do(r)
	}
	e := history.Exchange{Client: p.client, Begin: p.seen.Begin(), Method: r.Method, Path: r.URL.RequestURI(), Body: string(body)}
	answer, err := http.DefaultClient.Do(r)
	if err == nil {
		var data []byte
		data, err = io.ReadAll(answer.Body)
		_ = answer.Body.Close() // read to its end, or the connection is gone
		answer.Body = io.NopCloser(bytes.NewReader(data))
		if err == nil {
			e.Status, e.Answer = answer.StatusCode, string(data)
			e.Type, e.Sum = answer.Header.Get("Content-Type"), answer.Header.Get("Doorsill-Sum")
		}
	}
	p.seen.Add(e)
	return answer, err
}

// reader is somebody who pulls a team's log and keeps a cursor.
type reader struct {
	*person
	team  string
	log   string
	after int64
}

// pull takes in one page; the error is the network's or *refused.
func (r *reader) pull(most int) (more bool, err error) {
	path := fmt.Sprintf("/api/v1/teams/%s/events?log=%s&after=%d&limit=%d", r.team, url.QueryEscape(r.log), r.after, most)
	answer, err := r.ask("GET", path, "", nil)
	if err != nil {
		return false, err
	}
	data, err := io.ReadAll(answer.Body)
	if err != nil {
		return false, err
	}
	var page model.PullAnswer
	if answer.StatusCode != http.StatusOK {
		no := &refused{status: answer.StatusCode}
		if err := json.Unmarshal(data, no); err != nil || no.ErrorAnswer.Error != "log" {
			return false, no
		}
		r.log, r.after = no.Log, 0
		return true, nil
	}
	if err := json.Unmarshal(data, &page); err != nil {
		return false, fmt.Errorf("%w in %q", err, data)
	}
	r.log, r.after = page.Log, page.Next
	r.seen.Add(history.Exchange{Client: r.client, Cursor: &history.Cursor{Log: r.log, Team: r.team, After: r.after}})
	return page.More, nil
}

// pullAll pulls to the end of the log.
func (r *reader) pullAll(most int) {
	r.Helper()
	for more := true; more; {
		var err error
		if more, err = r.pull(most); err != nil {
			r.Fatal(err)
		}
	}
}

// pullOn pulls over and over until the server is gone.
func (r *reader) pullOn(most int) {
	for {
		var no *refused
		_, err := r.pull(most)
		if errors.As(err, &no) {
			r.Errorf("refused: %v", no)
		}
		if err != nil {
			return
		}
	}
}

// wantOneHistory wants what all clients saw to fit together, now that tablets
// and readers have come to rest.
func wantOneHistory(t testing.TB, seen *history.Recorder, tablets []*tablet, readers ...*reader) {
	t.Helper()
	var rest history.Settled
	for _, tab := range tablets {
		rest.Tablets = append(rest.Tablets, tab.ID)
	}
	for _, r := range readers {
		rest.Clients = append(rest.Clients, r.client)
	}
	sum, found := history.Check(seen.Exchanges(), rest)
	if len(found) > 0 {
		t.Errorf("%d answers do not fit together, first %v", len(found), found[:min(len(found), 10)])
	}
	if sum.Pulls == 0 || sum.Acknowledged == 0 || sum.Teamless > 0 {
		t.Errorf("too little to go by: %+v", sum)
	}
	t.Logf("one history: %+v", sum)
}

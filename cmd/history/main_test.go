package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const (
	pushed = `{"client":"a","begin":1,"end":2,"method":"POST","path":"/api/v1/events","status":200,"type":"application/json",` +
		`"body":"{\"log\":\"\",\"tablet\":\"a\",\"from\":1,\"count\":1}\n{\"tablet\":\"a\",\"n\":1,\"kind\":\"client-opened\",\"subject\":\"c\",\"body\":{\"team\":\"t\"}}\n",` +
		`"answer":"{\"log\":\"l\",\"ack\":1,\"verdicts\":[{\"n\":1,\"verdict\":\"stored\",\"pos\":1}]}"}`
	pulledAll = `{"client":"b","begin":3,"end":4,"method":"GET","path":"/api/v1/teams/t/events?log=l&after=0","status":200,"type":"application/json",` +
		`"answer":"{\"log\":\"l\",\"next\":1,\"head\":1,\"events\":[{\"pos\":1,\"raw\":{\"tablet\":\"a\",\"n\":1,\"kind\":\"client-opened\",\"subject\":\"c\",\"body\":{\"team\":\"t\"}}}]}"}`
	pulledNothing = `{"client":"b","begin":3,"end":4,"method":"GET","path":"/api/v1/teams/t/events?log=l&after=0","status":200,"type":"application/json",` +
		`"answer":"{\"log\":\"l\",\"next\":0,\"head\":0,\"events\":[]}"}`
)

func TestHistoriesAreJudged(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"one history":    {pushed + "\n" + pulledAll + "\n", "1 pushes, 1 pulls, 1 events acknowledged"},
		"something lost": {pushed + "\n" + pulledNothing + "\n", "lost: "},
		"nobody pulled":  {pushed + "\n", "found 1 and 0"},
		"no history":     {"something else\n", "line 1 of the history"},
	} {
		path := filepath.Join(t.TempDir(), "history.jsonl")
		if err := os.WriteFile(path, []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		var out strings.Builder
		err := run([]string{path}, &out)
		if err != nil {
			out.WriteString(err.Error())
		}
		if !strings.Contains(out.String(), c.want) || (err == nil) != (name == "one history") {
			t.Errorf("%s: %v %s, want %q", name, err, out.String(), c.want)
		}
	}
}

package model

import (
	"doorsill/internal/strictjson"
	"doorsill/internal/validation"
)

// ClientOpened starts a client's record in a team.
//
//codegen:set ClientFields
type ClientOpened struct {
	Team string `json:"team" check:"id"`
	// Ref is the service's own number for the client.
	Ref  string `json:"ref" check:"max=LongestWord"`
	Name string `json:"name" check:"required,max=LongestName" want:"the client's name"`
	// Born, Referred are dates, 2006-01-02.
	Born     string `json:"born,omitempty" check:"date,optional"`
	Referred string `json:"referred" check:"date"`
	// Priority is "urgent", "soon" or "routine".
	Priority string `json:"priority" check:"oneof=Priorities"`
	// Course is "stable", "slow", "fast", "fluctuating" or "improving".
	Course string `json:"course" check:"oneof=Courses"`
	// Reason is why the client was referred, in the referrer's words.
	Reason string `json:"reason,omitempty" check:"max=LongestText"`
	// Visiting is what the visitor must know: parking, pets, who is there.
	Visiting string `json:"visiting,omitempty" check:"max=LongestText"`
}

// ClientChanged replaces the fields it names; others stay. Keys are the JSON
// names of ClientOpened except "team".
type ClientChanged struct {
	Fields map[string]string `json:"fields" check:"required" want:"at least one field to change"`
}

// ClientAssigned sets who is responsible and where the client stands. Only the
// server writes it, after a compare-and-set on Version.
type ClientAssigned struct {
	// Assignee is a person id, or empty for nobody yet.
	Assignee string `json:"assignee" check:"id,optional"`
	// Status is "waiting", "active", "hold" or "closed".
	Status  string `json:"status" check:"oneof=Statuses"`
	Version int64  `json:"version" check:"1.."`
	// By is the person who asked for it.
	By string `json:"by" check:"id"`
}

// Client is the fold of one client's events.
//
//codegen:set ClientFields
//codegen:write
type Client struct {
	ID       string `json:"id"`
	Team     string `json:"team"`
	Ref      string `json:"ref"`
	Name     string `json:"name"`
	Born     string `json:"born"`
	Referred string `json:"referred"`
	Priority string `json:"priority"`
	Course   string `json:"course"`
	Reason   string `json:"reason"`
	Visiting string `json:"visiting"`
	Assignee string `json:"assignee"`
	Status   string `json:"status"`
	// Version counts assignments, for compare-and-set.
	Version int64 `json:"version"`
	Opened  Stamp `json:"opened"`
	Changed Stamp `json:"changed"`
}

func (c *ClientChanged) checkTogether() *validation.Error {
	for _, key := range strictjson.SortedKeys(c.Fields) {
		var one ClientOpened
		if !one.Set(key, c.Fields[key]) {
			return &validation.Error{Code: validation.CodeWrongType, Path: "fields." + key, Want: validation.Either(ClientFields()) + " as the name of a field"}
		}
		if err := one.checkField(key); err != nil {
			return err.Within("fields")
		}
	}
	return nil
}

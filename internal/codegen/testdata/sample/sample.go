// Package sample holds one field of each form that a result can have.
package sample

import (
	"doorsill/internal/decimal"
	"doorsill/internal/message"
)

// Grade is a word.
type Grade string

// Count is a whole number.
type Count int

// Result is a whole result.
//
//codegen:write
type Result struct {
	Head
	// Grade is one of three.
	Grade  Grade            `json:"grade"`
	Count  Count            `json:"count,omitempty"`
	Share  decimal.Micro    `json:"share"`
	Known  *decimal.Micro   `json:"known"`
	Limit  *float64         `json:"limit"`
	Why    *message.Message `json:"why,omitempty"`
	Advice message.Message  `json:"advice,omitzero"`
	// Notes are in reading order, Parts one a site.
	Notes  []message.Message  `json:"notes"`
	Parts  []Part             `json:"parts"`
	Best   *Part              `json:"best"`
	Shares map[Grade]float64  `json:"shares"`
	Flags  map[string]bool    `json:"flags,omitempty"`
	Grades []Grade            `json:"grades,omitempty"`
	Table  [][]decimal.Micro  `json:"table"`
	Named  map[string]Plain   `json:"named,omitempty"`
	Half   Part               `json:"half"`
	Counts map[string][]Count `json:"counts,omitempty"`
}

// Head is what every result begins with.
type Head struct {
	Engine string          `json:"engine"`
	Title  message.Message `json:"title"`
}

// Part is the result of one site.
type Part struct {
	Site string            `json:"site"`
	Says []message.Message `json:"says,omitempty"`
}

// Plain holds no message.
type Plain struct {
	Done bool `json:"done"`
}

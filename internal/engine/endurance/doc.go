// Package endurance says what share of a person's strength a control asks,
// how long that can be held, how much of the time it can be asked, and when
// to look again. It computes with shares (0 to 1) and seconds and knows no
// unit of force, so the same force in any unit gives the same answer.
//
// Every result is rounded as its documentation says, carries the formula with
// source and status, and is an estimate from healthy adults at work: none of
// the curves was measured with wheelchair controls or with weak muscles.
package endurance

package server

import (
	"encoding/json"

	"doorsill/internal/model"
)

// SignInRequest is the body of POST /api/v1/session.
type SignInRequest struct {
	// Name is the login name.
	Name     string `json:"name"`
	Password string `json:"password"`
	// Tablet is the tablet's id when this device has one already.
	Tablet string `json:"tablet,omitempty"`
}

// SessionAnswer says who is signed in and where they may work.
type SessionAnswer struct {
	Person PersonBrief  `json:"person"`
	Teams  []Membership `json:"teams"`
	Admin  bool         `json:"admin"`
	// Tablet is the id of this session's tablet, or empty.
	Tablet string `json:"tablet,omitempty"`
	// Log is the id of the server's log; another id means a restored server.
	Log string `json:"log"`
	// ServerTime is now, in UTC.
	ServerTime string `json:"server_time"`
	// Expires is when the session ends at the latest, RFC 3339 in UTC.
	Expires string `json:"expires"`
	// Login is the name that the person signs in with. By it a tablet knows
	// whom its rows are of where no name was typed.
	Login string `json:"login"`
	// Unlock is "password-needed" when the organisation's sign-in opened the
	// session: the person's own tablet password must be asked for before
	// anything on the tablet can be read or kept. Else it is left out.
	Unlock string `json:"unlock,omitempty"`
	// Organisation is the key that a tablet seals signed visits to.
	Organisation OrganisationKey `json:"organisation"`
}

// OrganisationKey is the public half of the organisation's key: its id, and
// the uncompressed P-256 point in base64.
type OrganisationKey struct {
	ID  string `json:"id"`
	Key string `json:"key"`
}

// PersonBrief is what colleagues see of a person.
type PersonBrief struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	// Credential is the professional title as it stands on paper.
	Credential string `json:"credential"`
}

// Membership is a role in a team: clinician, assistant or lead.
type Membership struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Role string `json:"role"`
}

// SessionItem is one line of GET /api/v1/sessions.
type SessionItem struct {
	ID string `json:"id"`
	// Created and Seen are RFC 3339 in UTC; Seen is right to five minutes.
	Created string `json:"created"`
	Seen    string `json:"seen"`
	// Agent is what the browser calls itself.
	Agent string `json:"agent"`
	// Tablet is the label of the tablet that it is on, or left out.
	Tablet string `json:"tablet,omitempty"`
	// Current marks the session that asks.
	Current bool `json:"current"`
}

// SessionList is the answer of GET /api/v1/sessions.
type SessionList struct {
	Sessions []SessionItem `json:"sessions"`
}

// ChecklistItem is one line of GET /api/v1/checklists.
type ChecklistItem struct {
	ID      string `json:"id"`
	Version string `json:"version"`
	Hash    string `json:"hash"`
	Title   string `json:"title"`
	// Current marks the version that new visits use.
	Current bool `json:"current"`
}

// ChecklistList is the answer of GET /api/v1/checklists.
type ChecklistList struct {
	Checklists []ChecklistItem `json:"checklists"`
}

// ChecklistAnswer is the answer of GET /api/v1/checklists/{hash}.
type ChecklistAnswer struct {
	Hash string `json:"hash"`
	// Definition is the definition file but for the space between its parts.
	Definition json.RawMessage `json:"definition"`
	// Rules is empty. Earlier apps computed with it and refuse an answer without;
	// as it is, they can go on asking the questions, but show no result.
	Rules string `json:"rules"`
}

// ScoredResult is a confirmed result. Its messages have sentences, which are no
// part of the canonical form; SHA256 is the hash of that form, in hex.
type ScoredResult struct {
	SHA256 string       `json:"sha256"`
	Result model.Result `json:"result"`
}

// VisitAnswer is one visit with its confirmed result, if it has one.
type VisitAnswer struct {
	Visit  model.Visit   `json:"visit"`
	Scored *ScoredResult `json:"scored"`
	// Unscored says that the engine could not score the visit; Blind that what
	// was said is held back until both raters of the trial have signed.
	Unscored bool `json:"unscored"`
	Blind    bool `json:"blind"`
	// Mismatch says that a signature names another result than the server had for
	// the visit when it was signed.
	Mismatch bool `json:"mismatch"`
}

// ClientAnswer is the answer of GET /api/v1/clients/{id}; visits are in log
// order.
type ClientAnswer struct {
	Client model.Client  `json:"client"`
	Visits []VisitAnswer `json:"visits"`
}

// AssignmentRequest is the body of PUT /api/v1/clients/{id}/assignment.
type AssignmentRequest struct {
	// Version is the client's version that the caller saw.
	Version int64 `json:"version"`
	// Assignee is a person id, or empty for nobody.
	Assignee string `json:"assignee"`
	Status   string `json:"status"`
}

// AssignmentRefused is the 409 answer when somebody else was quicker.
type AssignmentRefused struct {
	ErrorAnswer
	Client model.Client `json:"client"`
}

// QuarantineRow is one entry that was quarantined.
type QuarantineRow struct {
	ID     string `json:"id"`
	Tablet string `json:"tablet"`
	N      int64  `json:"n"`
	Author string `json:"author"`
	// Subject is the client or visit that the entry is about, Client the
	// client; empty when the entry could not be read that far.
	Subject  string `json:"subject"`
	Client   string `json:"client"`
	Kind     string `json:"kind"`
	Received string `json:"received"`
	// Code says why in one word, Hint in a sentence; Field and Want narrow it.
	Code  string `json:"code"`
	Hint  string `json:"hint"`
	Field string `json:"field"`
	Want  string `json:"want"`
	// Raw is the entry as it came; text, because it may not be JSON.
	Raw string `json:"raw"`
	// Settled, SettledBy and Note are filled once a lead has dealt with it.
	Settled   string `json:"settled,omitempty"`
	SettledBy string `json:"settled_by,omitempty"`
	Note      string `json:"note,omitempty"`
	// Pos is the position that it was given once it could be taken in, and
	// Placed when.
	Pos    int64  `json:"pos,omitempty"`
	Placed string `json:"placed,omitempty"`
	// Confirm says that the caller may confirm the entry, which came unsigned;
	// Confirmed that somebody has, with Note as the reason if there was one.
	Confirm   bool `json:"confirm,omitempty"`
	Confirmed bool `json:"confirmed,omitempty"`
}

// QuarantineList is the answer of GET /api/v1/teams/{team}/quarantine and of
// GET /api/v1/quarantine.
type QuarantineList struct {
	Entries []QuarantineRow `json:"entries"`
	// Next is what to ask for the next page with, as "after", if there is More.
	Next string `json:"next"`
	More bool   `json:"more"`
}

// CaseloadSearch is the body of POST /api/v1/teams/{team}/caseload/search.
type CaseloadSearch struct {
	// Q is matched word by word against name and reference; at most 200 bytes.
	Q string `json:"q"`
}

// SettleRequest is the body of POST /api/v1/quarantine/{id}/settle.
type SettleRequest struct {
	Note string `json:"note"`
}

// ConfirmRequest is the body of POST /api/v1/quarantine/confirm: the ids of
// entries of one tablet that came unsigned. A lead says in Reason why they know
// that the author, who is gone, wrote them.
type ConfirmRequest struct {
	Entries []string `json:"entries"`
	Reason  string   `json:"reason,omitempty"`
}

// PersonRow is one line of GET /api/v1/people.
type PersonRow struct {
	ID         string       `json:"id"`
	Login      string       `json:"login"`
	Name       string       `json:"name"`
	Credential string       `json:"credential"`
	Admin      bool         `json:"admin"`
	Closed     bool         `json:"closed"`
	Teams      []Membership `json:"teams"`
	// Email and Subject name the person at the sign-in provider, for admins.
	Email   string `json:"email,omitempty"`
	Subject string `json:"subject,omitempty"`
}

// PeopleList is the answer of GET /api/v1/people. A person who is not an
// admin gets the people of their own teams, without logins.
type PeopleList struct {
	People []PersonRow `json:"people"`
}

// PersonRequest is the body of POST /api/v1/people and PUT /api/v1/people/{id};
// Login and Password count for POST only.
type PersonRequest struct {
	Login      string        `json:"login,omitempty"`
	Password   string        `json:"password,omitempty"`
	Name       string        `json:"name"`
	Credential string        `json:"credential"`
	Admin      bool          `json:"admin"`
	Closed     bool          `json:"closed"`
	Teams      []RoleRequest `json:"teams"`
}

// RoleRequest gives a role in a team.
type RoleRequest struct {
	ID   string `json:"id"`
	Role string `json:"role"`
}

// PasswordRequest is the body of POST /api/v1/people/{id}/password. A person
// who changes their own must give the current one.
type PasswordRequest struct {
	Current  string `json:"current,omitempty"`
	Password string `json:"password"`
}

// IdentityRequest is the body of PUT /api/v1/people/{id}/identity: who the
// person is at the organisation's sign-in provider. Both may be empty.
type IdentityRequest struct {
	Email   string `json:"email"`
	Subject string `json:"subject"`
}

// TeamRow is one team.
type TeamRow struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// TeamList is the answer of GET /api/v1/teams.
type TeamList struct {
	Teams []TeamRow `json:"teams"`
}

// TeamRequest is the body of POST /api/v1/teams.
type TeamRequest struct {
	Name string `json:"name"`
}

// ErrorAnswer is the body of every answer that is not a success.
type ErrorAnswer struct {
	Error   string `json:"error"`
	Message string `json:"message"`
	Field   string `json:"field,omitempty"`
	Want    string `json:"want,omitempty"`
}

// SignedOutAnswer is the 401 answer of GET /api/v1/session. A demo says in it
// how to sign in.
type SignedOutAnswer struct {
	ErrorAnswer
	Demo *DemoHint `json:"demo,omitempty"`
	// Provider is the address that begins a sign-in at the organisation's
	// provider, where there is one. Add ?tablet=ID when this device has one. It
	// is for the browser to go to, not to fetch.
	Provider string `json:"provider,omitempty"`
	// Refused says in plain words why that sign-in brought somebody back without
	// a session, for the code that it gave as ?refused=.
	Refused string `json:"refused,omitempty"`
}

// DemoHint is shown on the sign-in screen of a demo.
type DemoHint struct {
	Text string `json:"text"`
}

// OtherLogAnswer is the 409 answer when a cursor belongs to another log, or is
// behind the end of this one.
type OtherLogAnswer struct {
	ErrorAnswer
	Log string `json:"log"`
}

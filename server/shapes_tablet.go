package server

// TabletRequest is the body of POST /api/v1/tablets.
type TabletRequest struct {
	Label string `json:"label"`
	// ID is the tablet's name from before, for a server that does not know it
	// any more; without one it is given a name.
	ID string `json:"id,omitempty"`
}

// TabletMade is the answer of POST /api/v1/tablets.
type TabletMade struct {
	ID string `json:"id"`
	// Holding are the person's other tablets that said, the last time they were
	// heard, that they held entries which nobody else has. One of them may be
	// this very device, whose storage was cleared since.
	Holding []TabletHolding `json:"holding,omitempty"`
}

// TabletHolding is what a tablet last said of itself.
type TabletHolding struct {
	ID      string `json:"id"`
	Label   string `json:"label"`
	Waiting int    `json:"waiting"`
	// Oldest is the tablet's time of the oldest waiting event, or empty.
	Oldest string `json:"oldest,omitempty"`
}

// HoldingReport is the body of POST /api/v1/tablets/{id}/holding: what the
// tablet has not sent.
type HoldingReport struct {
	Waiting int `json:"waiting"`
	// Oldest is the tablet's time of the oldest waiting event, or empty.
	Oldest string `json:"oldest,omitempty"`
	// Clients are the ids of the clients that the waiting events are about.
	Clients []string `json:"clients,omitempty"`
}

// TabletKeyRequest is the body of PUT /api/v1/tablets/{id}/key: the public half
// of what the tablet signs with from now on.
type TabletKeyRequest struct {
	// Algorithm is Ed25519 or ES256, Public the key in base64.
	Algorithm string `json:"algorithm"`
	Public    string `json:"public"`
	// Proof is the new key's signature over itself, in base64; Before that of the
	// key that it replaces, where there was one.
	Proof  string `json:"proof"`
	Before string `json:"before,omitempty"`
}

// TabletRow is one tablet in a list, and the answer of POST
// /api/v1/tablets/{id}/revoke.
type TabletRow struct {
	ID string `json:"id"`
	// Person is the owner's id, Name their name.
	Person string `json:"person"`
	Name   string `json:"name"`
	Label  string `json:"label"`
	// LastPush is RFC 3339 in UTC or empty; LastN the last event number taken.
	LastPush string `json:"last_push"`
	LastN    int64  `json:"last_n"`
	// Waiting and OldestWaiting repeat the tablet's own last report.
	Waiting       int    `json:"waiting"`
	OldestWaiting string `json:"oldest_waiting,omitempty"`
	// Seen is when the tablet was last heard of, right to five minutes; RFC
	// 3339 in UTC or empty.
	Seen string `json:"seen,omitempty"`
	// Revoked is when the tablet was withdrawn, RevokedBy the name of who did
	// it, Cleared when it said that it holds nothing more.
	Revoked   string `json:"revoked,omitempty"`
	RevokedBy string `json:"revoked_by,omitempty"`
	Cleared   string `json:"cleared,omitempty"`
	// Signs says that the tablet has registered a key and signs what it sends.
	Signs bool `json:"signs"`
}

// TabletList is the answer of GET /api/v1/teams/{team}/tablets and of GET
// /api/v1/people/{id}/tablets.
type TabletList struct {
	Tablets []TabletRow `json:"tablets"`
}

// BackupState is the answer of GET /api/v1/backup.
type BackupState struct {
	// Dir is the folder on the server; empty where none is set up.
	Dir string `json:"dir"`
	// Last is the newest backup in it; left out where there is none yet.
	Last *BackupFile `json:"last,omitempty"`
	// Why says in plain words what is in the way; left out where nothing is.
	Why string `json:"why,omitempty"`
}

// BackupFile is one backup on the server.
type BackupFile struct {
	Name  string `json:"name"`
	Bytes int64  `json:"bytes"`
	// At is when it was made, RFC 3339 in UTC.
	At string `json:"at"`
}

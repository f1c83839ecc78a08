package store

// Person is one account.
type Person struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	// Credential is the professional title as it goes on paper.
	Credential string `json:"credential,omitempty"`
	// Login is unique and compared exactly: the caller folds its case.
	Login string `json:"login"`
	// Hash is the encoded password hash; never sent anywhere.
	Hash  string `json:"hash"`
	Admin bool   `json:"admin,omitempty"`
	// Email and Subject name the person at the organisation's sign-in
	// provider; Issuer is the provider that the subject was learnt from, empty
	// when an admin wrote it.
	Email   string `json:"email,omitempty"`
	Subject string `json:"subject,omitempty"`
	Issuer  string `json:"issuer,omitempty"`
	Active  bool   `json:"active"`
	Created string `json:"created"`
	// Browsers are those in which the person has signed in, last used first.
	Browsers []Browser `json:"browsers,omitempty"`
}

// Browser is one in which a person has signed in.
type Browser struct {
	// Hash is the hash of the secret in its cookie, in hex.
	Hash string `json:"hash"`
	// Network is where it was when the person last signed in: an address range,
	// or the address as it came when it is none.
	Network string `json:"network"`
	Seen    string `json:"seen"`
}

// Team is one team of a service.
type Team struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// Membership is a person's role in a team.
type Membership struct {
	Person string `json:"person"`
	Team   string `json:"team"`
	// Role is model.RoleClinician, model.RoleAssistant or model.RoleLead.
	Role string `json:"role"`
}

// Session is one signed-in browser.
type Session struct {
	// Hash is the hash of the secret in the browser's cookie, in hex.
	Hash   string `json:"hash"`
	Person string `json:"person"`
	Tablet string `json:"tablet,omitempty"`
	// ByProvider marks a session that the sign-in provider opened: no password
	// was typed.
	ByProvider bool `json:"vouched,omitempty"`
	// Agent is what the browser calls itself, shown in the list of sessions.
	Agent string `json:"agent,omitempty"`
	// Source is the network address that it was last seen from.
	Source  string `json:"source,omitempty"`
	Created string `json:"created"`
	Seen    string `json:"seen"`
	Expires string `json:"expires"`
}

// AuditEntry is one line of the audit trail.
type AuditEntry struct {
	// Seq counts 1, 2, 3… without gaps.
	Seq    int64  `json:"seq"`
	At     string `json:"at"`
	Person string `json:"person"`
	// Action is a verb and a noun, such as "read client".
	Action  string `json:"action"`
	Subject string `json:"subject,omitempty"`
	Team    string `json:"team,omitempty"`
	Detail  string `json:"detail,omitempty"`
	// Prev is the Hash of the entry before; Hash is over this entry and Prev.
	Prev string `json:"prev"`
	Hash string `json:"hash"`
}

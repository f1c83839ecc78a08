// Package caseload is the lead's view of a team: an index in memory over the
// client summaries that answers "who next?" by page, order and filter.
package caseload

import "doorsill/internal/model"

// Orders of a caseload page.
const (
	SortWait     = "wait"     // longest wait first; closed clients last
	SortLevel    = "level"    // lowest level first; clients without a level last
	SortStops    = "stops"    // most open stops first
	SortVisit    = "visit"    // longest since the last visit first; never visited before all
	SortRecheck  = "recheck"  // earliest recheck first; without one last
	SortName     = "name"     // by name, accents and case set aside
	SortPriority = "priority" // urgent, soon, routine; within one by wait
)

// Flags that a page can be narrowed to.
const (
	FlagStop        = "stop"        // at least one open stop
	FlagRecheck     = "recheck"     // the recheck date has passed
	FlagChoice      = "choice"      // two answers wait for a choice
	FlagQuarantined = "quarantined" // an entry was quarantined and is not settled
	FlagTablet      = "tablet"      // a tablet reported entries that it has not sent
)

// Special values of the level, assignee and status filters.
const (
	LevelNone  = model.NoLevel // clients that have no level yet
	NobodyYet  = "none"        // clients that nobody is responsible for
	StatusOpen = "open"        // every status but closed; the default
	StatusAny  = "any"
)

// Row is one client on a caseload page.
type Row struct {
	Client   string `json:"client"`
	Ref      string `json:"ref"`
	Name     string `json:"name"`
	Team     string `json:"team"`
	Priority string `json:"priority"`
	Course   string `json:"course"`
	Assignee string `json:"assignee"`
	Status   string `json:"status"`
	// Version counts assignments; a new assignment must name it.
	Version int64 `json:"version"`
	// Referred is a date, 2006-01-02.
	Referred string `json:"referred"`
	// WaitingDays runs from referral to today while the client is not
	// closed, and is 0 for a closed one.
	WaitingDays int `json:"waiting_days"`
	// Level is the calculated level of the last visit, Effective the one that
	// counts after an override; both empty when there is no result yet.
	Level     string `json:"level"`
	Effective string `json:"effective"`
	// Interim marks a level that still rests on missing answers.
	Interim   bool `json:"interim"`
	OpenStops int  `json:"open_stops"`
	Limits    int  `json:"limits"`
	// LastVisit is the RFC 3339 time that the last visit's tablet claimed, or
	// empty; Signed says whether that visit is signed.
	LastVisit string `json:"last_visit"`
	Signed    bool   `json:"signed"`
	Visits    int    `json:"visits"`
	// Recheck is a date or empty; RecheckOverdueDays counts from it to today
	// and is 0 while it has not passed.
	Recheck            string `json:"recheck"`
	RecheckOverdueDays int    `json:"recheck_overdue_days"`
	// RecheckForecast says that the forecast set the date, sooner than what was
	// agreed, or where nothing was.
	RecheckForecast bool `json:"recheck_forecast"`
	// WeeksLeft is whole weeks from today until the reserve may have fallen to
	// 3 by the forecast, 0 when that is past; WeeksToCome is until the control
	// is expected. Each is left out when not known.
	WeeksLeft   *int `json:"weeks_left,omitempty"`
	WeeksToCome *int `json:"weeks_to_come,omitempty"`
	// Unscored counts visits that could not be scored, and a line that is damaged
	// as one.
	Unscored    int `json:"unscored"`
	NeedsChoice int `json:"needs_choice"`
	Quarantined int `json:"quarantined"`
	// OnTablet says that a tablet reported entries about this client that it
	// had not sent.
	OnTablet bool `json:"on_tablet"`
}

// Counts are the sizes of a team's queues. Only Status counts closed clients.
type Counts struct {
	Open        int `json:"open"`
	Unassigned  int `json:"unassigned"`
	Stops       int `json:"stops"`
	Rechecks    int `json:"rechecks"`
	Choices     int `json:"choices"`
	Quarantined int `json:"quarantined"`
	OnTablet    int `json:"on_tablet"`
	// SetAside counts the team's open quarantined entries, also those that are
	// about no client; 0 for who does not lead the team. The reader knows it, not
	// the index.
	SetAside int64          `json:"set_aside"`
	Status   map[string]int `json:"status"`
	// Levels counts effective levels; key "none" holds clients without one.
	Levels map[string]int `json:"levels"`
}

// Page is one answer of the caseload. Total counts every client that the
// filters let through.
type Page struct {
	Total  int    `json:"total"`
	Offset int    `json:"offset"`
	Rows   []Row  `json:"rows"`
	Counts Counts `json:"counts"`
}

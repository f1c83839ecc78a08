package model

import "math"

// Logs is the log whose positions count, and what came before it. A server that
// is restored from a copy goes on in a log of another id, which begins with the
// entries of the copy: up to there both logs are the same.
type Logs struct {
	// Log is the id of the log.
	Log string `json:"log"`
	// Earlier are the logs that it was restored from, oldest first.
	Earlier []EarlierLog `json:"earlier,omitempty"`
}

// EarlierLog is a log that another one was restored from.
type EarlierLog struct {
	Log string `json:"log"`
	// Until is the last position that was in the copy.
	Until int64 `json:"until"`
}

// Seen is the last position of this log of which it is certain that the event's
// tablet had pulled it; pos is the event's own position, 0 while it waits. Of a
// log that is not among these nothing is certain, and of an earlier one only what
// was in the copy. An event that does not name its log is from before events did:
// it can be of any log of that time, and of another one still when what it had
// seen is not before itself.
func (l *Logs) Seen(event *Event, pos int64) int64 {
	if event.Log == "" && pos != 0 && event.Seen >= pos {
		return 0
	}
	return min(event.Seen, l.sharedWith(event.Log))
}

// sharedWith is the last position up to which a log is the same as this one.
func (l *Logs) sharedWith(log string) int64 {
	for i := range l.Earlier {
		if log == "" || log == l.Earlier[i].Log {
			return l.Earlier[i].Until
		}
	}
	if log == "" || log == l.Log {
		return math.MaxInt64
	}
	return 0
}

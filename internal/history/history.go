package history

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"sync"
)

// Exchange is one request of a client with the answer that it got, or something
// that happened to its database. A list of them as JSON lines is a history.
type Exchange struct {
	// Client is whose cursors these are: one database on one device. Tabs of a
	// browser are one client.
	Client string `json:"client"`
	// Begin and End order what happened: an exchange that ended before another
	// one began has a lower End than the other's Begin. The unit is the
	// recorder's; only the order counts.
	Begin int64 `json:"begin"`
	End   int64 `json:"end"`

	Method string `json:"method"`
	// Path has the query too.
	Path string `json:"path"`
	Body string `json:"body,omitempty"`
	// Status is 0 when no answer came.
	Status int `json:"status,omitempty"`
	// Type and Sum are the answer's Content-Type and Doorsill-Sum. A client
	// does not believe an answer that is not JSON or does not match its sum.
	Type   string `json:"type,omitempty"`
	Sum    string `json:"sum,omitempty"`
	Answer string `json:"answer,omitempty"`

	// Cursor, where it is set, is what the client has stored; Method and all
	// that follows is empty then.
	Cursor *Cursor `json:"cursor,omitempty"`
	// CopyOf, where it is set, says that the client's database was put in place
	// as a copy of that client's, as it is or was: its cursors are from there.
	CopyOf string `json:"copy_of,omitempty"`
}

// Cursor is how far a client has stored a team of a log.
type Cursor struct {
	Log   string `json:"log"`
	Team  string `json:"team"`
	After int64  `json:"after"`
}

// Recorder collects exchanges of clients that run at the same time. The zero
// value is empty and ready to use.
type Recorder struct {
	mu   sync.Mutex
	now  int64
	list []Exchange
}

// Begin is to be called before a request is sent; its value is the exchange's.
func (r *Recorder) Begin() int64 {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.now++
	return r.now
}

// Add takes an exchange whose answer has come, or will not come, and sets its
// End.
func (r *Recorder) Add(e Exchange) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.now++
	e.End = r.now
	if e.Begin == 0 {
		e.Begin = r.now
	}
	r.list = append(r.list, e)
}

// Exchanges is what was added so far.
func (r *Recorder) Exchanges() []Exchange {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.list[:len(r.list):len(r.list)]
}

// Read reads a history.
func Read(in io.Reader) ([]Exchange, error) {
	var list []Exchange
	lines := bufio.NewScanner(in)
	lines.Buffer(nil, 64<<20)
	for lines.Scan() {
		var e Exchange
		if err := json.Unmarshal(lines.Bytes(), &e); err != nil {
			return nil, fmt.Errorf("line %d of the history: %w", len(list)+1, err)
		}
		list = append(list, e)
	}
	return list, lines.Err()
}

// Everybody is who takes part in a history, for one at whose end all have come
// to rest.
func Everybody(list []Exchange) (all Settled) {
	for i := range list {
		all.Clients = append(all.Clients, list[i].Client)
		if p := list[i].push(); p != nil {
			all.Tablets = append(all.Tablets, p.tablet)
		}
	}
	slices.Sort(all.Clients)
	slices.Sort(all.Tablets)
	return Settled{Tablets: slices.Compact(all.Tablets), Clients: slices.Compact(all.Clients)}
}

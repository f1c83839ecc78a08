package caseload

import (
	"slices"
	"strings"

	"doorsill/internal/model"
	"doorsill/internal/validation"
)

// DefaultLimit and MaxLimit bound the rows of a page.
const (
	DefaultLimit = 50
	MaxLimit     = 500
)

// Query asks for one page. The zero Query is the first page of the open
// clients by wait.
type Query struct {
	// Sort is one of the Sort constants; Desc turns its order round.
	Sort string
	Desc bool
	// Q is matched word by word against name and reference, anywhere in them;
	// accents and case are set aside.
	Q string
	// Level is an effective level id or LevelNone; Flag one of the Flag
	// constants; Assignee a person id or NobodyYet; Status a status,
	// StatusOpen or StatusAny. Empty lets everything through, but an empty
	// Status is StatusOpen.
	Level, Flag, Assignee, Status string
	// Offset is the first row, from 0; Limit 0 is DefaultLimit.
	Offset, Limit int
}

// Words of the filters, in the order in which the index numbers them.
var (
	sorts      = [...]string{SortWait, SortLevel, SortStops, SortVisit, SortRecheck, SortName, SortPriority}
	levels     = append(model.Levels(), LevelNone)
	statuses   = model.Statuses()
	priorities = model.Priorities()
	flags      = [...]string{FlagStop, FlagChoice, FlagQuarantined, FlagTablet, FlagRecheck}
)

// Their numbers for clients without a level, closed ones, and those whose
// priority is unknown.
var (
	noLevel    = number(levels, LevelNone)
	closed     = number(statuses, model.StatusClosed)
	noPriority = int8(len(priorities))
)

// number is the place of a word in a list, -1 where it is not there.
func number(words []string, word string) int8 { return int8(slices.Index(words, word)) }

// The flags as bits, in the order of flags; the overdue recheck has none,
// since it depends on the day.
const (
	bitStop uint8 = 1 << iota
	bitChoice
	bitQuarantined
	bitTablet
)

func (q *Query) check() error {
	if q.Sort == "" {
		q.Sort = SortWait
	}
	if q.Status == "" {
		q.Status = StatusOpen
	}
	if q.Limit == 0 {
		q.Limit = DefaultLimit
	}
	switch {
	case !slices.Contains(sorts[:], q.Sort):
		return validation.Invalid("sort", strings.Join(sorts[:], ", "))
	case q.Level != "" && !slices.Contains(levels, q.Level):
		return validation.Invalid("level", strings.Join(levels, ", "))
	case q.Flag != "" && !slices.Contains(flags[:], q.Flag):
		return validation.Invalid("flag", strings.Join(flags[:], ", "))
	case q.Status != StatusOpen && q.Status != StatusAny && !slices.Contains(statuses, q.Status):
		return validation.Invalid("status", "open, any, "+strings.Join(statuses, ", "))
	case len(q.Q) > 200:
		return validation.Invalid("q", "at most 200 bytes")
	case q.Offset < 0:
		return validation.Invalid("offset", "0 or more")
	case q.Limit < 0 || q.Limit > MaxLimit:
		return validation.Invalid("limit", "1 to 500")
	}
	return nil
}

// filter is a query in the index's own numbers.
type filter struct {
	words    []string
	level    int8 // -1 for any
	status   int8 // -1 for any, openOnly for all but closed
	flag     uint8
	recheck  bool
	assignee int32 // -1 for any, impossible for somebody without clients
}

const (
	openOnly   = int8(-2)
	impossible = int32(-2)
)

func (t *team) filter(q Query) filter {
	f := filter{words: strings.Fields(fold(q.Q)), level: -1, status: -1, assignee: -1}
	if q.Level != "" {
		f.level = number(levels, q.Level)
	}
	switch q.Status {
	case StatusAny:
	case StatusOpen:
		f.status = openOnly
	default:
		f.status = number(statuses, q.Status)
	}
	if q.Flag == FlagRecheck {
		f.recheck = true
	} else if q.Flag != "" {
		f.flag = 1 << slices.Index(flags[:], q.Flag)
	}
	if q.Assignee != "" {
		f.assignee = t.assigneeNumber(q.Assignee)
	}
	return f
}

func (t *team) assigneeNumber(id string) int32 {
	if id == NobodyYet {
		id = ""
	}
	if n, ok := t.assignees[id]; ok {
		return n
	}
	return impossible
}

func (f *filter) passes(c *facts, text string, today int32) bool {
	switch {
	case f.level >= 0 && c.level != f.level,
		f.status == openOnly && c.status == closed,
		f.status >= 0 && c.status != f.status,
		f.flag != 0 && c.flags&f.flag == 0,
		f.recheck && !c.overdue(today),
		f.assignee != -1 && c.assignee != f.assignee:
		return false
	}
	for _, w := range f.words {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}

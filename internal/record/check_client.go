package record

import (
	"slices"
	"strconv"
)

// Priorities returns how urgent a client can be.
func Priorities() []string { return []string{"urgent", "soon", "routine"} }

// Courses returns how a client's condition can change.
func Courses() []string { return []string{"stable", "slow", "fast", "fluctuating", "improving"} }

// Statuses returns where a client can stand.
func Statuses() []string { return []string{"waiting", "active", "hold", "closed"} }

func (c *ClientOpened) check() *Refusal {
	return first(
		idOf("team", c.Team),
		clientField("ref", c.Ref), clientField("name", c.Name),
		clientField("born", c.Born), clientField("referred", c.Referred),
		clientField("priority", c.Priority), clientField("course", c.Course),
		clientField("reason", c.Reason), clientField("visiting", c.Visiting),
	)
}

func (c *ClientChanged) check() *Refusal {
	if len(c.Fields) == 0 {
		return &Refusal{Code: CodeRequired, Field: "fields", Want: "at least one field to change"}
	}
	for _, key := range sortedKeys(c.Fields) {
		if bad := clientField(key, c.Fields[key]); bad != nil {
			return bad.within("fields")
		}
	}
	return nil
}

// clientField checks one field by the JSON name that it has in ClientOpened.
func clientField(key, value string) *Refusal {
	switch key {
	case "ref":
		return short(key, value, LongestWord)
	case "name":
		return need(key, value, LongestName, "the client's name")
	case "born":
		return dateOrNone(key, value)
	case "referred":
		return date(key, value)
	case "priority":
		return among(key, value, Priorities()...)
	case "course":
		return among(key, value, Courses()...)
	case "reason", "visiting":
		return short(key, value, LongestText)
	}
	return &Refusal{Code: CodeWrongType, Field: key, Want: oneOf(ClientFields()) + " as the name of a field"}
}

func (c *ClientAssigned) check() *Refusal {
	if c.Version < 1 {
		return &Refusal{Code: CodeOutOfRange, Field: "version", Want: "a number from 1", Got: strconv.FormatInt(c.Version, 10)}
	}
	return first(
		idOrNone("assignee", c.Assignee),
		among("status", c.Status, Statuses()...),
		idOf("by", c.By),
	)
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for key := range m {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	return keys
}

// Package advice says which driver settings to try for an observed problem:
// which key, which way, by how much at a time, and what must be tested again
// after it. All of it is common practice without a source; the steps are a
// proposal, and each maker's manual decides.
package advice

import (
	"doorsill/internal/message"
	"doorsill/internal/model"
	"doorsill/internal/validation"
)

// Ways to change a key.
const (
	Up   = "up"
	Down = "down"
	// Set is for keys that are switched or turned to a value.
	Set = "set"
)

// Of returns what to try for an observed problem. The error for a problem that
// is not known is a *validation.Error.
func Of(problem string) (model.Advice, error) {
	for i := range table {
		if table[i].problem == problem {
			return model.Advice{Rests: message.New("advice.common-practice"), Changes: advised(table[i].changes)}, nil
		}
	}
	return model.Advice{}, validation.Unexpected(validation.CodeWrongType, "problem", "an observed problem such as overshoots-turns or long-stop", problem)
}

func advised(changes []change) []model.Advised {
	list := make([]model.Advised, len(changes))
	for i := range changes {
		c := &changes[i]
		list[i] = model.Advised{Key: c.key, Way: c.way, Step: message.New(c.step), Message: c.message(), Retests: Retests(c.key)}
	}
	return list
}

// message says why, and what to watch.
func (c *change) message() message.Message {
	if c.direction == "" {
		return message.New(c.code)
	}
	return message.New(c.code, message.Word("direction", c.direction))
}

// Retests are the items that a change of a key makes due again: letting go and
// stopping on call for damping, dead zone, braking and speed, none for other
// keys.
func Retests(key string) []string {
	switch key {
	case "tremor_damping", "dead_zone", "decel", "turn_decel", "fwd_speed_max", "rev_speed_max", "turn_speed":
		return []string{"ctl-release", "saf-stopcall"}
	}
	return nil
}

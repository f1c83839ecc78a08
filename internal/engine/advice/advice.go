// Package advice says which driver settings to try for an observed problem:
// which key, which way, by how much at a time, and what must be tested again
// after it. All of it is common practice without a source; the steps are a
// proposal, and each maker's manual decides. Pure: text in, text out.
package advice

import "doorsill/internal/engine/say"

// Provenance is the status of everything here, to be shown beside it.
const Provenance = "Common practice, no source. The size of a step is a proposal, not validated; the maker's manual decides."

// Ways to change a key.
const (
	Up   = "up"
	Down = "down"
	// Set is for keys that are switched or turned to a value.
	Set = "set"
)

// Change is one key to try.
type Change struct {
	// Key is a neutral setting key, Way one of Up, Down and Set.
	Key, Way string
	// Step is how much at a time, with its unit.
	Step string
	// Sentence says why, and what to watch.
	Sentence string
}

// For lists the changes to try for a problem, the likeliest first. An unknown
// problem has none.
func For(problem string) []Change {
	for i := range table {
		if table[i].problem == problem {
			return table[i].changes
		}
	}
	return nil
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

// Advice is For as text, fields parted by TAB: first a line "basis" with Provenance,
// then a line a change: key, way, step, sentence, and the items that become due
// again parted by a comma, or "-". An unknown problem gives "error", TAB and a
// sentence.
func Advice(problem string) string {
	changes := For(problem)
	if changes == nil {
		return "error\tNo advice for “" + printable(problem) + "”: expected an observed problem such as overshoots-turns or long-stop."
	}
	out := say.Append(nil, "basis\t{}\n", say.Words{Provenance})
	for _, c := range changes {
		due := say.List(Retests(c.Key), ",")
		if due == "" {
			due = "-"
		}
		out = say.Append(out, "{}\t{}\t{}\t{}\t{}\n", say.Words{c.Key, c.Way, c.Step, c.Sentence, due})
	}
	return string(out)
}

// printable keeps a line one line, whatever was asked.
func printable(text string) string {
	b := []byte(text)
	for i := range b {
		if b[i] < ' ' {
			b[i] = '?'
		}
	}
	return string(b)
}

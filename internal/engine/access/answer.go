package access

import (
	"strconv"

	"doorsill/internal/checklist"
	"doorsill/internal/decimal"
)

// OfLevel returns what the rules make of a control whose driver has that answer to
// an item in levels; Feasible where no rule looks at the item.
func OfLevel(item *checklist.Item, level string) Verdict {
	help, err := strconv.Atoi(level)
	if item.ID != gradingTerm.item || err != nil || help < 0 || help >= len(gradeVerdicts) {
		return Feasible
	}
	return gradeVerdicts[help]
}

// OfValue returns what the rules make of a control with that value of a number or
// a count, all else at its best; Feasible where no rule looks at the item.
func OfValue(item *checklist.Item, value decimal.Micro) Verdict {
	for _, r := range [...]*rule{&forceRule, &travelRule, &noiseRule, &releaseRule, &holdRule, &painRule} {
		if r.from != item.From || r.item != "" && r.item != item.ID {
			continue
		}
		v := r.of(value)
		if r.gentle {
			v = min(v, Marginal)
		}
		return v
	}
	return Feasible
}

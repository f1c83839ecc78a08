package endurance

import (
	"doorsill/internal/engine/provenance"
	"doorsill/internal/message"
)

// StrainSum is a strain index over several kinds of command or several tasks.
type StrainSum struct {
	// Index is the composite or the cumulative index, 3 decimals.
	Index float64
	// Hours a day that the index stands for.
	Hours float64
	// Over is true when Index is above StrainLimit.
	Over bool
	// Say tells the index and on which side of the limit it lies.
	Say message.Message
	provenance.Provenance
}

// Composite returns the composite strain index (COSI) of several kinds of
// command in one task. Ordered by index, highest first,
//
//	COSI = RSI1 + Σ (RSIi / EM(Ei)) · [EM(E1+…+Ei) − EM(E1+…+Ei−1)]
//
// with EM the factor of commands a minute; 3 decimals. All kinds share the
// hours of the task, and their command times together fit into a minute. Garg,
// Moore and Kapellusch, Ergonomics 2017;60(8):1033–1041; structure read in
// public code, citation from memory.
func Composite(tasks []Task) (StrainSum, error) {
	strains, err := composable(tasks)
	if err != nil {
		return StrainSum{}, err
	}
	order(strains, func(a, b Strain) bool { return a.exact > b.exact })
	var index, efforts float64
	for i, s := range strains {
		e := s.Task.PerMinute
		if i == 0 {
			index = s.exact
		} else {
			index += s.exact / effortsFactor(e) * (effortsFactor(efforts+e) - effortsFactor(efforts))
		}
		efforts += e
	}
	return strainSum("composite", index, strains[0].Task.Hours), nil
}

// composable checks the tasks of a composite and returns their indices.
func composable(tasks []Task) ([]Strain, error) {
	if len(tasks) == 0 {
		return nil, provenance.NewRefusal(message.New("endurance.none-given", message.Word("field", "kinds-of-command")))
	}
	var strains []Strain
	var time float64
	for i, t := range tasks {
		s, err := StrainIndex(t)
		if err != nil {
			return nil, err
		}
		if t.Hours != tasks[0].Hours {
			return nil, provenance.NewRefusal(message.New("endurance.other-hours", message.Word("field", "hours-a-day"),
				message.Count("n", i+1), message.Number("hours", provenance.Round(tasks[0].Hours, 2))))
		}
		time += t.PerMinute * t.Seconds
		strains = append(strains, s)
	}
	if time > 60*(1+1e-12) {
		return nil, provenance.NewRefusal(message.New("endurance.minute-too-full-together", message.Word("field", "time-of-commands"),
			message.Number("seconds", provenance.Round(time, 1))))
	}
	return strains, nil
}

// DayTask is a task with the hours it takes.
type DayTask struct {
	// Index is the index of the task (RSI or COSI) for its own hours, above 0.
	Index float64
	// Hours a day, above 0; all tasks together at most 24.
	Hours float64
}

// Cumulative returns the cumulative strain index (CUSI) of a day. Ordered by
// index, highest first, and of equal ones the shorter, which gives the larger sum,
//
//	CUSI = COSI1 + Σ (COSIi / HM(Hi)) · [HM(H1+…+Hi) − HM(H1+…+Hi−1)]
//
// with HM the factor of hours; 3 decimals. Source and status as Composite.
func Cumulative(tasks []DayTask) (StrainSum, error) {
	if err := checkDay(tasks); err != nil {
		return StrainSum{}, err
	}
	sorted := append([]DayTask{}, tasks...)
	order(sorted, func(a, b DayTask) bool { return a.Index > b.Index || a.Index == b.Index && a.Hours < b.Hours })
	var index, hours float64
	for i, t := range sorted {
		if i == 0 {
			index = t.Index
		} else {
			index += t.Index / hoursFactor(t.Hours) * (hoursFactor(hours+t.Hours) - hoursFactor(hours))
		}
		hours += t.Hours
	}
	return strainSum("cumulative", index, hours), nil
}

func checkDay(tasks []DayTask) error {
	if len(tasks) == 0 {
		return provenance.NewRefusal(message.New("endurance.none-given", message.Word("field", "tasks")))
	}
	total := 0.0
	still := message.New("endurance.still-other-tasks")
	for i, t := range tasks {
		err := provenance.First(
			provenance.AboveZero("task-index", t.Index, 1e6, "", still),
			provenance.AboveZero("hours-a-day", t.Hours, 24, "h", still),
		)
		if err != nil {
			return provenance.InPart("task", i+1, err)
		}
		total += t.Hours
	}
	return provenance.Between("hours-of-all-tasks", total, 0, 24, "h", message.New("endurance.still-each-task"))
}

func strainSum(name string, index, hours float64) StrainSum {
	s := StrainSum{Index: provenance.Round(index, 3), Hours: hours, Provenance: sumProvenance()}
	s.Over = over(index)
	s.Say = indexMessage(name, index)
	return s
}

func sumProvenance() provenance.Provenance {
	return provenance.Of("formula.strain-sum", "source.strain-sum", provenance.FromMemory)
}

// order puts those first that come before others.
func order[T any](list []T, before func(a, b T) bool) {
	for i := range list {
		for j := i; j > 0 && before(list[j], list[j-1]); j-- {
			list[j], list[j-1] = list[j-1], list[j]
		}
	}
}

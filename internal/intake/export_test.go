package intake

import (
	"io"

	"doorsill/internal/model"
)

// stumbling is an engine that fails in the middle of a visit.
type stumbling struct{}

// Score panics, as a fault in the engine would.
func (stumbling) Score(*model.Visit) (model.Result, error) { panic("a fault in the engine") }

// Stumble has every checklist's engine fail; call it before the first push.
func (in *Intake) Stumble() {
	for _, one := range in.checklists.all {
		one.scorer = stumbling{}
	}
}

// Reason is how the hint of a code begins.
func Reason(code string) string { return reason(code) }

// ReadPush reads a push without taking it in.
func ReadPush(body io.Reader) (count int, err error) {
	p, err := readPush(body)
	if err != nil {
		return 0, err
	}
	return len(p.items), nil
}

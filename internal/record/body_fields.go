package record

// The field methods read one key of a body each; a key that is not named here
// is passed over.

func (c *ClientOpened) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "team":
		return s.text(&c.Team)
	case "ref":
		return s.text(&c.Ref)
	case "name":
		return s.text(&c.Name)
	case "born":
		return s.text(&c.Born)
	case "referred":
		return s.text(&c.Referred)
	case "priority":
		return s.text(&c.Priority)
	case "course":
		return s.text(&c.Course)
	case "reason":
		return s.text(&c.Reason)
	case "visiting":
		return s.text(&c.Visiting)
	}
	return s.skip(0)
}

func (c *ClientChanged) field(s *scan, key []byte) *Refusal {
	if string(key) == "fields" {
		return s.texts(&c.Fields)
	}
	return s.skip(0)
}

func (c *ClientAssigned) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "assignee":
		return s.text(&c.Assignee)
	case "status":
		return s.text(&c.Status)
	case "version":
		return s.integer(&c.Version)
	case "by":
		return s.text(&c.By)
	}
	return s.skip(0)
}

func (v *VisitStarted) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "client":
		return s.text(&v.Client)
	case "team":
		return s.text(&v.Team)
	case "unit":
		return s.text(&v.Unit)
	case "second_of":
		return s.text(&v.SecondOf)
	case "checklist":
		return s.object(func(key []byte) *Refusal { return v.Checklist.field(s, key) })
	}
	return s.skip(0)
}

func (c *ChecklistRef) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "id":
		return s.text(&c.ID)
	case "version":
		return s.text(&c.Version)
	case "hash":
		return s.text(&c.Hash)
	}
	return s.skip(0)
}

func (v *VisitNoted) field(s *scan, key []byte) *Refusal {
	if string(key) == "fields" {
		return s.texts(&v.Fields)
	}
	return s.skip(0)
}

func (a *AnswerGiven) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "item":
		return s.text(&a.Item)
	case "state":
		return s.text(&a.State)
	case "level":
		return s.text(&a.Level)
	case "number":
		return s.optionalNumber(&a.Number)
	case "left":
		return s.optionalNumber(&a.Left)
	case "right":
		return s.optionalNumber(&a.Right)
	case "facts":
		return s.booleans(&a.Facts)
	case "reason":
		return s.text(&a.Reason)
	case "note":
		return s.text(&a.Note)
	}
	return s.skip(0)
}

func (a *AnswerChosen) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "item":
		return s.text(&a.Item)
	case "keep":
		return s.ref(&a.Keep)
	case "drop":
		return s.refs(&a.Drop)
	}
	return s.skip(0)
}

func (r *ReadingTaken) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "what":
		return s.text(&r.What)
	case "site":
		return s.text(&r.Site)
	case "direction":
		return s.text(&r.Direction)
	case "switch":
		return s.text(&r.Switch)
	case "state":
		return s.text(&r.State)
	case "supported":
		return s.boolean(&r.Supported)
	case "value":
		return s.number(&r.Value)
	case "unit":
		return s.text(&r.Unit)
	case "missed":
		return s.boolean(&r.Missed)
	case "note":
		return s.text(&r.Note)
	}
	return s.skip(0)
}

func (r *ReadingMarked) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "reading":
		return s.ref(&r.Reading)
	case "slip":
		return s.boolean(&r.Slip)
	case "reason":
		return s.text(&r.Reason)
	}
	return s.skip(0)
}

func (r *RunMarked) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "run":
		return s.ref(&r.Run)
	case "slip":
		return s.boolean(&r.Slip)
	case "reason":
		return s.text(&r.Reason)
	}
	return s.skip(0)
}

func (r *RunTimed) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "route":
		return s.text(&r.Route)
	case "place":
		return s.text(&r.Place)
	case "state":
		return s.text(&r.State)
	case "seconds":
		return s.number(&r.Seconds)
	case "metres":
		return s.number(&r.Metres)
	case "things":
		return s.count(&r.Things)
	case "people":
		return s.count(&r.People)
	case "prompts":
		return s.count(&r.Prompts)
	case "rescues":
		return s.count(&r.Rescues)
	case "unmeant":
		return s.count(&r.Unmeant)
	case "presses":
		return s.count(&r.Presses)
	case "note":
		return s.text(&r.Note)
	}
	return s.skip(0)
}

func (c *SetupChosen) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "class":
		return s.text(&c.Class)
	case "control":
		return s.text(&c.Control)
	case "site":
		return s.text(&c.Site)
	case "start_gf":
		return s.number(&c.StartGF)
	case "operate_gf":
		return s.number(&c.OperateGF)
	case "travel_mm":
		return s.number(&c.TravelMM)
	case "throw":
		return s.numbers(&c.Throw)
	case "needed":
		return s.words(&c.Needed)
	case "switch_press_gf":
		return s.number(&c.SwitchPressGF)
	case "power_press_gf":
		return s.number(&c.PowerPressGF)
	case "mode_press_gf":
		return s.number(&c.ModePressGF)
	case "place":
		return s.text(&c.Place)
	case "window":
		return s.text(&c.Window)
	}
	return s.skip(0)
}

func (p *PlanAgreed) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "recheck":
		return s.text(&p.Recheck)
	case "note":
		return s.text(&p.Note)
	}
	return s.skip(0)
}

func (o *OverrideMade) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "level":
		return s.text(&o.Level)
	case "reason":
		return s.text(&o.Reason)
	case "text":
		return s.text(&o.Text)
	case "mitigation":
		return s.text(&o.Mitigation)
	case "agreed":
		return s.text(&o.Agreed)
	case "from":
		return s.text(&o.From)
	case "until":
		return s.text(&o.Until)
	}
	return s.skip(0)
}

func (v *VisitSigned) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "level":
		return s.text(&v.Level)
	case "result":
		return s.text(&v.Result)
	case "name":
		return s.text(&v.Name)
	}
	return s.skip(0)
}

func (a *AmendmentMade) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "reason":
		return s.text(&a.Reason)
	case "kind":
		return s.text(&a.Kind)
	case "change":
		return s.raw(&a.Change)
	}
	return s.skip(0)
}

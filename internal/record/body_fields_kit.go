package record

func (c *ControlListed) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "team":
		return s.text(&c.Team)
	case "name":
		return s.text(&c.Name)
	case "class":
		return s.text(&c.Class)
	case "start_gf":
		return s.number(&c.StartGF)
	case "operate_gf":
		return s.number(&c.OperateGF)
	case "travel_mm":
		return s.number(&c.TravelMM)
	case "lever_mm":
		return s.number(&c.LeverMM)
	case "sealing":
		return s.text(&c.Sealing)
	case "power_jack":
		return s.boolean(&c.PowerJack)
	case "mode_jack":
		return s.boolean(&c.ModeJack)
	case "connector":
		return s.text(&c.Connector)
	case "attendant":
		return s.boolean(&c.Attendant)
	case "weight_g":
		return s.number(&c.WeightG)
	case "mounts":
		return s.words(&c.Mounts)
	case "measured":
		return s.text(&c.Measured)
	case "measured_by":
		return s.text(&c.MeasuredBy)
	case "gone":
		return s.boolean(&c.Gone)
	}
	return s.skip(0)
}

func (k *KitPacked) field(s *scan, key []byte) *Refusal {
	if string(key) == "controls" {
		return s.packedControls(&k.Controls)
	}
	return s.skip(0)
}

func (p *PackedControl) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "id":
		return s.text(&p.ID)
	case "name":
		return s.text(&p.Name)
	case "class":
		return s.text(&p.Class)
	case "start_gf":
		return s.number(&p.StartGF)
	case "operate_gf":
		return s.number(&p.OperateGF)
	case "travel_mm":
		return s.number(&p.TravelMM)
	case "lever_mm":
		return s.number(&p.LeverMM)
	case "sealing":
		return s.text(&p.Sealing)
	case "power_jack":
		return s.boolean(&p.PowerJack)
	case "mode_jack":
		return s.boolean(&p.ModeJack)
	case "attendant":
		return s.boolean(&p.Attendant)
	}
	return s.skip(0)
}

func (n *NeedsNoted) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "rough_ground":
		return s.optionalBool(&n.RoughGround)
	case "helper_drives":
		return s.optionalBool(&n.HelperDrives)
	case "reverse_key":
		return s.optionalBool(&n.ReverseKey)
	case "blocked":
		return s.optionalBool(&n.Blocked)
	case "hours_driving":
		return s.optionalNumber(&n.HoursDriving)
	case "commands_per_min":
		return s.optionalNumber(&n.CommandsPerMin)
	case "seconds_per_command":
		return s.optionalNumber(&n.SecondsPerCommand)
	case "wrist_deg":
		return s.optionalNumber(&n.WristDeg)
	case "task_share":
		return s.optionalNumber(&n.TaskShare)
	case "task_per_min":
		return s.optionalNumber(&n.TaskPerMin)
	case "task_seconds":
		return s.optionalNumber(&n.TaskSeconds)
	case "task_wrist_deg":
		return s.optionalNumber(&n.TaskWristDeg)
	case "task_hours":
		return s.optionalNumber(&n.TaskHours)
	case "wait_weeks":
		return s.optionalNumber(&n.WaitWeeks)
	case "base":
		return s.text(&n.Base)
	case "course":
		return s.text(&n.Course)
	case "wish_site":
		return s.text(&n.WishSite)
	case "wish_control":
		return s.text(&n.WishControl)
	case "moisture":
		return s.texts(&n.Moisture)
	case "rejected":
		return s.texts(&n.Rejected)
	}
	return s.skip(0)
}

func (n *NeedsUnset) field(s *scan, key []byte) *Refusal {
	if string(key) == "fields" {
		return s.words(&n.Fields)
	}
	return s.skip(0)
}

func (c *ChairMeasured) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "length_mm":
		return s.number(&c.LengthMM)
	case "width_mm":
		return s.number(&c.WidthMM)
	case "drive":
		return s.text(&c.Drive)
	case "ahead_mm":
		return s.number(&c.AheadMM)
	case "clearance_mm":
		return s.number(&c.ClearanceMM)
	case "slope_deg":
		return s.number(&c.SlopeDeg)
	case "chair_kg":
		return s.number(&c.ChairKG)
	case "person_kg":
		return s.number(&c.PersonKG)
	}
	return s.skip(0)
}

func (p *PlaceMeasured) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "place":
		return s.text(&p.Place)
	case "kind":
		return s.text(&p.Kind)
	case "name":
		return s.text(&p.Name)
	case "width_mm":
		return s.number(&p.WidthMM)
	case "corridor_mm":
		return s.number(&p.CorridorMM)
	case "corridor2_mm":
		return s.number(&p.Corridor2MM)
	case "rise_mm":
		return s.number(&p.RiseMM)
	case "run_mm":
		return s.number(&p.RunMM)
	case "landing_mm":
		return s.number(&p.LandingMM)
	case "height_mm":
		return s.number(&p.HeightMM)
	case "limit_kg":
		return s.number(&p.LimitKG)
	case "gone":
		return s.boolean(&p.Gone)
	}
	return s.skip(0)
}

func (c *SettingChanged) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "key":
		return s.text(&c.Key)
	case "profile":
		return s.text(&c.Profile)
	case "before":
		return s.text(&c.Before)
	case "after":
		return s.text(&c.After)
	case "unit":
		return s.text(&c.Unit)
	case "problem":
		return s.text(&c.Problem)
	case "why":
		return s.text(&c.Why)
	case "result":
		return s.text(&c.Result)
	case "firmware":
		return s.text(&c.Firmware)
	case "word":
		return s.text(&c.Word)
	}
	return s.skip(0)
}

func (t *SettingTried) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "setting":
		return s.ref(&t.Setting)
	case "outcome":
		return s.text(&t.Outcome)
	case "note":
		return s.text(&t.Note)
	}
	return s.skip(0)
}

func (m *MountNoted) field(s *scan, key []byte) *Refusal {
	switch string(key) {
	case "kind":
		return s.text(&m.Kind)
	case "fixed_to":
		return s.text(&m.FixedTo)
	case "forward_mm":
		return s.number(&m.ForwardMM)
	case "up_mm":
		return s.number(&m.UpMM)
	case "side_mm":
		return s.number(&m.SideMM)
	case "pitch_deg":
		return s.number(&m.PitchDeg)
	case "roll_deg":
		return s.number(&m.RollDeg)
	case "yaw_deg":
		return s.number(&m.YawDeg)
	case "gap_mm":
		return s.number(&m.GapMM)
	case "clear_s":
		return s.number(&m.ClearS)
	case "index":
		return s.boolean(&m.Index)
	case "tilt":
		return s.boolean(&m.Tilt)
	case "recline":
		return s.boolean(&m.Recline)
	case "transfer":
		return s.boolean(&m.Transfer)
	case "collision":
		return s.boolean(&m.Collision)
	case "note":
		return s.text(&m.Note)
	}
	return s.skip(0)
}

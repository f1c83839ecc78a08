package demo

// client is an invented person who waits for, or drives, a power wheelchair.
type client struct {
	name, born, priority, course, reason string
	// referred is days before today; visited is days before today, or -1.
	referred, visited int
	// recheck is days from today (negative is overdue), or 0 for none.
	recheck int
	status  string
	// assign is a login, or empty for nobody yet.
	assign, profile, site, class string
}

// past is a visit before the last one: days before today, and decay, the force
// then over the force at the last visit.
type past struct {
	days  int
	decay float64
}

// earlier are the earlier visits of clients who lose force.
func earlier() map[string][]past {
	return map[string][]past{
		"Alder Finchley": {{102, 1.62}, {74, 1.4}, {39, 1.2}},
		"Myrtle Ashby":   {{98, 1.62}, {70, 1.4}, {42, 1.2}},
		"Ivy Renshaw":    {{111, 2.0}, {76, 1.66}, {48, 1.38}, {27, 1.2}},
	}
}

// harbour is the first team's caseload. It holds a visit of every level.
func harbour() []client {
	return []client{
		{"Juniper Vale", "1961-04-02", "soon", "slow", "chin control wears the jaw out by noon", 74, 6, 28, "active", "marit", "wider", "hand-right", "standard"},
		{"Rowan Thatcher", "1988-11-19", "routine", "stable", "outgrown chair, wants to reach the shop", 51, 9, 84, "active", "marit", "home", "hand-left", "standard"},
		{"Alder Finchley", "1949-01-30", "urgent", "fast", "hand is fading, chair arrives in ten weeks", 112, 4, 24, "active", "marit", "faint", "index-right", "very-light"},
		{"Sorrel Quaye", "2011-08-08", "soon", "stable", "starts school in spring, first chair", 38, 11, 40, "active", "ilse", "learner", "hand-right", "small"},
		{"Bracken Odell", "1955-06-21", "urgent", "fluctuating", "two falls against the door frame last month", 30, 3, 11, "active", "marit", "contacts", "chin", "small"},
		{"Linden Marsh", "1972-03-14", "soon", "stable", "sleepy in the afternoons since new medicine", 45, 8, 20, "hold", "ilse", "drowsy", "hand-right", "standard"},
		{"Hazel Orme", "1939-12-05", "routine", "slow", "asks for a control she can reach in bed rest position", 88, 15, -9, "active", "marit", "brake", "hand-left", "standard"},
		{"Clover Whitby", "1994-07-17", "soon", "slow", "ten fingers weak, one thumb steady", 60, 12, 33, "active", "marit", "marginal", "thumb-right", "small"},
		{"Basil Emmet", "1966-10-28", "routine", "stable", "wants to cross the road to the library", 67, 20, 62, "active", "ilse", "home", "hand-right", "standard"},
		{"Fern Castellan", "1981-02-11", "urgent", "fast", "breathing tube near the present control", 12, 1, 27, "active", "marit", "lines", "chin", "small"},
		{"Moss Tarrant", "1952-09-09", "soon", "improving", "left side missed since the stroke", 41, 7, 14, "active", "marit", "sides", "hand-right", "standard"},
		{"Yarrow Pike", "1977-05-23", "routine", "stable", "new flat, narrow bathroom door", 95, 30, -16, "active", "ilse", "wider", "hand-left", "standard"},
		{"Teasel Brand", "1946-08-16", "soon", "slow", "shaking hand sets the chair off", 35, 5, 21, "active", "marit", "noise", "hand-right", "small"},
		{"Bryony Lark", "1990-12-24", "routine", "fluctuating", "good mornings, poor evenings", 58, 10, 18, "active", "ilse", "onetrial", "hand-right", "standard"},
		{"Larch Hadley", "1969-03-03", "routine", "stable", "carer drives with the same control", 70, 13, 45, "active", "marit", "home", "foot-left", "standard"},
		{"Thistle Mare", "1958-07-07", "soon", "slow", "saliva in the control", 27, 2, 26, "active", "marit", "started", "chin", "small"},
		{"Sedge Conway", "1984-01-09", "urgent", "fast", "urgent: discharge on Friday", 5, -1, 0, "waiting", "marit", "", "", ""},
		{"Campion Rae", "2004-06-30", "routine", "stable", "leaves college, wants to drive alone", 49, -1, 0, "waiting", "", "", "", ""},
		{"Vetch Ingram", "1963-11-11", "soon", "slow", "referred after a repair call", 19, -1, 0, "waiting", "", "", "", ""},
		{"Willow Strand", "1979-04-26", "routine", "improving", "asks whether the head pads can go", 33, -1, 0, "waiting", "ilse", "", "", ""},
		{"Aspen Doyle", "1957-02-18", "routine", "stable", "no reason given on the form", 102, -1, 0, "hold", "", "", "", ""},
		{"Heath Ellery", "1943-10-02", "soon", "slow", "present chair unsafe on the ramp", 16, 0, 0, "active", "marit", "started", "hand-right", "standard"},
	}
}

// upland is the second team's caseload.
func upland() []client {
	return []client{
		{"Cedar Nolan", "1970-01-15", "soon", "slow", "gravel yard, chin driver", 44, 9, 19, "active", "davit", "marginal", "chin", "small"},
		{"Maple Guthrie", "1986-05-05", "routine", "stable", "farm lanes alone", 63, 17, 67, "active", "davit", "wider", "hand-right", "standard"},
		{"Ivy Renshaw", "1950-08-12", "urgent", "fast", "force has halved since summer", 121, 6, -2, "active", "davit", "faint", "thumb-left", "very-light"},
		{"Poppy Aldous", "2013-03-27", "soon", "stable", "second try at driving", 39, 8, 48, "active", "davit", "learner", "hand-left", "small"},
		{"Sage Hollis", "1962-09-20", "routine", "slow", "tilt takes the hand off the control", 80, 22, 12, "active", "davit", "home", "hand-right", "standard"},
		{"Reed Farrow", "1975-12-01", "soon", "fluctuating", "blackout in September", 29, 5, 15, "hold", "davit", "episodes", "hand-left", "standard"},
		{"Myrtle Ashby", "1941-06-06", "routine", "slow", "hears no horn", 57, 14, 30, "active", "davit", "home", "hand-right", "standard"},
		{"Furze Denholm", "1968-02-29", "soon", "stable", "stuck twice in the lift", 36, 4, 25, "active", "davit", "contacts", "hand-right", "standard"},
		{"Laurel Speight", "1992-10-10", "routine", "stable", "wants the evening class", 53, 19, 70, "active", "davit", "wider", "hand-left", "standard"},
		{"Olive Tranter", "1947-04-04", "soon", "slow", "cannot let go in time", 31, 7, 13, "active", "davit", "release", "index-left", "very-light"},
		{"Quill Armitage", "1983-07-31", "routine", "improving", "from head pads back to a hand", 66, 16, 44, "active", "davit", "onetrial", "hand-right", "small"},
		{"Rush Beadle", "1960-11-05", "soon", "stable", "not told yet where driving is allowed", 25, 3, 0, "active", "davit", "unwritten", "hand-right", "standard"},
		{"Savory Kemble", "1954-05-18", "urgent", "fast", "urgent: carer leaves next week", 8, -1, 0, "waiting", "davit", "", "", ""},
		{"Tansy Wick", "1998-08-22", "routine", "stable", "wants a smaller chair", 47, -1, 0, "waiting", "", "", "", ""},
		{"Violet Garrod", "1973-01-01", "soon", "slow", "pain in the thumb after driving", 14, -1, 0, "waiting", "", "", "", ""},
		{"Woad Hesketh", "1965-03-19", "routine", "stable", "new ramp to be looked at", 61, -1, 0, "waiting", "", "", "", ""},
		{"Zinnia Crole", "2008-12-12", "soon", "improving", "first visit missed, family away", 55, -1, 0, "hold", "", "", "", ""},
		{"Lovage Penn", "1959-09-29", "routine", "slow", "half-finished visit, brakes set anew before the rain", 26, 1, 0, "active", "davit", "started", "hand-left", "standard"},
	}
}

package record

import (
	"strconv"
	"strings"
)

func (n *NeedsNoted) check() *Refusal {
	if n.empty() {
		return &Refusal{Code: CodeRequired, Want: "at least one need"}
	}
	bad := first(
		givenBetween("hours_driving", n.HoursDriving, 0, 24, "h"),
		givenBetween("commands_per_min", n.CommandsPerMin, 0, 120, "a minute"),
		givenBetween("seconds_per_command", n.SecondsPerCommand, 0, 60, "s"),
		givenBetween("wrist_deg", n.WristDeg, -90, 90, "degrees"),
		givenBetween("task_share", n.TaskShare, 1, 100, "%"),
		givenBetween("task_per_min", n.TaskPerMin, 0, 120, "a minute"),
		givenBetween("task_seconds", n.TaskSeconds, 0, 60, "s"),
		givenBetween("task_wrist_deg", n.TaskWristDeg, -90, 90, "degrees"),
		givenBetween("task_hours", n.TaskHours, 0, 24, "h"),
		givenBetween("wait_weeks", n.WaitWeeks, 0, 260, "weeks"),
		amongOrNone("base", n.Base, Bases()),
		amongOrNone("course", n.Course, Courses()),
		wish(n),
	)
	if bad == nil {
		bad = n.checkSites()
	}
	return bad
}

func (n *NeedsUnset) check() *Refusal {
	if len(n.Fields) == 0 {
		return &Refusal{Code: CodeRequired, Field: "fields", Want: "at least one need"}
	}
	for i, field := range n.Fields {
		name := "fields[" + strconv.Itoa(i) + "]"
		if site, is := strings.CutPrefix(field, bySite); is {
			if !KnownSite(site) {
				return &Refusal{Code: CodeWrongType, Field: name, Want: bySite + "chin or another site", Got: quoted(field)}
			}
			continue
		}
		if bad := among(name, field, NeedFields()...); bad != nil {
			return bad
		}
	}
	return nil
}

// told counts what is given besides what is said by site.
func (n *NeedsNoted) told() int {
	count := 0
	for _, truth := range [...]*bool{n.RoughGround, n.HelperDrives, n.ReverseKey, n.Blocked} {
		if truth != nil {
			count++
		}
	}
	for _, field := range NeedFields() {
		if at := n.count(field); at != nil && *at != nil {
			count++
		}
	}
	for _, word := range [...]string{n.Base, n.Course, n.WishSite, n.WishControl} {
		if word != "" {
			count++
		}
	}
	return count
}

func (n *NeedsNoted) empty() bool {
	return n.told() == 0 && len(n.Moisture) == 0 && len(n.Rejected) == 0
}

// checkSites checks what is said by site.
func (n *NeedsNoted) checkSites() *Refusal {
	for _, site := range sortedKeys(n.Moisture) {
		if bad := first(siteKey(site), among(site, n.Moisture[site], Moistures()...)); bad != nil {
			return bad.within("moisture")
		}
	}
	for _, site := range sortedKeys(n.Rejected) {
		if bad := first(siteKey(site), short(site, n.Rejected[site], LongestText)); bad != nil {
			return bad.within("rejected")
		}
	}
	return nil
}

// siteKey refuses a field that is not named after a site.
func siteKey(site string) *Refusal {
	if KnownSite(site) {
		return nil
	}
	return &Refusal{Code: CodeWrongType, Field: site, Want: "a site such as chin or index-right as the name of the field"}
}

func wish(n *NeedsNoted) *Refusal {
	if n.WishSite != "" && !KnownSite(n.WishSite) {
		return missingOr(CodeWrongType, "wish_site", "a site such as chin or index-right", n.WishSite)
	}
	if class, is := strings.CutPrefix(n.WishControl, "class:"); is {
		return among("wish_control", class, Classes()...)
	}
	return idOrNone("wish_control", n.WishControl)
}

func givenBetween(field string, value *float64, low, high float64, unit string) *Refusal {
	if value == nil {
		return nil
	}
	return between(field, *value, low, high, unit)
}

func amongOrNone(field, text string, words []string) *Refusal {
	if text == "" {
		return nil
	}
	return among(field, text, words...)
}

func (c *SettingChanged) check() *Refusal {
	return first(
		among("key", c.Key, SettingKeys()...),
		short("profile", c.Profile, LongestName),
		need("before", c.Before, LongestName, "the value before"),
		need("after", c.After, LongestName, "the value after"),
		short("unit", c.Unit, LongestWord),
		amongOrNone("problem", c.Problem, Problems()),
		need("why", c.Why, LongestText, "why the setting was changed"),
		short("result", c.Result, LongestText),
		short("firmware", c.Firmware, LongestName),
		short("word", c.Word, LongestName),
		c.checkRange("before", c.Before),
		c.checkRange("after", c.After),
	)
}

func (t *SettingTried) check() *Refusal {
	return first(refOf("setting", t.Setting), among("outcome", t.Outcome, Outcomes()...), short("note", t.Note, LongestText))
}

// checkRange checks a value that is a number in a unit whose range is known.
// Steps and makers' words are as they are.
func (c *SettingChanged) checkRange(field, text string) *Refusal {
	value, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return nil
	}
	switch c.Unit {
	case "%":
		low, high := percentRange(c.Key)
		return between(field, value, low, high, "%")
	case "deg":
		return between(field, value, 0, 359, "degrees")
	case "s":
		return between(field, value, 0, 3_600, "s")
	}
	return nil
}

func percentRange(key string) (low, high float64) {
	switch {
	case key == "dead_zone":
		return 0, 50
	case strings.HasPrefix(key, "throw_"):
		return 20, 100
	}
	return 0, 100
}

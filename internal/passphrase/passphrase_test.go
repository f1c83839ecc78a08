package passphrase

import (
	"strings"
	"testing"
)

func TestWhatIsEasyToGuessIsRefused(t *testing.T) {
	context := []string{"mara.q", "Mara Invented-Quist", "mara.quist@harbour.example", "North Shore team", "https://rehab.lakeside.example"}
	for _, c := range []struct {
		name, password string
		ok             bool
	}{
		{"unrelated words", "four plain pebbles", true},
		{"four words that are listed", "wheelchair summer dragon pepper", true},
		{"a name in something long", "mara keeps quiet tortoises", true},
		{"other letters", "хорошо забытое старое", true},
		{"no letters", "🎈🍋🐢🚲🌵🎻🧦🥕🪁🎲🧭🪺🛶🥨🔔", true},
		{"spaces count", "over the wet hill", true},
		{"15 characters", "fifteen letterz", true},

		{"14 characters", "only14 letters", false},
		{"257 characters", strings.Repeat("q7 bZ", 51) + "xy", false},
		{"no text", "\xff\xfe not text at all", false},
		{"one letter", "aaaaaaaaaaaaaaaaa", false},
		{"one sign", "---------------------", false},
		{"a piece over and over", "abcabcabcabcabcabc", false},
		{"the same with signs between", "cob-ble cobb.le cobble", false},
		{"few characters", "abba baab abab ba", false},
		{"a word said again", "lighthouse lighthouse 7", false},
		{"digits in order", "123456789012345", false},
		{"a row of keys", "qwertyuiopasdfghjkl", false},
		{"a row of German keys", "qwertzuiopasdfghjkl", false},
		{"keys across", "1qaz2wsx3edc4rfv", false},
		{"the alphabet backwards", "zyxwvutsrqponmlkj", false},
		{"a common word and years", "Password-2026-2026", false},
		{"a masked common word", "P4$$w0rd-P4ssw0rd-99", false},
		{"three common words", "wheelchair summer dragon", false},
		{"a known example", "correct horse battery staple", false},
		{"a first line", "It was the best of times", false},
		{"a masked first line", "1t w4s the b3st 0f t1mes", false},
		{"a saying", "Practice makes perfect!", false},
		{"counting in words", "one two three four", false},
		{"a phrase and a year", "once upon a time 1984", false},
		{"the name", "Mara Invented 2026!", false},
		{"the sign-in name", "maramaramaramara", false},
		{"the e-mail address", "mara.quist@harbour", false},
		{"the team", "Northshoreteam2026", false},
		{"the organisation", "Lakeside-Rehab-2026", false},
		{"the app", "Doorsill Doorsill 26", false},
		{"what the demo prints", "over the door sill", false},
		{"a masked name", "Qu1st-1nvented-99", false},
	} {
		err := Check(c.password, context...)
		if (err == nil) != c.ok {
			t.Errorf("%s: %q: %v, want accepted %v", c.name, c.password, err, c.ok)
		}
		if err != nil && (err.Path != "password" || err.Want == "" || err.Got != "") {
			t.Errorf("%s: %+v does not say what is expected, or repeats the password", c.name, err)
		}
	}
}

// TestEveryListedPhraseIsRefused tries each line of the list that is long enough,
// and in capitals with a year behind.
func TestEveryListedPhraseIsRefused(t *testing.T) {
	long := 0
	for line := range strings.SplitSeq(strings.TrimSpace(common), "\n") {
		if len(line) < Least {
			continue
		}
		long++
		for _, password := range []string{line, strings.ToUpper(line) + "2026", strings.ReplaceAll(line, " ", "-")} {
			if len(password) >= Least && Check(password) == nil {
				t.Errorf("%q is accepted", password)
			}
		}
	}
	if long < 100 {
		t.Errorf("only %d phrases of %d characters or more", long, Least)
	}
}

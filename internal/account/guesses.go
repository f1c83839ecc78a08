package account

import (
	"strings"
	"time"
)

// Wrong passwords in a row for one name, from wherever they come. NIST SP 800-63B
// allows at most 100 for one account and names waits that grow up to an hour as
// one of the ways to get there slowly (revision 4, section 3.2.2; from memory,
// not checked against the text). So many as freeGuesses are compared without a
// wait. The last of them and each that follows makes everybody wait who is not at a
// browser or in a network that the person has signed in from; after maxGuesses those
// have to wait until a new password is set. What is known of the person has the same
// count for itself, and after maxGuesses is known no longer.
// The first number and the first wait are a proposal, not validated.
const (
	freeGuesses = 10
	maxGuesses  = 100
	firstPause  = 30 * time.Second
	longestWait = time.Hour
	// maxGuessed bounds the counts for names that nobody has. They are counted so
	// that the waits do not tell who exists.
	maxGuessed = 20_000
)

// guesses counts the wrong passwords in a row.
type guesses struct {
	failed int
	// next is when one more may be tried.
	next time.Time
	// person is whose name it is. What is counted for somebody is not forgotten
	// to make room.
	person string
}

// spent says that there were as many as there may be.
func (g *guesses) spent() bool { return g.failed >= maxGuesses }

func (g *guesses) wait(now time.Time) time.Duration {
	if g.spent() {
		return longestWait
	}
	if wait := g.next.Sub(now); wait > longestWait { // the clock was set back
		g.next = now.Add(pauseAfter(g.failed))
	}
	return g.next.Sub(now)
}

// pauseAfter is how long nobody may try after so many in a row.
func pauseAfter(failed int) time.Duration {
	if failed < freeGuesses {
		return 0
	}
	pause := firstPause
	for range failed - freeGuesses {
		if pause *= 2; pause >= longestWait {
			return longestWait
		}
	}
	return pause
}

func (l *signInLimiter) guessesOf(key, person string) *guesses {
	g, ok := l.guesses[key]
	if !ok {
		if len(l.guesses) >= maxGuessed {
			l.forgetStrangers()
		}
		g = &guesses{}
		l.guesses[key] = g
	}
	if person != "" {
		g.person = person // an account can be made after somebody tried its name
	}
	return g
}

// forgetStrangers drops the counts for names that nobody has, those of sessions,
// of which anybody signed in can make many, and those that stand at nothing.
func (l *signInLimiter) forgetStrangers() {
	for key, g := range l.guesses {
		if g.person == "" || g.failed == 0 || strings.HasPrefix(key, "own\x00session ") {
			delete(l.guesses, key)
		}
	}
}

// newPassword begins all counts for a person anew: nothing of the password before
// helps to guess this one.
func (l *signInLimiter) newPassword(person, login string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	for key, g := range l.guesses {
		if g.person == person || strings.HasSuffix(key, "\x00"+login) {
			delete(l.guesses, key)
		}
	}
}

package account

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"slices"
	"time"

	"doorsill/internal/store"
)

// ErrManyTablets is returned when somebody has registered as many tablets within a
// day as they may.
var ErrManyTablets = errors.New("too many tablets in one day")

// MostTabletsADay is how many tablets one person may register within a day; a name
// that is proven to be theirs does not count. Proposal, not validated.
const MostTabletsADay = 10

const (
	nameSize = 16 // bytes at random
	markSize = 16 // bytes of the mark that follows
)

// TabletNames makes names of tablets that say whose they are, and tells it from a
// name also when the tablet itself is not known any more: after the random part
// comes a mark, HMAC-SHA-256 of it and of the person's id, cut to 128 bits. The
// zero TabletNames makes names without a mark, as earlier versions did, and tells
// nothing.
type TabletNames struct{ secrets [][]byte }

// NewTabletNames marks names with the first of the server's secrets, and tells
// marks by any of them: the others were the first before.
func NewTabletNames(secrets ...[]byte) TabletNames { return TabletNames{secrets} }

func mark(secret []byte, random, person string) string {
	mac := hmac.New(sha256.New, secret)
	mac.Write([]byte(random + "\n" + person))
	return hex.EncodeToString(mac.Sum(nil)[:markSize])
}

// of is the whole name of a person's tablet.
func (n TabletNames) of(random, person string) string {
	if len(n.secrets) == 0 {
		return random
	}
	return random + mark(n.secrets[0], random, person)
}

// Whose says whether a name has a mark, and whether it is the person's.
func (n TabletNames) Whose(id, person string) (marked, theirs bool) {
	raw, err := hex.DecodeString(id)
	if len(n.secrets) == 0 || err != nil || len(raw) != nameSize+markSize {
		return false, false
	}
	random, held := id[:2*nameSize], []byte(id[2*nameSize:])
	return true, slices.ContainsFunc(n.secrets, func(secret []byte) bool {
		return hmac.Equal(held, []byte(mark(secret, random, person)))
	})
}

// newTabletsToday counts a person's tablets that were registered within a day.
func newTabletsToday(r store.TabletReader, person string, now time.Time) (count int, err error) {
	since := stamp(now.Add(-24 * time.Hour))
	list, err := r.TabletsOfPerson(person)
	for _, t := range list {
		if t.Registered > since {
			count++
		}
	}
	return count, err
}

package server

import (
	"net/netip"
	"sync"
)

// How many requests may be under way. All numbers are a proposal, not validated.
const (
	maxAtOnce = 256
	// maxOfStrangers leaves the rest to whoever comes with a session, or in a
	// browser in which somebody has signed in.
	maxOfStrangers = maxAtOnce / 4 * 3
	// maxOfSource is how many strangers of one address may hold, or of one IPv6
	// /64, which is one household or one attacker: a whole clinic can be behind
	// it, and somebody who sends slowly on purpose as well.
	maxOfSource = maxAtOnce / 4
	// maxOfNetwork is the same for an IPv4 /24 and an IPv6 /48.
	maxOfNetwork = maxAtOnce / 8 * 3
	// maxOfPerson is for one person's sessions and browsers together.
	maxOfPerson = maxAtOnce / 8
)

// crowd counts the requests under way: in all, those of strangers, and each
// person's, address's and network's.
type crowd struct {
	mu             sync.Mutex
	all, strangers int
	by             map[string]int
}

func newCrowd() *crowd { return &crowd{by: make(map[string]int)} }

// enter says whether there is a place for one more, and how to give it back.
// known is the id of who comes, empty for a stranger; whoever is known counts for
// themselves, whatever address they come from, while they have places of their own.
func (c *crowd) enter(source, known string) (leave func(), ok bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.all >= maxAtOnce {
		return nil, false
	}
	if own := "person " + known; known != "" && c.by[own] < maxOfPerson {
		c.all++
		return c.count(func() { c.all-- }, own), true
	}
	address, network := placesOf(source)
	if c.strangers >= maxOfStrangers || c.by[address] >= maxOfSource || c.by[network] >= maxOfNetwork {
		return nil, false
	}
	c.all++
	c.strangers++
	return c.count(func() { c.all--; c.strangers-- }, address, network), true
}

// count adds one to each and returns what takes it away again.
func (c *crowd) count(less func(), names ...string) (leave func()) {
	for _, name := range names {
		c.by[name]++
	}
	return func() {
		c.mu.Lock()
		defer c.mu.Unlock()
		less()
		for _, name := range names {
			if c.by[name]--; c.by[name] == 0 {
				delete(c.by, name)
			}
		}
	}
}

// placesOf are the names under which a source is counted.
func placesOf(source string) (address, network string) {
	address, network = "address "+source, "network "+source
	addr, err := netip.ParseAddr(source)
	if err != nil {
		return address, network
	}
	bits := 24
	if addr.Is6() {
		bits = 48
		if household, err := addr.Prefix(64); err == nil {
			address = "address " + household.String()
		}
	}
	if wide, err := addr.Prefix(bits); err == nil {
		network = "network " + wide.String()
	}
	return address, network
}

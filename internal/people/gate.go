package people

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"maps"
	"slices"
	"sync"
	"time"
)

// How tries are slowed: a person's few mistakes cost nothing, and a guesser gets
// about a hundred tries a day at one login. Common practice, no source.
const (
	freeByLogin   = 5
	freeByAddress = 30 // an office shares one address
	firstPause    = 2 * time.Second
	longestPause  = 15 * time.Minute
	forgotten     = 24 * time.Hour // after the last try
	mostRows      = 10000
)

// gate counts the tries that went wrong, by login and by address, whether there
// is such a login or not. A try counts as wrong from its beginning, so that many
// at once do not slip through together.
type gate struct {
	mu        sync.Mutex
	logins    ledger
	addresses ledger
}

func newGate() *gate {
	return &gate{logins: newLedger(freeByLogin), addresses: newLedger(freeByAddress)}
}

// try is one that the gate let through.
type try struct {
	gate           *gate
	login, address key
	failed         int // tries at the login before this one that went wrong
}

// enter lets a try through and counts it, or says how long to wait. What has to
// wait does not count. An empty address is not counted by.
func (g *gate) enter(now time.Time, by, from string) (*try, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	t := &try{gate: g, login: keyOf(by)}
	left := g.logins.left(t.login, now)
	if from != "" {
		t.address = keyOf(origin(from))
		left = max(left, g.addresses.left(t.address, now))
	}
	if left > 0 {
		return nil, &Wait{For: left, words: "too many sign-ins went wrong"}
	}
	t.failed = g.logins.rows[t.login].tries
	g.logins.count(t.login, now)
	if from != "" {
		g.addresses.count(t.address, now)
	}
	return t, nil
}

// succeeded forgets the tries at the login. Of the address only this try is
// taken back: whoever has an account of their own must not be able to wipe out
// with it what they tried at others'.
func (t *try) succeeded() {
	t.gate.mu.Lock()
	defer t.gate.mu.Unlock()
	delete(t.gate.logins.rows, t.login)
	t.gate.addresses.takeBack(t.address)
}

// void takes back a try that did not take place.
func (t *try) void() {
	t.gate.mu.Lock()
	defer t.gate.mu.Unlock()
	t.gate.logins.takeBack(t.login)
	t.gate.addresses.takeBack(t.address)
}

// forgive forgets the tries at a login, or whatever they were counted by.
func (g *gate) forgive(by string) {
	g.mu.Lock()
	defer g.mu.Unlock()
	delete(g.logins.rows, keyOf(by))
}

// key is a login or an address in a fixed size.
type key [sha256.Size]byte

func keyOf(text string) key { return sha256.Sum256([]byte(text)) }

// row is what is known of one login or address.
type row struct {
	tries       int
	last, until time.Time // of the last try, and of the wait after it
}

// ledger is a bounded list of rows.
type ledger struct {
	rows map[key]row
	free int // tries without a wait
}

func newLedger(free int) ledger { return ledger{map[key]row{}, free} }

// pause is the wait after so many tries.
func (l *ledger) pause(tries int) time.Duration {
	if tries <= l.free {
		return 0
	}
	pause := firstPause
	for n := l.free + 1; n < tries && pause < longestPause; n++ {
		pause *= 2
	}
	return min(pause, longestPause)
}

// left returns how long a key has still to wait.
func (l *ledger) left(k key, now time.Time) time.Duration {
	r, there := l.rows[k]
	if !there {
		return 0
	}
	if r.last.After(now) { // the clock jumped back: the wait begins anew
		r.last, r.until = now, now.Add(l.pause(r.tries))
		l.rows[k] = r
	}
	if now.Sub(r.last) >= forgotten {
		delete(l.rows, k)
		return 0
	}
	return max(0, r.until.Sub(now))
}

// count adds a try.
func (l *ledger) count(k key, now time.Time) {
	r, there := l.rows[k]
	if !there && len(l.rows) >= mostRows {
		l.shrink(now)
	}
	r.tries++
	r.last, r.until = now, now.Add(l.pause(r.tries))
	l.rows[k] = r
}

// takeBack takes the last try of a key back, and the wait with it.
func (l *ledger) takeBack(k key) {
	r, there := l.rows[k]
	switch {
	case !there:
	case r.tries <= 1:
		delete(l.rows, k)
	default:
		r.tries--
		r.until = r.last
		l.rows[k] = r
	}
}

// shrink makes room: what is forgotten goes, or else the eighth with the fewest
// tries, the oldest first, so that a flood of new names pushes out its like and
// not the login that someone has been guessing at.
func (l *ledger) shrink(now time.Time) {
	maps.DeleteFunc(l.rows, func(_ key, r row) bool { return now.Sub(r.last) >= forgotten })
	if len(l.rows) < mostRows {
		return
	}
	type entry struct {
		key key
		row row
	}
	all := make([]entry, 0, len(l.rows))
	for k, r := range l.rows {
		all = append(all, entry{k, r})
	}
	slices.SortFunc(all, func(a, b entry) int {
		return cmp.Or(cmp.Compare(a.row.tries, b.row.tries), a.row.last.Compare(b.row.last), bytes.Compare(a.key[:], b.key[:]))
	})
	for _, e := range all[:mostRows/8] {
		delete(l.rows, e.key)
	}
}

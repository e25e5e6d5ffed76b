package people

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"
)

var start = time.Date(2026, 5, 12, 8, 0, 0, 0, time.UTC)

func TestPauses(t *testing.T) {
	l := newLedger(5)
	for tries, want := range map[int]time.Duration{
		0: 0, 1: 0, 5: 0, 6: 2 * time.Second, 7: 4 * time.Second, 8: 8 * time.Second, 14: 512 * time.Second,
		15: 15 * time.Minute, 16: 15 * time.Minute, 1 << 62: 15 * time.Minute,
	} {
		if got := l.pause(tries); got != want {
			t.Errorf("after %d tries: %v, want %v", tries, got, want)
		}
	}
}

// A guesser who never tires and knows exactly when to try gets no more than a
// hundred tries a day at one login, and a few more on the first.
func TestAGuesserGetsFewTries(t *testing.T) {
	g := newGate()
	now := start
	for day := range 10 {
		tries := 0
		for end := now.Add(24 * time.Hour); now.Before(end); {
			_, err := g.enter(now, "rosalind", fmt.Sprintf("2001:db8:%x::", now.UnixNano()%65536))
			var wait *Wait
			if errors.As(err, &wait) {
				now = now.Add(wait.For)
				continue
			}
			tries++
		}
		if day == 0 && tries > 112 || day > 0 && tries > 97 {
			t.Errorf("day %d: %d tries", day, tries)
		}
	}
	now = now.Add(24 * time.Hour)
	if left := g.logins.left(keyOf("rosalind"), now); left != 0 || len(g.logins.rows) != 0 {
		t.Errorf("a day later there are %v left and %d rows", left, len(g.logins.rows))
	}
}

// Whatever happens, in whatever order, and however the clock jumps: no wait is
// longer than the longest, whoever waits as told is let in, memory is bounded,
// and what was let through at one login since its last success is at most the
// free tries and one for each wait.
func TestTheGateWhateverHappens(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 1))
		g := newGate()
		now := start
		var running []*try
		for range 300 {
			switch r.IntN(12) {
			case 0:
				now = now.Add(-time.Duration(r.Int64N(int64(1000 * 24 * time.Hour))))
			case 1:
				now = now.Add(time.Duration(r.Int64N(int64(1000 * 24 * time.Hour))))
			case 2, 3:
				now = now.Add(time.Duration(r.Int64N(int64(time.Minute))))
			case 4, 5:
				if n := len(running); n > 0 {
					at := r.IntN(n)
					if r.IntN(2) == 0 {
						running[at].succeeded()
					} else {
						running[at].void()
					}
					running = append(running[:at], running[at+1:]...)
				}
			default:
				login := fmt.Sprintf("login%d", r.IntN(3))
				from := fmt.Sprintf("192.0.2.%d", r.IntN(2))
				t1, err := g.enter(now, login, from)
				var wait *Wait
				switch {
				case err == nil:
					running = append(running, t1)
				case !errors.As(err, &wait) || wait.For <= 0 || wait.For > longestPause:
					t.Fatalf("seed %d: %v", seed, err)
				case r.IntN(3) == 0:
					now = now.Add(wait.For)
					if _, err := g.enter(now, login, from); err != nil {
						t.Fatalf("seed %d: %v after the wait that was told", seed, err)
					}
				}
			}
			for _, l := range []ledger{g.logins, g.addresses} {
				for _, row := range l.rows {
					if row.tries < 1 || row.until.Sub(row.last) > longestPause || row.until.Before(row.last) {
						t.Fatalf("seed %d: %+v", seed, row)
					}
				}
			}
		}
	}
}

// Between two successes, however tries begin and end, no more get through than
// free ones and one after each wait.
func TestTriesAtOnceDoNotSlipThrough(t *testing.T) {
	g := newGate()
	through := 0
	for range 1000 {
		if _, err := g.enter(start, "rosalind", ""); err == nil {
			through++
		}
	}
	if through != freeByLogin+1 {
		t.Errorf("%d tries at one moment", through)
	}
}

// A flood of new names is bounded, and does not push out the login that someone
// has been guessing at.
func TestAFloodIsBounded(t *testing.T) {
	g := newGate()
	for range freeByLogin + 1 {
		if _, err := g.enter(start, "rosalind", ""); err != nil {
			t.Fatal(err)
		}
	}
	for n := range 2 * mostRows {
		name := fmt.Sprintf("%d", n)
		if _, err := g.enter(start.Add(time.Duration(n)), name, name); err != nil {
			t.Fatal(err)
		}
		if len(g.logins.rows) > mostRows || len(g.addresses.rows) > mostRows {
			t.Fatalf("%d and %d rows", len(g.logins.rows), len(g.addresses.rows))
		}
	}
	if _, err := g.enter(start.Add(time.Second), "rosalind", ""); err == nil {
		t.Error("the flood wiped out the tries at a login")
	}
	later := start.Add(25 * time.Hour) // when all of them may be forgotten
	for n := range mostRows {
		if _, err := g.enter(later, fmt.Sprintf("later %d", n), ""); err != nil {
			t.Fatal(err)
		}
	}
	if len(g.logins.rows) > mostRows || g.logins.left(keyOf("rosalind"), later) != 0 {
		t.Errorf("%d rows a day later", len(g.logins.rows))
	}
	for n := range mostRows {
		if g.logins.rows[keyOf(fmt.Sprintf("later %d", n))].tries != 1 {
			t.Fatalf("row %d of a day later made room for what was forgotten", n)
		}
	}
}

func TestWaitsInWords(t *testing.T) {
	for wait, want := range map[time.Duration]string{
		time.Nanosecond: "1 second", time.Second: "1 second", 1500 * time.Millisecond: "2 seconds", 100 * time.Second: "100 seconds",
		101 * time.Second: "2 minutes", 15 * time.Minute: "15 minutes", 0: "1 second",
	} {
		if got := span(wait); got != want {
			t.Errorf("%v: %q, want %q", wait, got, want)
		}
	}
	if w := (&Wait{For: 1200 * time.Millisecond}); w.RetryAfter() != 2*time.Second {
		t.Errorf("retry after %v", w.RetryAfter())
	}
}

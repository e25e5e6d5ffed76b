package web

import (
	"context"
	"time"
)

// gate lets so many in at once.
type gate chan struct{}

func newGate(n int) gate { return make(gate, n) }

// gatePatience is how long someone waits at a gate before being told to come
// back.
const gatePatience = 10 * time.Second

// enter waits for a place. Whoever got one must leave.
func (g gate) enter(ctx context.Context) error {
	timer := time.NewTimer(gatePatience)
	defer timer.Stop()
	select {
	case g <- struct{}{}:
		return nil
	case <-timer.C:
		return busy{"many photos are coming in at this moment"}
	case <-ctx.Done():
		return ctx.Err()
	}
}

func (g gate) leave() { <-g }

// busy says that there was no room for a request.
type busy struct{ words string }

func (b busy) Error() string { return b.words + "; wait a moment and send it again" }

// RetryAfter says how long to wait.
func (b busy) RetryAfter() time.Duration { return 5 * time.Second }

package people

import (
	"context"
	"sync/atomic"
	"time"
)

// mostWaiting is how many may wait for a slot.
const mostWaiting = 64

// slots lets a few hash at the same time, so that many sign-ins at once cannot
// eat the memory, and a bounded number wait for it.
type slots struct {
	free    chan struct{}
	waiting atomic.Int32
}

func newSlots(n int) *slots { return &slots{free: make(chan struct{}, n)} }

// take waits for a slot. The caller gives it back.
func (s *slots) take(ctx context.Context) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	select {
	case s.free <- struct{}{}:
		return nil
	default:
	}
	defer s.waiting.Add(-1)
	if s.waiting.Add(1) > mostWaiting {
		return &Wait{For: 5 * time.Second, words: "many people sign in at this moment"}
	}
	select {
	case s.free <- struct{}{}:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

func (s *slots) give() { <-s.free }

package storage

import (
	"fmt"

	"undersod/core/unit"
)

// allot says what each trench takes of an inflow as things stand, and what
// backs up. A trench at its top that is sent more than it soaks takes what it
// soaks, and the others are asked again for the rest. Every round but the last
// fills one more, so it comes to an end; what one takes is less than it was
// sent, so the rest stays above zero.
func (f *follower) allot(inflow float64) error {
	for i := range f.basins {
		f.full[i], f.takes[i] = f.basins[i].shut, 0
	}
	f.backing = 0
	for rest := inflow; rest > 0; {
		shares, err := f.shares(rest)
		if err != nil {
			return err
		}
		if shares == nil {
			f.backing = rest
		}
		held, more := f.send(shares, rest)
		if !more {
			break
		}
		rest -= held
	}
	return nil
}

// send gives each trench that is not full its share of a flow. It returns what
// those take that this makes full, and whether there are any.
func (f *follower) send(shares []float64, flow float64) (held float64, more bool) {
	for i := range f.basins {
		if f.full[i] {
			continue
		}
		f.takes[i] = 0
		if shares != nil {
			f.takes[i] = shares[i] * flow
		}
	}
	for i := range f.basins {
		b := &f.basins[i]
		if most := b.soaks(b.top); !f.full[i] && b.full() && f.takes[i] > most {
			f.full[i], f.takes[i] = true, most
			held, more = held+most, true
		}
	}
	return held, more
}

// shares returns the shares of an inflow, nil where no trench is sent any.
func (f *follower) shares(inflow float64) ([]float64, error) {
	if f.run.Divide == nil {
		return equalShares(f.full), nil
	}
	shares := f.run.Divide(unit.Flow(inflow), append([]bool(nil), f.full...))
	if len(shares) != len(f.basins) {
		return nil, fmt.Errorf("the box divides among %d trenches, there are %d; give one share for each", len(shares), len(f.basins))
	}
	total := 0.0
	for i, s := range shares {
		who := naming(i, f.run.Trenches[i])
		if !(s >= 0 && s <= 1.001) {
			return nil, fmt.Errorf("%s: the box sends it the share %g; a share is from 0 to 1", who, s)
		}
		if s > 0 && f.full[i] {
			return nil, fmt.Errorf("%s: the box sends it the share %g, but it takes no more; its share must be 0", who, s)
		}
		total += s
	}
	switch {
	case total == 0:
		return nil, nil
	case total < 0.999 || total > 1.001:
		return nil, fmt.Errorf("the shares of the box add up to %g; they must add up to 1, or all be 0", total)
	}
	out := make([]float64, len(shares))
	for i, s := range shares {
		out[i] = s / total
	}
	return out, nil
}

// equalShares returns equal shares for what is not full, nil when all is.
func equalShares(full []bool) []float64 {
	open := 0.0
	for _, f := range full {
		if !f {
			open++
		}
	}
	if open == 0 {
		return nil
	}
	out := make([]float64, len(full))
	for i, f := range full {
		if !f {
			out[i] = 1 / open
		}
	}
	return out
}

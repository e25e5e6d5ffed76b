package setback

import (
	"slices"

	"undersod/core/clearance"
)

// rounds is how often the distances are grown: the uncertainty at the place
// found is not that at the last one, but nearly.
const rounds = 6

// safe looks for a place again with every distance that is not clear at the last
// one grown by its uncertainty, until all are clear; nil where none is found. The
// limits are those of the place to start from.
func (g *ground) safe(limits []Limiting, s *stand, find func(clearance.Ground) (clearance.Found, error)) *clearance.Found {
	grown := g.Ground
	grown.Obstacles = slices.Clone(grown.Obstacles)
	for range rounds {
		for _, l := range limits {
			keep := &grown.Setback
			if !l.Lot {
				keep = &grown.Obstacles[l.obstacle].Setback
			}
			if l.Verdict != Clear {
				*keep = max(*keep, l.Required+l.Within+hair)
			}
		}
		at, err := find(grown)
		if err != nil || !at.Fits {
			return nil
		}
		limits = g.limiting(at.Placement, clearance.Margins(g.Ground, g.q.Footprint, at.Placement), s)
		if worst(limits, true) == Clear {
			return &at
		}
	}
	return nil
}

// safeStated is the smallest move of the stated place, whose limits are not all
// clear, that makes it clear of everything.
func (g *ground) safeStated(p clearance.Placement, limits []Limiting) *clearance.Found {
	return g.safe(limits, g.hold(p), func(grown clearance.Ground) (clearance.Found, error) {
		return clearance.Cure(grown, g.q.Footprint, p)
	})
}

// safeNear is the place nearest to the wish that is clear of everything, turned
// as the best one is, whose limits are not all clear.
func (g *ground) safeNear(best clearance.Found, limits []Limiting) *clearance.Found {
	return g.safe(limits, nil, func(grown clearance.Ground) (clearance.Found, error) {
		return clearance.NearestTo(grown, g.q.Footprint, clearance.Turns{From: best.Turn, To: best.Turn}, *g.q.Near)
	})
}

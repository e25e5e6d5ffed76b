package setback

import (
	"slices"

	"undersod/core/clearance"
)

// rounds is how often the distances are grown: the uncertainty at the place
// found is not that at the last one, but nearly.
const rounds = 6

// safe looks for a place again with every distance that is not clear at the last
// one grown by its uncertainty, until all are clear; nil where none is found.
func (g *ground) safe(from clearance.Found, s *stand, find func(clearance.Ground) (clearance.Found, error)) *clearance.Found {
	grown := g.Ground
	grown.Obstacles = slices.Clone(grown.Obstacles)
	for range rounds {
		limits := g.limiting(from.Placement, clearance.Margins(g.Ground, g.q.Footprint, from.Placement), s)
		if worst(limits, true) == Clear {
			return &from
		}
		for _, l := range limits {
			keep := &grown.Setback
			if !l.Lot {
				keep = &grown.Obstacles[l.obstacle].Setback
			}
			if l.Verdict != Clear {
				*keep = max(*keep, l.Required+l.Within+hair)
			}
		}
		var err error
		if from, err = find(grown); err != nil || !from.Fits {
			return nil
		}
	}
	return nil
}

// safeStated is the smallest move of the stated place that makes it clear of
// everything.
func (g *ground) safeStated(p clearance.Placement) *clearance.Found {
	return g.safe(clearance.Found{Placement: p}, g.hold(p), func(grown clearance.Ground) (clearance.Found, error) {
		return clearance.Cure(grown, g.q.Footprint, p)
	})
}

// safeNear is the place nearest to the wish that is clear of everything, turned
// as the best one is.
func (g *ground) safeNear(best clearance.Found) *clearance.Found {
	return g.safe(best, nil, func(grown clearance.Ground) (clearance.Found, error) {
		return clearance.NearestTo(grown, g.q.Footprint, clearance.Turns{From: best.Turn, To: best.Turn}, *g.q.Near)
	})
}

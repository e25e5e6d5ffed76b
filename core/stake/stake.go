// Package stake says how to peg the corners of something that is to be built:
// the tape distances to each corner from marks that can be seen.
package stake

import (
	"math"
	"slices"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// Peg is one corner to be pegged.
type Peg struct {
	At   planar.Vec
	Ties []Tie // two whose tapes cross best, and a third that checks them; fewer where there are no more
}

// Tie is one tape distance to a corner.
type Tie struct {
	From     site.Name
	Distance unit.Length
}

// Choices of the pegging; common practice, no source.
const (
	nearest  = unit.Foot
	farthest = 300 * unit.Foot // the longest tape that is made for the work
	skin     = unit.Foot / 4   // a tape along a wall does not run through the house
	// leastCrossing is the least sine of the angle at which two tapes cross:
	// twenty degrees. Flatter ones cannot be pegged by hand.
	leastCrossing = 0.342
)

// mark is a located mark seen from a corner.
type mark struct {
	name     site.Name
	distance unit.Length
	toward   planar.Vec // from the mark to the corner, one metre long
	sd       float64    // of the tape, m
}

// Out returns how to peg each corner, in their order. Only marks that are
// located, lie between 1 ft and 300 ft off, and are not hidden behind a building
// are taken. With the standard deviations s and t of two tapes that cross at
// the angle a, the peg is off by sqrt(s²+t²)/sin a (the trace of the covariance
// of the crossing); the pair with the least is taken.
func Out(job *site.Job, plan *adjust.Plan, corners []planar.Vec) []Peg {
	g := groundOf(job, plan)
	out := make([]Peg, len(corners))
	for i, c := range corners {
		out[i] = Peg{At: c, Ties: ties(g.seen(c))}
	}
	return out
}

// ground is the located marks and the buildings between them.
type ground struct {
	names     []site.Name
	places    []planar.Vec
	buildings []planar.Ring
}

func groundOf(job *site.Job, plan *adjust.Plan) ground {
	var g ground
	located := map[site.Name]planar.Vec{}
	for _, p := range plan.Points {
		if p.Placed && p.State == adjust.Determined && finite(p.At.East) && finite(p.At.North) {
			located[p.Name] = p.At
		}
	}
	for _, p := range job.Site.Points {
		if at, ok := located[p.Name]; ok && p.IsMark() {
			g.names, g.places = append(g.names, p.Name), append(g.places, at)
		}
	}
	for _, b := range job.Site.Buildings {
		var ring planar.Ring
		for _, c := range b.Corners {
			if at, ok := located[c]; ok {
				ring = append(ring, at)
			}
		}
		if len(ring) > 2 && len(ring) == len(b.Corners) {
			g.buildings = append(g.buildings, ring)
		}
	}
	return g
}

// seen lists the marks that a tape can be pulled from, nearest first.
func (g ground) seen(corner planar.Vec) []mark {
	if !finite(corner.East) || !finite(corner.North) {
		return nil
	}
	var out []mark
	for i, at := range g.places {
		step := corner.Minus(at)
		d := step.Length()
		if d < nearest || d > farthest || g.hidden(at, corner) {
			continue
		}
		toward, _ := step.Unit()
		out = append(out, mark{g.names[i], d, toward, float64(tape().At(d))})
	}
	slices.SortStableFunc(out, func(a, b mark) int {
		switch {
		case a.distance < b.distance:
			return -1
		case a.distance > b.distance:
			return 1
		}
		return 0
	})
	return out
}

func (g ground) hidden(from, to planar.Vec) bool {
	for _, b := range g.buildings {
		if b.Through(from, to, skin) > skin {
			return true
		}
	}
	return false
}

// tape is how a fibreglass tape scatters.
func tape() adjust.Deviation {
	for _, d := range adjust.Defaults() {
		if d.Kind == site.FibreglassTape {
			return d.Deviation
		}
	}
	return adjust.Deviation{}
}

// ties chooses the best pair and a third that crosses one of them best.
func ties(marks []mark) []Tie {
	first, second, ok := bestPair(marks)
	if !ok {
		return []Tie{}
	}
	chosen := []int{first, second}
	third, least := -1, math.Inf(1)
	for k := range marks {
		if k == first || k == second {
			continue
		}
		if e := min(off(marks[k], marks[first]), off(marks[k], marks[second])); e < least {
			third, least = k, e
		}
	}
	if third >= 0 {
		chosen = append(chosen, third)
	}
	slices.Sort(chosen) // nearest first
	out := make([]Tie, 0, len(chosen))
	for _, k := range chosen {
		out = append(out, Tie{marks[k].name, marks[k].distance})
	}
	return out
}

func bestPair(marks []mark) (first, second int, ok bool) {
	least := math.Inf(1)
	for i := range marks {
		for j := i + 1; j < len(marks); j++ {
			if e := off(marks[i], marks[j]); e < least {
				first, second, least, ok = i, j, e, true
			}
		}
	}
	return first, second, ok
}

// off is how far the crossing of two tapes lies from where it should, one
// standard deviation; without end where they cross too flat.
func off(a, b mark) float64 {
	sine := math.Abs(float64(a.toward.Cross(b.toward)))
	if !(sine >= leastCrossing) {
		return math.Inf(1)
	}
	return math.Hypot(a.sd, b.sd) / sine
}

func finite(l unit.Length) bool { return !math.IsNaN(float64(l)) && !math.IsInf(float64(l), 0) }

package adjust_test

import (
	"fmt"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// hastyYard is a yard measured hastily: each part has a few readings of any
// kind from any mark or earlier part, a true side hint or none.
func hastyYard(seed uint64) *yard {
	y := newYard(seed)
	y.put("A", site.RoleMark, at(0, 0))
	y.put("B", site.RoleMark, at(40, 0))
	y.put("C", site.RoleMark, at(50, 35), site.Side{Kind: site.LeftOf, From: "A", To: "B"})
	y.put("D", site.RoleMark, at(-6, 40))
	from := []site.Name{"A", "B", "C", "D"}
	for i, a := range from {
		for _, b := range from[i+1:] {
			y.scattered(a, b, unit.Inch/4)
		}
	}
	for k := range 8 {
		name := site.Name(fmt.Sprint("part ", k))
		y.put(name, site.RolePart, at(80*y.rand.Float64()-20, 100*y.rand.Float64()-50))
		y.hasty(name, from)
		from = append(from, name)
	}
	return y
}

// hasty takes one to four readings of a part.
func (y *yard) hasty(name site.Name, from []site.Name) {
	if y.rand.IntN(3) == 0 {
		kind := site.LeftOf
		if y.truth[name].North < 0 {
			kind = site.RightOf
		}
		last := &y.job.Site.Points[len(y.job.Site.Points)-1]
		last.Sides = []site.Side{{Kind: kind, From: "A", To: "B"}}
	}
	used := map[site.Name]bool{}
	for range 1 + y.rand.IntN(4) {
		m := from[y.rand.IntN(len(from))]
		switch k := y.rand.IntN(8); {
		case used[m]:
		case k == 0:
			sd := 2 * unit.Degree
			y.bearing(m, name, 0.4+sd*unit.Angle(y.rand.NormFloat64()), false)
		case k == 1:
			sd := unit.Foot / 10
			noise := func() unit.Length { return sd * unit.Length(y.rand.NormFloat64()) }
			v := y.truth[name]
			y.read(site.Offset{Taken: named("offset " + site.ReadingID(m+name)), From: "A", To: "B", Point: name, SD: &sd,
				Station: asRead(v.East + noise()), Right: asRead(-v.North + noise())})
		default:
			y.scattered(m, name, unit.Inch/4)
		}
		used[m] = true
	}
}

// TestWhatIsCalledDeterminedIsThere holds the plan's word: in yards without a
// slip whose plan passes the global test, a point called determined lies where
// it truly is, within what is said of it. Start places are judged as if the
// points they are tied to were exact; where those are known to a foot only, by
// compass bearings or by ties that cross at a slant, a mirror may be ruled out
// wrongly. Such yards are rare even here, and counted.
func TestWhatIsCalledDeterminedIsThere(t *testing.T) {
	count := map[adjust.State]int{}
	outside, determined, misplaced := 0, 0, 0
	for seed := range uint64(600) {
		y := hastyYard(seed)
		p := adjust.Solve(&y.job, adjust.Settings{SkipSearch: true, SkipNext: true})
		for _, q := range p.Points {
			if q.Role != site.RolePart || !p.Global.Passed {
				continue
			}
			count[q.State]++
			truth := y.aligned(p.Frame, y.truth[q.Name])
			off := func(v planar.Vec) unit.Length { return v.Minus(truth).Length() }
			switch q.State {
			case adjust.Determined:
				determined++
				if off(q.At) > q.Ellipse.Radius {
					outside++
				}
				if off(q.At) > 3*q.Ellipse.Radius+unit.Inch/4 {
					misplaced++
					t.Logf("yard %d: %s is called determined within %.2f ft and lies %.2f ft off",
						seed, q.Name, q.Ellipse.Radius.Feet(), off(q.At).Feet())
				}
			}
		}
	}
	if part := float64(misplaced) / float64(determined); part > 0.0005 {
		t.Errorf("%d of %d determined points are misplaced", misplaced, determined)
	}
	// Truth and frame carry the datum's own error, so the count is only near 5 %.
	if part := float64(outside) / float64(determined); part > 0.08 {
		t.Errorf("%.1f %% of the points lie outside their 95 %% circle", 100*part)
	}
	t.Logf("states %v, %d of %d outside the circle", count, outside, determined)
}

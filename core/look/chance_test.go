package look_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"undersod/core/adjust"
	"undersod/core/look"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// shake moves the located points of a yard by errors of their covariance, all
// alike where together is set, and returns the true plan.
func shake(r *rand.Rand, p adjust.Plan, together bool) adjust.Plan {
	out := p
	out.Points = nil
	a, b := r.NormFloat64(), r.NormFloat64()
	for _, q := range p.Points {
		if !together {
			a, b = r.NormFloat64(), r.NormFloat64()
		}
		c := q.Sigma.Correlation
		q.At.East += q.Sigma.East * unit.Length(a)
		q.At.North += q.Sigma.North * unit.Length(c*a+math.Sqrt(1-c*c)*b)
		out.Points = append(out.Points, q)
	}
	return out
}

// TestRadiusHoldsThePlace draws the errors of the points and of the footage many
// times and counts how often the true place lies within the 95 % radius. Where
// the points are sure it is 95 % to the last; where they are not, the bound for
// points that may move in any way together makes it more.
func TestRadiusHoldsThePlace(t *testing.T) {
	const draws = 4000
	for _, c := range []struct {
		name        string
		point, foot unit.Length
		together    bool
		low, high   float64
	}{
		{"footage alone", 0, ft(0.65), false, 0.94, 0.96},
		{"points alone, apart", ft(0.3), 0, false, 0.945, 1},
		{"points alone, together", ft(0.3), 0, true, 0.945, 1},
		{"both, apart", ft(0.3), ft(0.3), false, 0.945, 1},
		{"both, together", ft(0.3), ft(0.3), true, 0.945, 1},
		{"as in a yard", ft(0.05), ft(0.65), false, 0.94, 0.97},
	} {
		for _, station := range []unit.Length{ft(8), ft(26), ft(55)} {
			y := bent(c.point)
			for i := range y.plan.Points {
				y.plan.Points[i].Sigma.North *= 0.5
				y.plan.Points[i].Sigma.Correlation = 0.4
			}
			s := look.SpotAt(&y.job, &y.plan, "Line 2", station, c.foot)
			r, in := rand.New(rand.NewPCG(11, uint64(station*100))), 0
			for range draws {
				truth := shake(r, y.plan, c.together)
				real := look.SpotAt(&y.job, &truth, "Line 2", station+c.foot*unit.Length(r.NormFloat64()), 0)
				if real.At.Minus(s.At).Length() <= s.Radius {
					in++
				}
			}
			if share := float64(in) / draws; share < c.low || share > c.high {
				t.Errorf("%s, at %v ft: %.3f lie within the radius, want %v to %v", c.name, station.Feet(), share, c.low, c.high)
			}
		}
	}
}

// crooked is a random line of three to eight points.
func crooked(r *rand.Rand) *yard {
	y, places := &yard{}, map[site.Name]planar.Vec{}
	v := planar.Vec{}
	var names []site.Name
	for i := range 3 + r.IntN(6) {
		n := site.Name(rune('a' + i))
		names = append(names, n)
		places[n] = v
		v = v.Plus(planar.Polar(unit.Angle(r.Float64()*6), ft(2+30*r.Float64())))
	}
	y.put(ft(0.1*r.Float64()), places, names...)
	y.job.Site.Lines = []site.Line{{Name: "Line 2", Path: names}}
	return y
}

// TestPlaceFollowsTheFootage holds for any line: the place moves no farther than
// the footage does, the station grows with it, and both directions meet.
func TestPlaceFollowsTheFootage(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 60 {
		y := crooked(r)
		path := y.job.Site.Lines[0].Path
		first := look.SpotAt(&y.job, &y.plan, "Line 2", ft(1e4), 0)
		whole := first.Station
		same(t, "a far station", first.Beyond, ft(1e4)-whole)
		const n = 200
		last := look.SpotAt(&y.job, &y.plan, "Line 2", 0, ft(0.1))
		for i := 1; i <= n; i++ {
			d := whole * unit.Length(i) / n
			s := look.SpotAt(&y.job, &y.plan, "Line 2", d, ft(0.1))
			if step := s.At.Minus(last.At).Length(); !s.Known || step > whole/n*(1+1e-9) {
				t.Fatalf("a jump of %v for a footage of %v", step, whole/n)
			}
			if s.Station <= last.Station || s.Radius < ft(0.19) {
				t.Fatalf("station %v after %v, radius %v", s.Station, last.Station, s.Radius)
			}
			last = s
		}
		there, back := whole*unit.Length(r.Float64()), whole*unit.Length(r.Float64())
		y.run(site.Run{}, seen(site.Cracked, min(there, back).Feet(), max(there, back).Feet()))
		y.run(site.Run{Entry: path[len(path)-1]}, seen(site.Cracked, (whole-max(there, back)).Feet(), (whole-min(there, back)).Feet()))
		runs := look.Lay(&y.job, &y.plan)
		a, b := runs[0].Findings[0], runs[1].Findings[0]
		lies(t, "from either end", a.From.At, b.To.At)
		lies(t, "from either end", a.To.At, b.From.At)
		same(t, "the stretch", a.Stretch, (there - back).Abs())
		same(t, "its path", planar.Path(a.Path).Length(), a.Stretch)
	}
}

// FuzzLay gives it whatever may be typed.
func FuzzLay(f *testing.F) {
	f.Add("Line 2", "end", "", 1.0, 41.0, 60.0, 0.01, 8.0, uint8(0))
	f.Add("", "cleanout", "D-box", math.NaN(), -3.0, math.Inf(1), -1.0, math.NaN(), uint8(255))
	f.Add("Line 2", "", "bend", 1e300, 1e-300, 0.0, 1e9, -5.0, uint8(3))
	f.Fuzz(func(t *testing.T, line, entry, toward string, zero, from, to, pushed, percent float64, bits uint8) {
		y := bent(ft(0.1))
		full := yardWithThings(y)
		find := seen(site.FindingKind(line), from, to)
		find.What, find.Percent, find.Grade = site.Flattened, &percent, site.Grade(bits)
		find.Depth = reads(to)
		if bits&1 != 0 {
			find.At = nil
		}
		if bits&2 != 0 {
			y.plan.Points[int(bits)%len(y.plan.Points)].State = adjust.Undetermined
		}
		if bits&4 != 0 {
			y.plan.Points[int(bits)%4].At = planar.Vec{East: unit.Length(zero), North: unit.Length(to)}
		}
		if bits&8 != 0 {
			y.plan.Points[int(bits)%4].Sigma = adjust.Sigma{East: unit.Length(from), North: unit.Length(to), Correlation: zero}
		}
		full.run(site.Run{Line: site.Name(line), Entry: site.Name(entry), Toward: site.Name(toward), Zero: reads(zero), Pushed: pushed,
			Ended: site.ReachedEnd, EndedAt: reads(to)}, find, site.Finding{}, seen(site.LineEndSeen, to))
		for _, r := range look.Lay(&y.job, &y.plan) {
			for _, f := range r.Findings {
				if f.From.Known && (math.IsNaN(float64(f.From.At.East)) || math.IsNaN(float64(f.From.Radius))) {
					t.Errorf("a known place that is no number: %+v", f.From)
				}
				if f.Words == "" || f.Grade > site.Act || f.Grade == site.GradeUnstated {
					t.Errorf("words %q, grade %v", f.Words, f.Grade)
				}
			}
		}
	})
}

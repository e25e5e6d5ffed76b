package adjust_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// tank is the truth of an outline: 8 ft 6 in by 5 ft, turned, near edge first.
type tank struct {
	centre        planar.Vec
	azimuth       unit.Angle // of the length, to the right along the near edge
	length, width unit.Length
}

var trueTank = tank{at(15, -18), 1.4, ft(8.5), ft(5)}

// on returns the place on an edge at a part of its length from -1/2 to 1/2, and
// off metres outside.
func (k tank) on(e site.Edge, part float64, off unit.Length) planar.Vec {
	u, v := planar.Polar(k.azimuth, 1), planar.Polar(k.azimuth-math.Pi/2, 1) // right, far
	along, across := float64(k.length)*part, float64(k.width)*part
	switch e {
	case site.EdgeRight:
		return k.centre.Plus(u.Times(float64(k.length/2 + off))).Plus(v.Times(across))
	case site.EdgeLeft:
		return k.centre.Plus(u.Times(-float64(k.length/2 + off))).Plus(v.Times(across))
	case site.EdgeFar:
		return k.centre.Plus(v.Times(float64(k.width/2 + off))).Plus(u.Times(along))
	}
	return k.centre.Plus(v.Times(-float64(k.width/2 + off))).Plus(u.Times(along))
}

type probe struct {
	edge site.Edge
	part float64
}

var probes = []probe{{site.EdgeNear, -0.4}, {site.EdgeNear, 0.35}, {site.EdgeFar, -0.3}, {site.EdgeFar, 0.4},
	{site.EdgeLeft, 0.1}, {site.EdgeRight, -0.2}, {site.EdgeRight, 0.3}}

// probed adds a tank with its hits to the demo, each hit tied from three marks.
// A hit lies scatter times its standard deviation of an inch off its edge.
func probed(y *yard, list []probe, named, size bool, scatter, noise float64) {
	o := &site.Outline{}
	if size {
		l, w := asRead(trueTank.length), asRead(trueTank.width)
		o.Length, o.Width = &l, &w
	}
	for i, h := range list {
		name := site.Name(fmt.Sprint("hit ", i+1))
		y.put(name, site.RoleHit, trueTank.on(h.edge, h.part, unit.Inch*unit.Length(scatter*y.rand.NormFloat64())), lawn)
		for _, m := range []site.Name{"F", "E", "D"} {
			y.tieRead(m, name, asRead(y.apart(m, name)+unit.Inch/4*unit.Length(noise*y.rand.NormFloat64())), unit.Inch/4)
		}
		hit := site.Hit{Point: name}
		if named {
			hit.Edge = h.edge
		}
		o.Hits = append(o.Hits, hit)
	}
	y.job.Site.Parts = append(y.job.Site.Parts, site.Part{Name: "tank", Kind: site.SepticTank, Outline: o})
}

// firmHouse is the demo's house alone with its corners known very well.
func firmHouse(seed uint64) *yard {
	y := newYard(seed)
	y.house(0)
	sd, square := unit.Length(1e-4), unit.Angle(1e-5)
	y.job.Site.Buildings[0].SideSD, y.job.Site.Buildings[0].Square = &sd, &square
	return y
}

func TestARectangleIsFittedToItsHits(t *testing.T) {
	for _, named := range []bool{true, false} {
		for _, size := range []bool{true, false} {
			t.Run(fmt.Sprintf("edges named %v, size known %v", named, size), func(t *testing.T) {
				y := firmHouse(1)
				probed(y, probes, named, size, 0, 0)
				p := y.solve()
				o := p.Outlines[0]
				if !o.Fitted {
					t.Fatal(o.Why)
				}
				wantNear(t, "centre off", float64(o.Centre.Minus(y.aligned(p.Frame, trueTank.centre)).Length()), 0, 1e-4)
				length, width, az := float64(o.Length), float64(o.Width), float64(o.Azimuth)
				if !named && length < width { // nobody said which edge is which
					length, width, az = width, length, az+math.Pi/2
				}
				wantNear(t, "length", length, float64(trueTank.length), 1e-4)
				wantNear(t, "width", width, float64(trueTank.width), 1e-4)
				turn := y.truth[p.Frame.Toward].Minus(y.truth[p.Frame.Mark]).Azimuth() - p.Frame.Azimuth
				half := math.Pi
				if named {
					half = 2 * math.Pi
				}
				wantNear(t, "azimuth", math.Remainder(az+float64(turn-trueTank.azimuth), half), 0, 1e-4)
				observations := len(probes)
				if size {
					observations += 2
				}
				if o.Freedom != observations-5 || o.Statistic > 1e-3 {
					t.Errorf("freedom %d, statistic %v", o.Freedom, o.Statistic)
				}
				for _, h := range o.Hits {
					if h.LiesOff || h.Words != "" || h.Edge == site.AnyEdge {
						t.Errorf("hit %+v", h)
					}
				}
				if area := polygon(o.Corners); math.Abs(area+length*width) > 1e-6 {
					t.Errorf("corners are not clockwise or not the rectangle: area %v", area)
				}
			})
		}
	}
}

// polygon is the area of four corners, negative when clockwise.
func polygon(c [4]planar.Vec) float64 {
	sum := unit.Area(0)
	for k, v := range c {
		sum += v.Cross(c[(k+1)%4])
	}
	return float64(sum) / 2
}

func TestAHitOffTheOutlineIsTold(t *testing.T) {
	for _, off := range []float64{1, -1} {
		y := firmHouse(1)
		probed(y, probes, true, true, 0, 0)
		y.truth["hit 3"] = trueTank.on(site.EdgeFar, -0.3, ft(off))
		for _, m := range []site.Name{"F", "E", "D"} {
			spoil(y, "tie "+site.ReadingID(m)+" > hit 3", asRead(y.apart(m, "hit 3")))
		}
		p := y.solve()
		for _, h := range p.Outlines[0].Hits {
			if h.LiesOff != (h.Point == "hit 3") {
				t.Errorf("off %v: %+v", off, h)
			}
			if h.LiesOff && (!strings.Contains(h.Words, "hit 3") || !strings.Contains(h.Words, map[bool]string{true: "outside", false: "inside"}[off > 0])) {
				t.Errorf("words %q", h.Words)
			}
		}
		if p.Verdict.Fill != adjust.FillNo {
			t.Error("may be filled")
		}
	}
}

func TestTooFewHitsAreNotFitted(t *testing.T) {
	for name, list := range map[string][]probe{
		"two hits":      probes[:2],
		"one edge only": {{site.EdgeNear, -0.4}, {site.EdgeNear, 0}, {site.EdgeNear, 0.4}, {site.EdgeNear, 0.2}, {site.EdgeNear, 0.1}},
		"opposite only": {{site.EdgeNear, -0.4}, {site.EdgeNear, 0.4}, {site.EdgeFar, -0.4}, {site.EdgeFar, 0.4}, {site.EdgeFar, 0}},
		"none":          nil,
	} {
		y := firmHouse(1)
		probed(y, list, true, true, 0, 0)
		p := y.solve()
		if o := p.Outlines[0]; o.Fitted || o.Why == "" {
			t.Errorf("%s: fitted %v %q", name, o.Fitted, o.Why)
		}
		if !strings.Contains(strings.Join(p.Verdict.Reasons, " "), "tank") {
			t.Errorf("%s: reasons %q", name, p.Verdict.Reasons)
		}
	}
}

// TestTheSpreadOfAnOutlineIsAsStated repeats the probing 500 times with errors
// of the stated deviations and compares the spread of the centre.
func TestTheSpreadOfAnOutlineIsAsStated(t *testing.T) {
	const seeds = 500
	var east, north, sumE, sumN float64
	for seed := range uint64(seeds) {
		y := firmHouse(seed)
		probed(y, probes, true, false, 1, 1)
		p := adjust.Solve(&y.job, adjust.Settings{SkipNext: true, SkipSearch: true})
		o := p.Outlines[0]
		if !o.Fitted {
			t.Fatalf("seed %d: %s", seed, o.Why)
		}
		d := o.Centre.Minus(y.aligned(p.Frame, trueTank.centre))
		east, north = east+float64(d.East*d.East), north+float64(d.North*d.North)
		sumE, sumN = sumE+float64(o.Sigma.East), sumN+float64(o.Sigma.North)
	}
	for _, c := range []struct {
		axis         string
		spread, said float64
	}{{"east", math.Sqrt(east / seeds), sumE / seeds}, {"north", math.Sqrt(north / seeds), sumN / seeds}} {
		if r := c.spread / c.said; r < 0.85 || r > 1.15 {
			t.Errorf("%s: spread %.5f m, stated %.5f m", c.axis, c.spread, c.said)
		}
	}
}

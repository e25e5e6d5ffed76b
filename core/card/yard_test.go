package card_test

import (
	"math"
	"math/rand/v2"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

func ft(v float64) unit.Length { return unit.Length(v) * unit.Foot }

func at(e, n float64) planar.Vec { return planar.Vec{East: ft(e), North: ft(n)} }

// yard is an invented job whose plan is set by hand.
type yard struct {
	job  site.Job
	plan adjust.Plan
}

func (y *yard) put(n site.Name, role site.Role, kind string, v planar.Vec, sd unit.Length) {
	y.job.Site.Points = append(y.job.Site.Points, site.Point{Name: n, Role: role, Kind: kind})
	s := adjust.Sigma{East: sd, North: sd}
	y.plan.Points = append(y.plan.Points, adjust.Point{Name: n, Role: role, At: v, Placed: true, Sigma: s, Ellipse: s.Ellipse95()})
}

func (y *yard) mark(n site.Name, v planar.Vec) { y.put(n, site.RoleMark, "iron pin", v, 0) }

func (y *yard) part(n site.Name, k site.PartKind, v planar.Vec) {
	y.put(n, site.RolePart, string(k), v, ft(0.05))
	y.job.Site.Parts = append(y.job.Site.Parts, site.Part{Name: n, Kind: k})
}

// house is 40 ft by 24 ft with A in the southwest, then B southeast, C and D.
func (y *yard) house() {
	for i, v := range []planar.Vec{at(0, 0), at(40, 0), at(40, 24), at(0, 24)} {
		y.put(site.Name(rune('A'+i)), site.RoleCorner, "", v, 0)
	}
	y.job.Site.Buildings = append(y.job.Site.Buildings, site.Building{Name: "House", Corners: []site.Name{"A", "B", "C", "D"}})
}

// homestead is a house with a box south of it, a pole and a pin.
func homestead() *yard {
	y := &yard{}
	y.job.Site.Name, y.job.Visit.Date = "18 Quarry Hollow Lane", "2026-05-14"
	y.house()
	y.mark("Pin 1", at(60, -40))
	y.put("Pole", site.RoleMark, "utility pole", at(-25, -20), 0)
	y.part("D-box", site.DistributionBox, at(18, -21))
	return y
}

// meet returns the place nearest to guess at which circles of two radii cross,
// found by Newton's method.
func meet(a planar.Vec, ra unit.Length, b planar.Vec, rb unit.Length, guess planar.Vec) planar.Vec {
	for range 6 { // it squares the error each time
		u, _ := guess.Minus(a).Unit()
		v, _ := guess.Minus(b).Unit()
		fa, fb := guess.Minus(a).Length()-ra, guess.Minus(b).Length()-rb
		d := unit.Length(u.Cross(v))
		guess.East -= (fa*v.North - fb*u.North) / d
		guess.North -= (fb*u.East - fa*v.East) / d
	}
	return guess
}

// scatter draws a step of the standard deviation sd in each direction.
func scatter(r *rand.Rand, sd unit.Length) planar.Vec {
	return planar.Vec{East: sd * unit.Length(r.NormFloat64()), North: sd * unit.Length(r.NormFloat64())}
}

func tape(d unit.Length) unit.Length {
	return unit.Length(math.Hypot(float64(unit.Inch/2), 0.001*float64(d)))
}

package compare_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"undersod/core/adjust"
	"undersod/core/compare"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// at is a place by feet east and north.
func at(east, north float64) planar.Vec {
	return planar.Vec{East: unit.Length(east) * unit.Foot, North: unit.Length(north) * unit.Foot}
}

// thing is a point with its true place.
type thing struct {
	name site.Name
	role site.Role
	at   planar.Vec
}

// yard is five marks and three parts of an invented lawn, all right of A-B.
func yard() []thing {
	return []thing{
		{"A", site.RoleMark, at(0, 0)}, {"B", site.RoleMark, at(0, 80)}, {"C", site.RoleMark, at(90, 85)},
		{"D", site.RoleMark, at(95, -5)}, {"E", site.RoleMark, at(50, 100)},
		{"Tank", site.RolePart, at(25, 20)}, {"D-box", site.RolePart, at(45, 40)}, {"L1 end", site.RolePart, at(70, 60)},
	}
}

// with changes where one thing lies.
func with(things []thing, name site.Name, by planar.Vec) []thing {
	out := append([]thing(nil), things...)
	for i := range out {
		if out[i].name == name {
			out[i].at = out[i].at.Plus(by)
		}
	}
	return out
}

// visit measures a yard: every mark to every other, every part to every mark,
// each tape off by sd times a normal number; without a source it is exact.
func visit(things []thing, datum site.Datum, sd unit.Length, r *rand.Rand) compare.Side {
	job := &site.Job{Datum: datum, Visit: site.Visit{Date: "2026-05-14"}}
	tape := func(a, b thing) {
		d := a.at.Minus(b.at).Length()
		if r != nil {
			d += sd * unit.Length(r.NormFloat64())
		}
		job.Visit.Readings = append(job.Visit.Readings, site.Tie{
			Taken: site.Taken{ID: site.ReadingID(fmt.Sprintf("tie %s > %s", a.name, b.name))}, From: a.name, To: b.name,
			Read: unit.Written{Text: fmt.Sprintf("%.4f m", d.Metres()), Length: d, Form: unit.Metres}, SD: &sd,
		})
	}
	for i, p := range things {
		point := site.Point{Name: p.name, Role: p.role}
		point.Sides = hint(things, p, datum.Mark, datum.Toward)
		job.Site.Points = append(job.Site.Points, point)
		if p.role == site.RolePart {
			job.Site.Parts = append(job.Site.Parts, site.Part{Name: p.name, Kind: site.DistributionBox})
		}
		for _, q := range things[:i] {
			if q.role == site.RoleMark {
				tape(q, p)
			}
		}
	}
	return compare.Side{Job: job, Plan: adjust.Solve(job, adjust.Settings{})}
}

// base is a datum from one mark toward another, turned.
func base(from, to site.Name, east, north, azimuth float64) site.Datum {
	a := unit.Angle(azimuth) * unit.Degree
	v := at(east, north)
	return site.Datum{Kind: site.DatumBaseline, Mark: from, Toward: to, East: v.East, North: v.North, Azimuth: &a}
}

func place(t testing.TB, c *compare.Comparison, name site.Name) compare.Place {
	t.Helper()
	for _, p := range c.Places {
		if p.Name == name {
			return p
		}
	}
	t.Fatalf("%s is not compared", name)
	return compare.Place{}
}

func near(a, b, within float64) bool { return math.Abs(a-b) <= within }

// hint tells on which side of the datum's baseline a thing lies.
func hint(things []thing, p thing, from, to site.Name) []site.Side {
	if from == "" {
		from, to = "A", "B"
	}
	var a, b planar.Vec
	for _, t := range things {
		switch t.name {
		case from:
			a = t.at
		case to:
			b = t.at
		}
	}
	switch side := b.Minus(a).Cross(p.at.Minus(a)); {
	case p.name == from || p.name == to:
		return nil
	case side > 0:
		return []site.Side{{Kind: site.LeftOf, From: from, To: to}}
	}
	return []site.Side{{Kind: site.RightOf, From: from, To: to}}
}

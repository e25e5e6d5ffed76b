package look_test

import (
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// yard is an invented job whose plan is set by hand.
type yard struct {
	job  site.Job
	plan adjust.Plan
}

func ft(v float64) unit.Length { return unit.Length(v) * unit.Foot }

func at(e, n float64) planar.Vec { return planar.Vec{East: ft(e), North: ft(n)} }

func reads(feet float64) *unit.Written {
	return &unit.Written{Text: unit.Style{Form: unit.FeetInches, Denominator: 4}.Format(ft(feet)), Length: ft(feet), Form: unit.FeetInches}
}

// put adds located points, named by their order in names.
func (y *yard) put(sd unit.Length, places map[site.Name]planar.Vec, names ...site.Name) {
	for _, n := range names {
		y.job.Site.Points = append(y.job.Site.Points, site.Point{Name: n, Role: site.RoleBend})
		y.plan.Points = append(y.plan.Points, adjust.Point{Name: n, At: places[n], Placed: true,
			Sigma: adjust.Sigma{East: sd, North: sd}})
	}
}

// bent is a line east for 20 ft, then north for 42 ft 6 in, with a cleanout 10 ft
// up the second leg.
func bent(sd unit.Length) *yard {
	y := &yard{}
	y.put(sd, map[site.Name]planar.Vec{"D-box": at(0, 0), "bend": at(20, 0), "cleanout": at(20, 10), "end": at(20, 42.5)},
		"D-box", "bend", "cleanout", "end")
	y.job.Site.Lines = []site.Line{{Name: "Line 2", Kind: site.DrainLine, Path: []site.Name{"D-box", "bend", "cleanout", "end"}}}
	return y
}

// run adds a run with findings.
func (y *yard) run(r site.Run, f ...site.Finding) {
	if r.Line == "" {
		r.Line = "Line 2"
	}
	r.ID = site.ReadingID("camera " + string(r.Line))
	r.Findings = f
	y.job.Visit.Runs = append(y.job.Visit.Runs, r)
}

func seen(what site.FindingKind, feet ...float64) site.Finding {
	f := site.Finding{What: what}
	if len(feet) > 0 {
		f.At = reads(feet[0])
	}
	if len(feet) > 1 {
		f.To = reads(feet[1])
	}
	return f
}

func lies(t *testing.T, what string, got, want planar.Vec) {
	t.Helper()
	if d := got.Minus(want).Length(); !(d < 1e-9) {
		t.Errorf("%s lies at %v, want %v", what, got, want)
	}
}

func same(t *testing.T, what string, got, want unit.Length) {
	t.Helper()
	if !((got - want).Abs() < 1e-9) {
		t.Errorf("%s is %v ft, want %v ft", what, got.Feet(), want.Feet())
	}
}

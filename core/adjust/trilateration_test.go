package adjust_test

import (
	"math"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// TestTrilaterationFromATextbook adjusts one unknown station from three known
// ones. The stations and distances are those of the first trilateration example
// in C. D. Ghilani and P. R. Wolf, Adjustment Computations (Wiley, 4th ed. 2006,
// chapter on trilateration), from memory; that the three distances meet within
// 0.2 ft in 6,000 confirms them. The printed result was not at hand, so what is
// expected was computed apart from this program, in a few lines of arithmetic
// with equal weights: 6861.317, 3727.819, residuals -0.037, 0.077, -0.047 ft.
func TestTrilaterationFromATextbook(t *testing.T) {
	known := map[site.Name]planar.Vec{
		"A": at(865.40, 4527.15), "B": at(2432.55, 2047.25), "C": at(2865.22, 27.15),
	}
	distances := map[site.Name]float64{"A": 6049.00, "B": 4736.83, "C": 5446.49}
	expected := map[site.Name]float64{"A": -0.0374, "B": 0.0768, "C": -0.0474}
	y := newYard(1)
	exact, tape := unit.Length(1e-5), ft(0.1)
	for _, name := range []site.Name{"A", "B", "C"} {
		y.put(name, site.RoleMark, known[name])
		y.job.Visit.Readings = append(y.job.Visit.Readings, site.Fix{
			Taken: site.Taken{ID: site.ReadingID("fix " + name)}, Point: name,
			Grid: true, East: known[name].East, North: known[name].North, SD: &exact})
	}
	y.put("U", site.RolePart, at(6861, 3728))
	for _, name := range []site.Name{"A", "B", "C"} {
		d := ft(distances[name])
		w := unit.Written{Text: "as printed", Length: d, Form: unit.DecimalFeet}
		y.tieRead(name, "U", w, tape)
	}
	azimuth := known["B"].Minus(known["A"]).Azimuth()
	y.job.Datum = site.Datum{Kind: site.DatumBaseline, Mark: "A", Toward: "B",
		East: known["A"].East, North: known["A"].North, Azimuth: &azimuth}
	p := adjust.Solve(&y.job, adjust.Settings{})
	if d := find(t, p, "U").At.Minus(at(6861.3168, 3727.8186)).Length(); d > ft(0.001) {
		t.Errorf("U lies %v ft from where it should", d.Feet())
	}
	for _, r := range p.Readings {
		if want, tie := expected[r.Touches[0]]; tie && len(r.Touches) == 2 {
			if got := unit.Length(r.Components[0].Residual).Feet(); math.Abs(got-want) > 0.0005 {
				t.Errorf("%s: residual %.4f ft, want %.4f", r.ID, got, want)
			}
		}
	}
	// The fixes agree exactly, so only the three distances add to the sum.
	if want := (0.0374*0.0374 + 0.0768*0.0768 + 0.0474*0.0474) / 0.01; math.Abs(p.Global.Statistic-want) > 0.01 {
		t.Errorf("statistic %.4f, want %.4f", p.Global.Statistic, want)
	}
}

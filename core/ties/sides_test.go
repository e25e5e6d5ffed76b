package ties_test

import (
	"math"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/ties"
	"undersod/core/unit"
)

// pins is a lot of three pins, 300, 400 and 500 ft apart, each tied to the next
// with a tape of a stated deviation.
func pins(sd unit.Length) (*site.Job, *adjust.Plan, site.Feature) {
	job := &site.Job{}
	names := []site.Name{"Pin 1", "Pin 2", "Pin 3"}
	for i, n := range names {
		job.Site.Points = append(job.Site.Points, site.Point{Name: n, Role: site.RoleMark})
		job.Visit.Readings = append(job.Visit.Readings, site.Tie{Taken: site.Taken{ID: site.ReadingID(n)}, From: n, To: names[(i+1)%3],
			Read: feet([]float64{300, 400, 500}[i]), SD: &sd})
	}
	rough := 10 * unit.Foot // it tells on which side Pin 3 lies, and nothing of the lengths
	job.Visit.Readings = append(job.Visit.Readings, site.Offset{Taken: site.Taken{ID: "side"}, From: "Pin 1", To: "Pin 2", Point: "Pin 3",
		Station: feet(300), Right: feet(400), SD: &rough})
	f := site.Feature{Name: "Lot", Kind: site.PropertyLine, Closed: true, Points: names}
	job.Site.Features = []site.Feature{f}
	return job, adjust.Solve(job, adjust.Settings{}), f
}

func TestSidesAreAsSureAsTheirTapes(t *testing.T) {
	for _, tt := range []struct {
		sd   unit.Length
		want string // of 300, 400 and 500 ft
	}{
		{unit.Inch / 20, `300' 0"; 400' 0"; 500' 0"`},
		{unit.Inch, `300' 0"; 400' 0"; 500' 0"`},
		{1.1 * unit.Inch, "300.0 ft; 400.0 ft; 500.0 ft"},
		{unit.Foot / 2, "300 ft; 400 ft; 500 ft"},
	} {
		job, plan, f := pins(tt.sd)
		var got []string
		for i, s := range ties.NewIndex(job, plan).Sides(f) {
			if s.Lost != "" {
				t.Fatalf("%s to %s: %s", s.From, s.To, s.Lost)
			}
			if (s.SD - tt.sd).Abs() > tt.sd/100 { // each side is one tie, but for the rough offset
				t.Errorf("side %d has a deviation of %v m, expected %v", i, float64(s.SD), float64(tt.sd))
			}
			got = append(got, s.Words(ties.NewWording(job.Show)))
		}
		if strings.Join(got, "; ") != tt.want {
			t.Errorf("with a tape of %v m: %v, expected %s", float64(tt.sd), got, tt.want)
		}
	}
}

func TestSidesWithoutALengthSayWhy(t *testing.T) {
	at := func(e float64) planar.Vec { return planar.Vec{East: unit.Length(e) * unit.Foot} }
	other := at(7)
	plan := &adjust.Plan{Points: []adjust.Point{
		{Name: "P", Placed: true}, {Name: "Q", Placed: true, At: at(100), Ellipse: adjust.Ellipse{Radius: 0.98 * unit.Foot}}, {Name: "At P", Placed: true},
		{Name: "Two", Placed: true, At: at(5), State: adjust.TwoAnswers, Other: &other},
		{Name: "Accused", Placed: true, At: at(9), Doubt: unit.Foot},
		{Name: "Free", Placed: true, At: at(9), State: adjust.Undetermined},
	}}
	x := ties.NewIndex(&site.Job{}, plan)
	for to, want := range map[site.Name]string{
		"At P": "P and At P lie at one place", "Two": "Two has two answers", "Accused": "readings disagree about Accused",
		"Free": "Free is not located", "Nowhere": "Nowhere is not located", "Q": "",
	} {
		got := x.Sides(site.Feature{Points: []site.Name{"P", to}})
		if len(got) != 1 || got[0].Lost != want {
			t.Errorf("to %s: %+v, expected %q", to, got, want)
		}
		if to == "Q" && (got[0].Long != 100*unit.Foot || math.Abs(got[0].SD.Feet()-0.5) > 1e-9) { // 0.98 ft / 1.96
			t.Errorf("the side is %v m long with a deviation of %v m", float64(got[0].Long), float64(got[0].SD))
		}
	}
	for _, f := range []site.Feature{{}, {Points: []site.Name{"P"}, Closed: true}, {Closed: true}} {
		if got := x.Sides(f); len(got) > 0 {
			t.Errorf("%v has the sides %v", f, got)
		}
	}
	if got := x.Sides(site.Feature{Points: []site.Name{"P", "Q"}, Closed: true}); len(got) != 1 {
		t.Errorf("a line there and back has %d sides", len(got))
	}
}

func TestLengthsAreNoFinerThanKnown(t *testing.T) {
	tests := []struct {
		form unit.Form
		sd   unit.Length
		want string // of 213' 4 3/8", which is 213.36 ft and 65.03 m
	}{
		{unit.FeetInches, 0, `213' 4 3/8"`},
		{unit.FeetInches, unit.Inch / 8, `213' 4 3/8"`},
		{unit.FeetInches, unit.Inch / 7, `213' 4 1/2"`},
		{unit.FeetInches, 0.9 * unit.Inch, `213' 4"`},
		{unit.FeetInches, 1.1 * unit.Inch, "213.4 ft"},
		{unit.FeetInches, 0.9 * unit.Foot, "213 ft"},
		{unit.FeetInches, 2 * unit.Foot, "210 ft"},
		{unit.Inches, 1.1 * unit.Inch, "213.4 ft"},
		{unit.DecimalFeet, 0.009 * unit.Foot, "213.36 ft"},
		{unit.DecimalFeet, 0.03 * unit.Foot, "213.4 ft"},
		{unit.Metres, 0.009, "65.03 m"},
		{unit.Metres, 0.02, "65.0 m"},
		{unit.Metres, 0.2, "65 m"},
		{unit.Metres, 3, "70 m"},
		{unit.Centimetres, 0.02, "6500 cm"},
		{unit.Metres, unit.Length(math.Inf(1)), "0 m"},
	}
	long := 213*unit.Foot + 4*unit.Inch + 3*unit.Inch/8
	for _, tt := range tests {
		if got := ties.NewWording(site.Show{Form: tt.form}).Known(long, tt.sd); got != tt.want {
			t.Errorf("known within %v m in form %v it is %q, expected %q", float64(tt.sd), tt.form, got, tt.want)
		}
	}
}

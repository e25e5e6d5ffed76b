package stake_test

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/stake"
	"undersod/core/unit"
)

// yard is a job and its plan with marks at the places given, in feet.
func yard(marks map[site.Name][2]float64, order ...site.Name) (*site.Job, *adjust.Plan) {
	job, plan := &site.Job{}, &adjust.Plan{}
	for _, name := range order {
		at := planar.Vec{East: unit.Length(marks[name][0]) * unit.Foot, North: unit.Length(marks[name][1]) * unit.Foot}
		job.Site.Points = append(job.Site.Points, site.Point{Name: name, Role: site.RoleMark})
		plan.Points = append(plan.Points, adjust.Point{Name: name, State: adjust.Determined, Placed: true, At: at})
	}
	return job, plan
}

func foot(east, north float64) planar.Vec {
	return planar.Vec{East: unit.Length(east) * unit.Foot, North: unit.Length(north) * unit.Foot}
}

// TestTapesOfARightTriangle: a corner 30 ft from one mark and 40 ft from
// another, square to each other; 50 ft part the marks. A third mark on the line
// of the first would cross it flat, and the second well.
func TestTapesOfARightTriangle(t *testing.T) {
	job, plan := yard(map[site.Name][2]float64{"A": {0, 0}, "B": {30, 40}, "C": {-20, 0}}, "A", "B", "C")
	got := stake.Out(job, plan, []planar.Vec{foot(30, 0)})
	if len(got) != 1 || got[0].At != foot(30, 0) {
		t.Fatalf("pegs: %+v", got)
	}
	want := []struct {
		from site.Name
		feet float64
	}{{"A", 30}, {"B", 40}, {"C", 50}}
	if len(got[0].Ties) != len(want) {
		t.Fatalf("ties: %+v", got[0].Ties)
	}
	for i, w := range want {
		if tie := got[0].Ties[i]; tie.From != w.from || math.Abs(tie.Distance.Feet()-w.feet) > 1e-9 {
			t.Errorf("tie %d is %+v, want %v", i, tie, w)
		}
	}
}

// TestWhatCannotBePegged has marks that lie in one line with the corner, one
// that is too near, one too far, and one that is not located.
func TestWhatCannotBePegged(t *testing.T) {
	for name, marks := range map[string]map[site.Name][2]float64{
		"in one line": {"A": {0, 0}, "B": {60, 0}},
		"too near":    {"A": {30.2, 0}, "B": {30, 40}},
		"too far":     {"A": {30, 400}, "B": {0, 0}},
	} {
		job, plan := yard(marks, "A", "B")
		if got := stake.Out(job, plan, []planar.Vec{foot(30, 0)}); len(got[0].Ties) != 0 {
			t.Errorf("%s: %+v", name, got[0].Ties)
		}
	}
	job, plan := yard(map[site.Name][2]float64{"A": {0, 0}, "B": {30, 40}}, "A", "B")
	plan.Points[1].State = adjust.TwoAnswers
	if got := stake.Out(job, plan, []planar.Vec{foot(30, 0)}); len(got[0].Ties) != 0 {
		t.Errorf("a mark with two places: %+v", got[0].Ties)
	}
	if got := stake.Out(&site.Job{}, &adjust.Plan{}, nil); len(got) != 0 {
		t.Errorf("no corner: %+v", got)
	}
	got := stake.Out(job, plan, []planar.Vec{{East: unit.Length(math.NaN())}})
	if len(got) != 1 || len(got[0].Ties) != 0 {
		t.Errorf("a corner that is nowhere: %+v", got)
	}
}

// TestAHouseHidesAMark puts a building between a mark and the corner; a tape
// along its wall is not hidden.
func TestAHouseHidesAMark(t *testing.T) {
	marks := map[site.Name][2]float64{"A": {0, 0}, "B": {40, 0}, "C": {40, 20}, "D": {0, 20}, "P": {20, 60}}
	job, plan := yard(marks, "A", "B", "C", "D", "P")
	job.Site.Buildings = []site.Building{{Name: "House", Corners: []site.Name{"A", "B", "C", "D"}}}
	for _, tie := range stake.Out(job, plan, []planar.Vec{foot(20, -30)})[0].Ties {
		if tie.From != "A" && tie.From != "B" {
			t.Errorf("a tape through the house from %s", tie.From)
		}
	}
	along := stake.Out(job, plan, []planar.Vec{foot(70, 0)})[0].Ties
	seen := map[site.Name]bool{}
	for _, tie := range along {
		seen[tie.From] = true
	}
	if seen["A"] && seen["B"] || len(along) < 2 { // in one line with each other
		t.Errorf("east of the house: %+v", along)
	}
}

// TestPegsHoldTrue throws marks and corners about: every tie is the true
// distance, none twice, the nearest first, and the first answer is repeated.
func TestPegsHoldTrue(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 8))
	names := []site.Name{"A", "B", "C", "D", "E", "F", "G"}
	pegged := 0
	for range 300 {
		marks := map[site.Name][2]float64{}
		for _, n := range names {
			marks[n] = [2]float64{r.Float64() * 200, r.Float64() * 200}
		}
		job, plan := yard(marks, names...)
		corners := []planar.Vec{foot(r.Float64()*200, r.Float64()*200), foot(r.Float64()*200, r.Float64()*200)}
		got := stake.Out(job, plan, corners)
		for i, peg := range got {
			seen := map[site.Name]bool{}
			last := unit.Length(0)
			for _, tie := range peg.Ties {
				exact := corners[i].Minus(foot(marks[tie.From][0], marks[tie.From][1])).Length()
				if seen[tie.From] || (tie.Distance-exact).Abs() > 1e-9 || tie.Distance < last {
					t.Fatalf("ties of %v: %+v", corners[i], peg.Ties)
				}
				seen[tie.From], last = true, tie.Distance
			}
			if len(peg.Ties) == 3 {
				pegged++
			}
		}
		if again := stake.Out(job, plan, corners); !reflect.DeepEqual(got, again) {
			t.Fatal("the second answer differs")
		}
	}
	if pegged < 550 {
		t.Errorf("only %d of 600 corners were pegged by three tapes", pegged)
	}
}

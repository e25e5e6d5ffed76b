package examples_test

import (
	"testing"

	"undersod/core/adjust"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/unit"
)

// judged returns a job's plan and its pack.
func judged(t *testing.T, name string) (site.Job, *adjust.Plan, *rules.Pack) {
	t.Helper()
	job := read(t, name).Job
	pack := rules.Default()
	if job.Site.Rules != "" {
		pack, _ = rules.ByName(job.Site.Rules)
	}
	return job, adjust.Solve(&job, adjust.Settings{}), pack
}

// fitted answers for one thing proposed.
func fitted(t *testing.T, name string, thing int) *setback.Fit {
	t.Helper()
	job, plan, pack := judged(t, name)
	q, problems := setback.Ask(&job, plan, job.Site.Proposed[thing])
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	f, err := setback.Find(&job, plan, pack, q)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// TestTheDemoHasAllThreeVerdicts: the reserve area is drawn too near the property
// line, the drive clips line 1, and whether the tank keeps its ten feet from the
// house the readings cannot tell. Everything else is clear.
func TestTheDemoHasAllThreeVerdicts(t *testing.T) {
	job, plan, pack := judged(t, "quarry-hollow.yaml")
	want := map[[2]site.Name]setback.Verdict{
		{"Reserve", "Lot"}: setback.Short, {"Line 1", "Drive"}: setback.Short, {"Tank", "House"}: setback.TooClose,
	}
	for _, row := range setback.Judge(&job, plan, pack).Rows {
		key := [2]site.Name{row.Part.Name, row.From.Name}
		verdict, told := want[key]
		if !told {
			verdict = setback.Clear
		}
		if delete(want, key); row.Verdict != verdict || !row.Permit && told {
			t.Errorf("want %s: %s", verdict, row.Words)
		}
	}
	for key := range want {
		t.Errorf("nothing is said of %s from %s", key[0], key[1])
	}
}

func TestTheWorkshopFits(t *testing.T) {
	f := fitted(t, "quarry-hollow.yaml", 0)
	if f.Verdict != setback.Clear || !f.Best.Fits || f.Limits[0].Margin < 20*unit.Foot {
		t.Errorf("%s, %q", f.Verdict, f.Words)
	}
}

// TestTheCottageIsCured by two feet away from the property line, and its well
// finds a place a hundred feet from the field.
func TestTheCottageIsCured(t *testing.T) {
	f := fitted(t, "second-dwelling.yaml", 0)
	if f.Verdict != setback.Short || f.Cure == nil || !f.Cure.Fits || f.Stated[0].Thing.Name != "Lot" || f.Stated[1].Verdict != setback.Clear {
		t.Fatalf("%s, %q", f.Verdict, f.Words)
	}
	if d := f.Cure.Placement.At.Minus(f.Question.Stated.At).Length() - 2*unit.Foot; d.Abs() > 0.3*unit.Foot {
		t.Errorf("the cure moves it %.2f ft", (d + 2*unit.Foot).Feet())
	}
	well := fitted(t, "second-dwelling.yaml", 1)
	if !well.Best.Fits || well.Limits[0].Required < 99*unit.Foot {
		t.Errorf("%s, %q", well.Verdict, well.Words)
	}
}

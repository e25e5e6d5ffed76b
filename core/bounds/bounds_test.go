package bounds_test

import (
	"math"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/bounds"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
)

func TestWeigh(t *testing.T) {
	for _, c := range []struct {
		margin, within unit.Length
		want           bounds.Verdict
	}{
		{2, 1, bounds.Clear}, {1, 1, bounds.Clear}, {0.5, 1, bounds.TooClose}, {-0.5, 1, bounds.TooClose},
		{-1, 1, bounds.TooClose}, {-1.01, 1, bounds.Short}, {0, 0, bounds.Clear}, {unit.Length(math.NaN()), 1, bounds.TooClose},
	} {
		if got := bounds.Weigh(c.margin, c.within); got != c.want {
			t.Errorf("%v ± %v: %s, want %s", c.margin, c.within, got, c.want)
		}
	}
}

// A trench of 3 ft, of which the rule wants at most 2.5; one out of use is not
// asked; a limit between shapes is weighed by others.
func TestLimitsOfTrenches(t *testing.T) {
	job := &site.Job{}
	job.Site.Lines = []site.Line{{Name: "Line 1", Kind: site.DrainLine, TrenchWidth: 3 * unit.Foot}, {Name: "Old", Kind: site.DrainLine, TrenchWidth: 9, OutOfUse: true}, {Name: "Line 2", Kind: site.DrainLine}}
	rows := bounds.Of(rules.Limit{On: rules.OnTrenchWidth, Most: 2.5 * unit.Foot}, job, &adjust.Plan{})
	if len(rows) != 2 || rows[0].Verdict != bounds.Short || !rows[0].Known || rows[1].Known || !strings.Contains(rows[1].Words, "add trench width: 3 ft to Line 2") {
		t.Errorf("%+v", rows)
	}
	if rows := bounds.Of(rules.Limit{On: rules.OnSpacing, Least: 1}, job, &adjust.Plan{}); rows != nil {
		t.Errorf("%+v", rows)
	}
}

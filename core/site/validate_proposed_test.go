package site_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"undersod/core/site"
	"undersod/core/unit"
)

// planned is a sound job with things proposed and distances of the permit.
func planned() site.Job {
	job := sound()
	turn := unit.Angle(1.2)
	job.Site.Household.AddedBedrooms = 1
	job.Site.Proposed = []site.Proposed{
		{Name: "Workshop", Kind: site.Structure, Class: "slab foundation", Length: read(8), Width: read(5), At: &site.Stand{From: "A", To: "B",
			Station: written(9), Right: written(-18)}, Along: &[2]site.Name{"A", "B"}, Near: "Maple", FromLot: read(0), Bedrooms: 2, Place: at(50)},
		{Name: "Pool", Kind: site.Pool, Outline: []site.Stake{{}, {Along: 5}, {Along: 5, Right: 3}}, Turn: &turn,
			At: &site.Stand{Point: "D-box"}, Near: "House", Place: at(51)},
		{Name: "New well", Kind: site.Well, Near: "D-box", Place: at(52)},
	}
	job.Site.Setbacks = &site.Setbacks{Source: "the permit", Place: at(60), Rows: []site.SetbackRow{
		{From: "well", Class: "private", Distances: map[string]unit.Written{"field": written(30), "tank": written(15)}, Place: at(61)},
		{From: "well", Distances: map[string]unit.Written{"field": written(60)}, Place: at(62)},
		{From: "building", Distances: map[string]unit.Written{"structure": written(0)}, Place: at(63)},
	}}
	return job
}

func TestWhatIsSoundlyPlannedHasNoProblem(t *testing.T) {
	job := planned()
	usable, problems := site.Usable(job)
	if len(problems) > 0 {
		t.Errorf("problems %v", problems)
	}
	if !reflect.DeepEqual(usable, job) {
		t.Errorf("a sound job was changed to %+v", usable.Site)
	}
	if got := job.Site.PlannedBedrooms(); got != 3 {
		t.Errorf("%d bedrooms are planned", got)
	}
}

func shop(j *site.Job) *site.Proposed { return &j.Site.Proposed[0] }

func TestEachMistakeOfWhatIsPlannedIsTold(t *testing.T) {
	none, turn := unit.Angle(math.NaN()), unit.Angle(1)
	row := func(j *site.Job) *site.SetbackRow { return &j.Site.Setbacks.Rows[0] }
	for _, c := range []struct {
		name       string
		spoil      func(*site.Job)
		words      string
		left, rows int // what is left
	}{
		{"twice", func(j *site.Job) { shop(j).Name = "Pool" }, "no other proposed thing", 2, 3},
		{"kind", func(j *site.Job) { shop(j).Kind = site.Tree }, "structure, pool, well or driveway", 2, 3},
		{"no size", func(j *site.Job) { shop(j).Length = nil }, "its length and width", 2, 3},
		{"size of zero", func(j *site.Job) { shop(j).Width = read(0) }, "above zero", 2, 3},
		{"size no number", func(j *site.Job) { shop(j).Width = read(unit.Length(math.NaN())) }, "above zero", 2, 3},
		{"size of a county", func(j *site.Job) { shop(j).Length = read(20_000) }, "under 10 km", 2, 3},
		{"two corners", func(j *site.Job) { j.Site.Proposed[1].Outline = make([]site.Stake, 2) }, "three corners", 2, 3},
		{"no corner", func(j *site.Job) { j.Site.Proposed[1].Outline = []site.Stake{} }, "three corners", 2, 3},
		{"corner far off", func(j *site.Job) { j.Site.Proposed[1].Outline[1].Along = 1e9 }, "under 10 km", 2, 3},
		{"corner no number", func(j *site.Job) { j.Site.Proposed[1].Outline[1].Right = unit.Length(math.NaN()) }, "under 10 km", 2, 3},
		{"size and outline", func(j *site.Job) { shop(j).Outline = make([]site.Stake, 3) }, "the outline is used", 3, 3},
		{"well with a size", func(j *site.Job) { j.Site.Proposed[2].Length = read(3) }, "it is a point", 3, 3},
		{"well with an outline", func(j *site.Job) { j.Site.Proposed[2].Outline = make([]site.Stake, 3) }, "it is a point", 3, 3},
		{"bedrooms in a well", func(j *site.Job) { j.Site.Proposed[2].Bedrooms = 1 }, "structure only", 3, 3},
		{"bedrooms below zero", func(j *site.Job) { shop(j).Bedrooms = -1 }, "whole number", 3, 3},
		{"baseline of nothing", func(j *site.Job) { shop(j).At.From = "Moon" }, "name of a point", 3, 3},
		{"baseline of one point", func(j *site.Job) { shop(j).At.From = "B" }, "two different", 3, 3},
		{"station no number", func(j *site.Job) { shop(j).At.Station = written(unit.Length(math.Inf(1))) }, "under 10 km", 3, 3},
		{"at nothing", func(j *site.Job) { shop(j).At = &site.Stand{Point: "Moon"} }, "name of a point", 3, 3},
		{"along nothing", func(j *site.Job) { shop(j).Along[1] = "Moon" }, "name of a point", 3, 3},
		{"along and turn", func(j *site.Job) { shop(j).Turn = &turn }, "along is used", 3, 3},
		{"turn no number", func(j *site.Job) { shop(j).Along, shop(j).Turn = nil, &none }, "plan's north", 3, 3},
		{"near nothing", func(j *site.Job) { shop(j).Near = "Moon" }, "a building or a feature", 3, 3},
		{"from property line below zero", func(j *site.Job) { shop(j).FromLot = read(-1) }, "zero or more", 3, 3},
		{"from the moon", func(j *site.Job) { row(j).From = "moon" }, "kind of feature", 3, 2},
		{"no distance", func(j *site.Job) { row(j).Distances = nil }, "no distance", 3, 2},
		{"distance below zero", func(j *site.Job) { row(j).Distances["field"] = written(-1) }, "zero or more", 3, 3},
		{"distance of the moon", func(j *site.Job) { row(j).Distances["moon"] = written(1) }, "something else", 3, 3},
		{"row twice", func(j *site.Job) { row(j).Class = "" }, "same row twice", 3, 2},
	} {
		job := planned()
		c.spoil(&job)
		usable, problems := site.Usable(job)
		if len(problems) != 1 || problems[0].Place.Line < 50 || !strings.Contains(problems[0].Error(), c.words) {
			t.Errorf("%s: %v", c.name, problems)
		}
		if len(usable.Site.Proposed) != c.left || len(usable.Site.Setbacks.Rows) != c.rows {
			t.Errorf("%s: %d things and %d rows are left", c.name, len(usable.Site.Proposed), len(usable.Site.Setbacks.Rows))
		}
		if again, more := site.Usable(usable); len(more) > 0 || !reflect.DeepEqual(again.Site.Proposed, usable.Site.Proposed) {
			t.Errorf("%s: checked again, %v", c.name, more)
		}
	}
}

// TestThingsAndColumnsHaveNoDoubles: their words are keys.
func TestThingsAndColumnsHaveNoDoubles(t *testing.T) {
	for _, list := range [][]string{site.SetbackThings(), site.SetbackColumns()} {
		seen := map[string]bool{}
		for _, w := range list {
			if seen[w] || w == "" {
				t.Errorf("%q twice", w)
			}
			seen[w] = true
		}
	}
}

// TestDistancesWithoutTheirPaperAreAskedForIt: they are used all the same.
func TestDistancesWithoutTheirPaperAreAskedForIt(t *testing.T) {
	job := planned()
	job.Site.Setbacks.Source = " "
	usable, problems := site.Usable(job)
	if len(problems) != 1 || problems[0].Severity != site.Remark || problems[0].Place != at(60) || !strings.Contains(problems[0].Error(), "source: permit") {
		t.Errorf("problems %v", problems)
	}
	if len(usable.Site.Setbacks.Rows) != 3 {
		t.Errorf("%d rows are left", len(usable.Site.Setbacks.Rows))
	}
}

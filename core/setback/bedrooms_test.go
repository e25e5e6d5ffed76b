package setback_test

import (
	"math"
	"strings"
	"testing"

	"undersod/core/absorb"
	"undersod/core/clearance"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/unit"
)

func capacity(required, present float64, field, tank absorb.Verdict) absorb.Capacity {
	c := absorb.Capacity{Field: field, Present: unit.Area(present) * unit.SquareFoot}
	c.Required.Known, c.Required.Area, c.Required.Method = true, unit.Area(required)*unit.SquareFoot, rules.AreaPerBedroom
	c.Tank.Verdict = tank
	return c
}

// 660 sq ft of bottom at 3 ft are 220 ft of trench; each with 6 ft of soil beside
// it takes 9 ft: 1,980 sq ft. The reserve area is a triangle of 60 ft by 70 ft:
// 2,100 sq ft.
func TestReserveAreaByHand(t *testing.T) {
	y := field()
	y.feature("Reserve", site.ReserveArea, true, at(100, 0), at(160, 0), at(100, 70))
	now, then := capacity(495, 540, absorb.Enough, absorb.Enough), capacity(660, 540, absorb.Short, absorb.Enough)
	pack := limited(rules.OnSpacing, 6, 0)
	c := setback.Bedrooms(&y.job, &y.plan, pack, now, &then, 1)
	if math.Abs(float64(c.ReserveArea/unit.SquareFoot)-2100) > 1e-6 || math.Abs(float64(c.ReserveNeeded/unit.SquareFoot)-1980) > 1e-6 || c.Reserve != absorb.Enough {
		t.Fatalf("%v of %v sq ft, %s", c.ReserveArea/unit.SquareFoot, c.ReserveNeeded/unit.SquareFoot, c.Reserve)
	}
	all := strings.Join(c.Words, "\n")
	for _, want := range []string{"1 more bedroom", "Reserve has 2,100 sq ft", "about 1,980 sq ft", "The local authority decides."} {
		if !strings.Contains(all, want) {
			t.Errorf("no %q in\n%s", want, all)
		}
	}
	// 720 sq ft: 2,160 of ground, more than there is by 60; the corners leave it
	// within some 40 sq ft.
	then = capacity(720, 540, absorb.Short, absorb.Short)
	if c := setback.Bedrooms(&y.job, &y.plan, pack, now, &then, 1); c.Reserve != absorb.Short {
		t.Errorf("%s: %q", c.Reserve, c.Words)
	}
	then = capacity(701, 540, absorb.Short, absorb.Short)
	if c := setback.Bedrooms(&y.job, &y.plan, pack, now, &then, 1); c.Reserve != absorb.TooCloseToCall {
		t.Errorf("%s: %q", c.Reserve, c.Words)
	}
	// The permit's spacing wins: 12 ft from middle to middle. Where sidewalls count,
	// a third of the area is bottom.
	y.job.Site.Record = &site.Record{Spacing: &unit.Written{Length: ft(12)}}
	now.Trenches = []absorb.TrenchArea{{Known: true, Bottom: 100, Counted: 300}}
	then = capacity(660, 540, absorb.Short, absorb.Short)
	if c := setback.Bedrooms(&y.job, &y.plan, pack, now, &then, 1); math.Abs(float64(c.ReserveNeeded/unit.SquareFoot)-880) > 1e-6 {
		t.Errorf("%v sq ft needed", c.ReserveNeeded/unit.SquareFoot)
	}
}

func TestBedroomsThatCannotBeTold(t *testing.T) {
	y := field()
	now, then := capacity(495, 540, absorb.Enough, absorb.Enough), capacity(660, 540, absorb.Short, absorb.Short)
	if setback.Bedrooms(&y.job, &y.plan, nil, now, &then, 0) != nil {
		t.Error("no room is planned")
	}
	for want, c := range map[string]*setback.Capacity{
		"household: {bedrooms: 3}":        setback.Bedrooms(&y.job, &y.plan, nil, now, nil, 2),
		"record: {spacing: 9 ft}":         setback.Bedrooms(&y.job, &y.plan, nil, now, &then, 2),
		"no reserve area is drawn":        setback.Bedrooms(&y.job, &y.plan, limited(rules.OnSpacing, 6, 0), now, &then, 2),
		"the area required is not known":  setback.Bedrooms(&y.job, &y.plan, nil, now, &absorb.Capacity{}, 2),
		"record: {trench width: 3 ft}":    setback.Bedrooms(nil, nil, nil, now, &then, 2),
		"The local authority decides.":    setback.Bedrooms(nil, nil, nil, now, nil, 2),
		"The field, enough now, would be": setback.Bedrooms(nil, nil, nil, now, &then, 2),
	} {
		if all := strings.Join(c.Words, "\n"); c.Reserve != absorb.CannotTell || !strings.Contains(all, want) {
			t.Errorf("%s: no %q in\n%s", c.Reserve, want, all)
		}
	}
}

func TestTheLineThatJoins(t *testing.T) {
	f := &setback.Fit{Question: setback.Question{Name: "Workshop"}, Best: clearance.Found{Fits: true}, Verdict: setback.Clear}
	c := &setback.Capacity{Rooms: 1, Then: capacity(660, 540, absorb.Short, absorb.Enough)}
	want := "Workshop fits; with 1 more bedroom the field would be short by 120 sq ft, and the tank is large enough. The local authority decides."
	if got := setback.Join(f, c, unit.Style{}); got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
	f.Question.Stated, f.Verdict = &clearance.Placement{}, setback.Short
	if got := setback.Join(f, c, unit.Style{}); !strings.HasPrefix(got, "Workshop does not fit where it is to stand; ") {
		t.Error(got)
	}
	if setback.Join(nil, c, unit.Style{})+setback.Join(f, nil, unit.Style{}) != "" {
		t.Error("nothing is joined")
	}
}

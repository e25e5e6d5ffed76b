package setback_test

import (
	"testing"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/unit"
)

func TestOutcomes(t *testing.T) {
	lot := planar.Ring{{}, {East: 1}, {North: 1}}
	stated, near := &clearance.Placement{}, &planar.Vec{}
	tests := []struct {
		fits    bool
		lot     planar.Ring
		stated  *clearance.Placement
		near    *planar.Vec
		verdict setback.Verdict
		want    setback.Outcome
		settled bool
	}{
		{false, lot, nil, nil, setback.Short, setback.FitsNowhere, false},
		{false, lot, stated, nil, setback.Short, setback.FitsNowhere, false},
		{true, nil, nil, nil, setback.Clear, setback.FitsSomewhere, false},
		{true, nil, stated, nil, setback.Clear, setback.FitsWhereStated, true},
		{true, nil, nil, near, setback.Clear, setback.FitsFreely, true},
		{true, lot, stated, nil, setback.Short, setback.FitsElsewhere, false},
		{true, lot, stated, near, setback.TooClose, setback.FitsTooClose, false},
		{true, lot, nil, nil, setback.Clear, setback.FitsFreely, true},
		{true, lot, nil, nil, setback.TooClose, setback.FitsTooClose, false},
		{true, lot, nil, near, setback.TooClose, setback.FitsNearWish, true},
	}
	for _, tt := range tests {
		f := &setback.Fit{Question: setback.Question{Stated: tt.stated, Near: tt.near}, Ground: clearance.Ground{Lot: tt.lot}, Best: clearance.Found{Fits: tt.fits}, Verdict: tt.verdict}
		if got := f.Outcome(); got != tt.want || f.Settled() != tt.settled {
			t.Errorf("%+v: %q, settled %v", tt, got, f.Settled())
		}
	}
}

func TestAFitByNoRuleIsNotSettled(t *testing.T) {
	limit := func(kind string, required unit.Length) setback.Limiting {
		return setback.Limiting{Thing: setback.Thing{Kind: kind}, Required: required}
	}
	for _, tt := range []struct {
		limits []setback.Limiting
		want   bool
	}{
		{nil, false},
		{[]setback.Limiting{limit("building", 0)}, false}, // no part is there
		{[]setback.Limiting{limit(string(site.SepticTank), 0), limit("property line", unit.Foot)}, true},
		{[]setback.Limiting{limit(string(site.SepticTank), 0), limit(string(site.DrainLine), unit.Foot)}, false},
		{[]setback.Limiting{limit(string(site.ReserveArea), 0)}, true},
	} {
		f := &setback.Fit{Ground: clearance.Ground{Lot: planar.Ring{{}}}, Best: clearance.Found{Fits: true}, Verdict: setback.Clear, Limits: tt.limits}
		if f.Ruleless() != tt.want || f.Settled() == tt.want {
			t.Errorf("%+v: by no rule %v, settled %v", tt.limits, f.Ruleless(), f.Settled())
		}
	}
}

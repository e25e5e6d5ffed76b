package judge_test

import (
	"strings"
	"testing"

	"undersod/core/absorb"
	"undersod/core/judge"
	"undersod/core/rules"
	"undersod/core/unit"
)

const (
	loading   = "soil: {loading: 0.9 gal/ft2/day}\n"
	household = "household: {bedrooms: 3, persons: 4}"
)

// TestThePermitsOwnLoading: 450 gal a day at 0.9 gal a day and square foot want
// 500 sq ft; with one bedroom more, 600 gal want 666.7.
func TestThePermitsOwnLoading(t *testing.T) {
	j := judged(t, with(t, household, "household: {bedrooms: 3, persons: 4, added bedrooms: 1}"))
	area := func(c absorb.Capacity) float64 { return float64(c.Required.Area / unit.SquareFoot) }
	if c := j.Capacity; c.Required.Method != absorb.PermitLoading || !near(area(c), 500, 1e-6) {
		t.Errorf("%+v", c.Required)
	}
	if j.Added == nil || j.AddedRooms != 1 || !near(area(*j.Added), 600/0.9, 1e-6) || j.Added.Field != absorb.Short {
		t.Fatalf("%+v", j.Added)
	}
	if !strings.Contains(j.AddedWords, "600 gpd") || !strings.HasSuffix(j.AddedWords, absorb.Decides) {
		t.Errorf("%q", j.AddedWords)
	}
	a := action(j, "Before you plan 1 more bedroom")
	if a == nil || a.Urgency != judge.Soon || a.Why != j.AddedWords {
		t.Errorf("%+v", a)
	}
}

// TestThePermitsFlowHoldsForItsBedrooms: with more, the pack's flow is taken.
func TestThePermitsFlowHoldsForItsBedrooms(t *testing.T) {
	j := judged(t, with(t, household, "household: {bedrooms: 3, persons: 4, added bedrooms: 2}")+
		"record: {bedrooms: 3, daily flow: 360 gal/day}\n")
	if f := j.Capacity.Flow; f.Basis != absorb.ByPermit || !near(float64(f.Daily/unit.GallonPerDay), 360, 1e-9) {
		t.Errorf("%+v", f)
	}
	if f := j.Added.Flow; f.Basis != absorb.ByBedrooms || !near(float64(f.Daily/unit.GallonPerDay), 750, 1e-9) {
		t.Errorf("%+v", f)
	}
	if action(j, "Before you plan 2 more bedrooms") == nil {
		t.Errorf("%+v", j.Actions)
	}
}

// TestTheRecordStandsIn where the job does not say a size or the bedrooms.
func TestTheRecordStandsIn(t *testing.T) {
	text := all(t, with(t, household, "household: {persons: 4}"), "trench width: 3 ft, ", "")
	text = all(t, text, `stone below: 12", `, "")
	if j := judged(t, text); j.Capacity.Field != absorb.CannotTell || len(j.Missing) == 0 || j.Storage != nil {
		t.Errorf("%s, %q", j.Capacity.Field, j.Missing)
	}
	j := judged(t, text+"record: {bedrooms: 3, trench width: 2 ft, stone below: 12 in}\n")
	if a := j.Capacity.Trenches[0]; !a.Known || !near(float64(a.Counted/unit.SquareFoot), 120, 0.05) {
		t.Errorf("%+v", a)
	}
	if j.Storage == nil || j.Capacity.Field != absorb.Short || action(j, "the field is small for the house") == nil {
		t.Errorf("%s, %q", j.Capacity.Field, j.Missing)
	}
}

// TestTheVerdictsBecomeActions for a field and a tank that are large enough or
// small for the house.
func TestTheVerdictsBecomeActions(t *testing.T) {
	j := judged(t, with(t, household, "household: {bedrooms: 2, persons: 4}"))
	if j.Capacity.Field != absorb.Enough || !hears(j.Fine, "trench bottom counts") || !hears(j.Fine, "the tank holds") {
		t.Errorf("%s, %q", j.Capacity.Field, j.Fine)
	}
	j = judged(t, with(t, household, "household: {bedrooms: 5, persons: 6}"))
	field, tank := action(j, "the field is small"), action(j, "The tank is small")
	if field == nil || tank == nil || field.Urgency != judge.Soon || tank.Urgency != judge.CanWait {
		t.Fatalf("%+v", j.Actions)
	}
	if !strings.HasSuffix(field.Why, absorb.Decides) || !strings.HasSuffix(tank.Why, absorb.Decides) || hears(j.Fine, "the tank holds") {
		t.Errorf("%q, %q", field.Why, tank.Why)
	}
}

// TestTanksAddUp: two tanks hold what both hold, and one of unknown size makes
// the sum unknown.
func TestTanksAddUp(t *testing.T) {
	const second = "  Second tank: {kind: septic tank, capacity: 500 gal}\n  D-box:"
	j := judged(t, with(t, "  D-box:", second))
	if got := float64(j.Capacity.Tank.Present / unit.Gallon); !near(got, 1500, 1e-6) {
		t.Errorf("%v gal", got)
	}
	j = judged(t, with(t, "  D-box:", strings.Replace(second, ", capacity: 500 gal", "", 1)))
	if j.Capacity.Tank.Verdict != absorb.CannotTell || j.Capacity.Pumping.Known {
		t.Errorf("%+v", j.Capacity.Tank)
	}
}

// TestALineOutOfUseDoesNotCount in the area that the field has.
func TestALineOutOfUseDoesNotCount(t *testing.T) {
	j := judged(t, with(t, "Line 3: {", "Line 3: {out of use: yes, "))
	if got := float64(j.Capacity.Present / unit.SquareFoot); !near(got, 360, 0.05) {
		t.Errorf("%v sq ft count", got)
	}
}

// TestEveryPackJudges the same job without a word missing that it should have.
func TestEveryPackJudges(t *testing.T) {
	text := with(t, loading, "soil: {percolation: 18 min/in, texture: sandy loam, structure: blocky, strength: moderate}\n")
	job, plan := open(t, text)
	for _, p := range rules.Builtin() {
		j := judge.Judge(job, plan, p)
		if j.Pack != p.Name || j.Capacity.Pack != p.Name || j.Capacity.FieldWords == "" || j.Capacity.Tank.Words == "" {
			t.Errorf("%s: %+v", p.Name, j.Capacity)
		}
		if j.Storage == nil && !hears(j.Missing, "How the field fills and drains") {
			t.Errorf("%s: no storage, and nothing is missing: %q", p.Name, j.Missing)
		}
	}
}

// TestBedroomsOfWhatIsProposedCount with those planned in the house.
func TestBedroomsOfWhatIsProposedCount(t *testing.T) {
	const proposed = "proposed:\n  Cottage: {kind: structure, size: 30' x 20', bedrooms: 2}\n  Shed: {kind: structure, size: 8' x 6'}\n"
	text := with(t, household, "household: {bedrooms: 3, persons: 4, added bedrooms: 1}") + proposed
	if j := judged(t, text); j.Added == nil || j.AddedRooms != 3 || action(j, "Before you plan 3 more bedrooms") == nil {
		t.Errorf("%d rooms, %+v", j.AddedRooms, j.Added)
	}
	j := judged(t, with(t, household, household)+proposed)
	if want := 750 * unit.GallonPerDay; j.Added == nil || j.AddedRooms != 2 || !near(float64(j.Added.Flow.Daily/want), 1, 1e-9) {
		t.Errorf("%d rooms, %+v", j.AddedRooms, j.Added)
	}
}

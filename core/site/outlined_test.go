package site_test

import (
	"testing"

	"undersod/core/site"
	"undersod/core/unit"
)

// TestARecordMaySpeakOfAnOutline: a tank found by its edges has no point of its
// own, and the record's words about it stay.
func TestARecordMaySpeakOfAnOutline(t *testing.T) {
	job := site.Job{Site: site.Site{
		Points: []site.Point{{Name: "A", Role: site.RoleCorner}, {Name: "h1", Role: site.RoleHit}, {Name: "h2", Role: site.RoleHit}, {Name: "h3", Role: site.RoleHit}},
		Parts:  []site.Part{{Name: "Tank", Kind: site.SepticTank, Outline: &site.Outline{Hits: []site.Hit{{Point: "h1"}, {Point: "h2"}, {Point: "h3"}}}}},
		Record: &site.Record{
			Distances: []site.Claim{
				{From: "A", To: "Tank", Read: unit.Written{Text: "20 ft", Length: 20 * unit.Foot, Form: unit.DecimalFeet}},
				{From: "A", To: "Nowhere", Read: unit.Written{Text: "20 ft", Length: 20 * unit.Foot, Form: unit.DecimalFeet}},
			},
			Drawing: &site.Drawing{Points: []site.DrawnPoint{{Name: "Tank", X: 1, Y: 2}}},
		},
	}}
	usable, problems := site.Usable(job)
	if r := usable.Site.Record; len(r.Distances) != 1 || r.Distances[0].To != "Tank" || len(r.Drawing.Points) != 1 {
		t.Errorf("kept: %+v", r)
	}
	named := 0
	for _, p := range problems {
		if p.Found == "Nowhere" {
			named++
		}
		if p.Found == "Tank" {
			t.Errorf("the outline was told: %v", p)
		}
	}
	if named != 1 {
		t.Errorf("what stands nowhere was told %d times: %v", named, problems)
	}
}

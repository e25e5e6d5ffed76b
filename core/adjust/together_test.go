package adjust_test

import (
	"math"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
)

// TestJointAgreesWithEveryTie: the variance of an adjusted reading is its own
// variance times one minus its redundancy share (Mikhail and Ackermann,
// Observations and Least Squares, 1976, from memory). The distance between the
// two ends by the joint covariance must say the same, whatever the datum.
func TestJointAgreesWithEveryTie(t *testing.T) {
	for _, kind := range []site.DatumKind{site.DatumAuto, site.DatumFree} {
		y := demo(3, 1)
		y.job.Datum.Kind = kind
		plan := y.solve()
		joint, checked := plan.Joint(), 0
		for _, r := range plan.Readings {
			if r.Use != adjust.Used || len(r.Touches) != 2 || len(r.Components) != 1 || r.Components[0].What != "distance" {
				continue
			}
			a, b := placeOf(t, plan, r.Touches[0]), placeOf(t, plan, r.Touches[1])
			u, _ := b.Minus(a).Unit()
			got, ok := joint.Deviation(adjust.Pull{Point: r.Touches[0], Along: u.Times(-1)}, adjust.Pull{Point: r.Touches[1], Along: u})
			c := r.Components[0]
			want := c.SD * math.Sqrt(1-c.Redundancy)
			if !ok || math.Abs(float64(got)-want) > 1e-6+1e-4*want {
				t.Errorf("datum %v, %s: deviation %v (%v), want %v", kind, r.Words, got, ok, want)
			}
			checked++
		}
		if checked < 20 {
			t.Errorf("only %d ties were compared", checked)
		}
	}
}

func TestJointSaysWhereItCannotTell(t *testing.T) {
	if _, ok := (&adjust.Plan{}).Joint().Deviation(adjust.Pull{Point: "A", Along: planar.Vec{East: 1}}); ok {
		t.Error("an empty plan has a deviation")
	}
}

func placeOf(t *testing.T, plan *adjust.Plan, name site.Name) planar.Vec {
	t.Helper()
	for _, p := range plan.Points {
		if p.Name == name {
			return p.At
		}
	}
	t.Fatalf("no point %s", name)
	return planar.Vec{}
}

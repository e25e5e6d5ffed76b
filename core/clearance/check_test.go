package clearance_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/unit"
)

func TestCheck(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	lot := func(points ...planar.Vec) clearance.Ground { return clearance.Ground{Lot: points} }
	thing := func(o clearance.Obstacle) clearance.Ground {
		return clearance.Ground{Obstacles: []clearance.Obstacle{{Name: "Tank", Shape: disc(0, 0, 1)}, o}}
	}
	tests := []struct {
		name   string
		ground clearance.Ground
		want   string
	}{
		{"nothing at all", clearance.Ground{}, ""},
		{"good lot", lot(at(0, 0), at(0, 9), at(9, 9), at(9, 0)), ""},
		{"good lot with a straight corner", lot(at(0, 0), at(5, 0), at(9, 0), at(9, 9)), ""},
		{"concave", clearance.Ground{Lot: horseshoe().Points, Setback: 3}, ""},
		{"crosses itself", lot(at(0, 0), at(9, 9), at(9, 0), at(0, 9)),
			"the lot crosses itself: its side from corner 1 to corner 2 meets the one from corner 3 to corner 4; give the corners in order around it"},
		{"touches itself", lot(at(0, 0), at(9, 0), at(9, 9), at(4, 0), at(0, 9)), "its side from corner 1 to corner 2 meets the one from corner 3 to corner 4"},
		{"folds back", lot(at(0, 0), at(9, 0), at(9, 9), at(9, 4), at(0, 4)), "its side from corner 2 to corner 3 meets the one from corner 3 to corner 4"},
		{"one corner", lot(at(0, 0)), "the lot has 1 corner: an outline needs at least 3"},
		{"two corners", lot(at(0, 0), at(1, 0)), "the lot has 2 corners"},
		{"no area", lot(at(0, 0), at(4, 0), at(9, 0)), "the lot has no area"},
		{"corner twice", lot(at(0, 0), at(4, 0), at(4, 0), at(0, 9)), "corners 2 and 3 of the lot are one place: leave one of them out"},
		{"closed by hand", lot(at(0, 0), at(4, 0), at(4, 4), at(0, 0)), "corners 4 and 1 of the lot are one place"},
		{"no number", lot(at(0, 0), at(nan, 0), at(4, 4)), "corner 2 of the lot is at NaN m east and 0 m north"},
		{"infinite", lot(at(0, 0), at(4, inf), at(4, 4)), "corner 2 of the lot is at 4 m east and +Inf m north"},
		{"negative setback", clearance.Ground{Setback: -3}, "the setback from the property line is -3 m: give a distance of 0 or more"},
		{"setback no number", clearance.Ground{Setback: unit.Length(nan)}, "the setback from the property line is NaN m"},
		{"negative setback of a thing", thing(clearance.Obstacle{Name: "Well", Shape: disc(9, 9, 0), Setback: -1}), "the setback from Well is -1 m"},
		{"thing without a name", thing(clearance.Obstacle{Shape: disc(9, 9, 0), Setback: -1}), "the setback from obstacle 2 is"},
		{"thing without a place", thing(clearance.Obstacle{Name: "Well"}), "Well has no place"},
		{"negative radius", thing(clearance.Obstacle{Name: "Oak", Shape: disc(9, 9, -1)}), "the radius of Oak is -1 m"},
		{"width no number", thing(clearance.Obstacle{Name: "Line 1", Shape: strip(nan, at(0, 0), at(1, 1))}), "half the width of Line 1 is NaN m"},
		{"house crosses itself", thing(clearance.Obstacle{Name: "House", Shape: polygon(at(0, 0), at(9, 9), at(9, 0), at(0, 9))}), "House crosses itself"},
		{"line no number", thing(clearance.Obstacle{Name: "Line 1", Shape: strip(1, at(0, 0), at(nan, 1))}), "corner 2 of Line 1"},
	}
	for _, test := range tests {
		err := test.ground.Check()
		switch {
		case test.want == "" && err != nil:
			t.Errorf("%s: %v", test.name, err)
		case test.want != "" && (err == nil || !strings.Contains(err.Error(), test.want)):
			t.Errorf("%s: %v, want %q", test.name, err, test.want)
		}
	}
}

// A star never crosses itself; with two corners swapped it may, and is then found
// where any two of its sides cross.
func TestCheckFindsEveryCrossing(t *testing.T) {
	rnd := rand.New(rand.NewPCG(21, 22))
	for range 300 {
		ring := starRing(rnd, 4+rnd.IntN(20), 30, at(5, 5))
		if err := (clearance.Ground{Lot: ring}).Check(); err != nil {
			t.Fatal(err)
		}
		i, k := rnd.IntN(len(ring)), rnd.IntN(len(ring))
		ring[i], ring[k] = ring[k], ring[i]
		crosses := false
		for a := range ring {
			for b := range a {
				crosses = crosses || planar.Cross(ring[a], ring[(a+1)%len(ring)], ring[b], ring[(b+1)%len(ring)])
			}
		}
		if err := (clearance.Ground{Lot: ring}).Check(); (err != nil) != crosses {
			t.Fatalf("crosses %v, told %v: %v", crosses, err, ring)
		}
	}
}

package clearance_test

import (
	"math/rand/v2"
	"testing"

	"undersod/core/clearance"
	"undersod/core/unit"
)

// The region and the margins are reckoned in two ways, and agree: what the region
// holds has no negative margin, what has one clear of the tolerance is held, and
// the nearest place of the region is no nearer than the nearest allowed one.
func TestRegionsAgreeWithMargins(t *testing.T) {
	const tolerance = 0.001
	rnd := rand.New(rand.NewPCG(71, 72))
	held, farther := 0, 0
	for k := range 60 {
		g, f, wish := randomGround(rnd), randomFootprint(t, rnd), randomPlace(rnd, 30)
		turn := unit.Angle(7 * rnd.Float64())
		region, err := clearance.Allowed(g, f, turn, tolerance)
		region = must(t, region, err)
		for range 200 {
			p := clearance.Placement{At: randomPlace(rnd, 40), Turn: turn}
			m := smallest(g, f, p)
			in := region.Contains(p.At)
			if in {
				held++
			}
			if in && m < -1e-6 || !in && m > 2*tolerance && g.Lot != nil {
				t.Fatalf("case %d: held %v at %v with the margin %v: %+v %+v", k, in, p, m, g, f)
			}
		}
		to, ok := region.Nearest(wish)
		cure, err := clearance.Cure(g, f, clearance.Placement{At: wish, Turn: turn})
		cure = must(t, cure, err)
		if ok && (!cure.Fits || to.Minus(wish).Length() < cure.Moved-clearance.NearestWithin-1e-6) {
			t.Fatalf("case %d: the region has %v, %v off, and %+v", k, to, to.Minus(wish).Length(), cure)
		}
		if ok && g.Lot != nil && to.Minus(wish).Length() > cure.Moved+0.05 {
			farther++
		}
	}
	if held < 500 || farther > 0 {
		t.Errorf("%d places held, %d nearest places much farther", held, farther)
	}
}

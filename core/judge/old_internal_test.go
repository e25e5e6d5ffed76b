package judge

import (
	"math"
	"testing"

	"undersod/core/planar"
	"undersod/core/unit"
)

// chance is a small generator of its own, so that a failure repeats.
type chance uint64

func (c *chance) next() float64 {
	*c ^= *c << 13
	*c ^= *c >> 7
	*c ^= *c << 17
	return float64(*c>>11) / (1 << 53)
}

// normal is a sum of twelve, close enough to a normal deviate.
func (c *chance) normal() float64 {
	sum := -6.0
	for range 12 {
		sum += c.next()
	}
	return sum
}

// TestFitFindsTheTransformation carries points over by a known scale, turn and
// shift, and asks for them back.
func TestFitFindsTheTransformation(t *testing.T) {
	const a, b, e, n = 0.12, -0.05, 31.0, -8.5
	var pairs []pair
	for _, p := range [][2]float64{{0, 0}, {100, 10}, {40, 200}, {-30, 55}} {
		pairs = append(pairs, pair{p[0], p[1], planar.Vec{
			East: unit.Length(a*p[0] - b*p[1] + e), North: unit.Length(b*p[0] + a*p[1] + n)}})
	}
	s, ok := fit(pairs)
	if !ok || math.Abs(s.a-a) > 1e-12 || math.Abs(s.b-b) > 1e-12 || math.Abs(s.e-e) > 1e-10 || math.Abs(s.n-n) > 1e-10 || s.sigma > 1e-10 {
		t.Fatalf("%+v, %v", s, ok)
	}
	if math.Abs(s.perUnit()-0.13) > 1e-12 {
		t.Errorf("one unit is %g m, expected 0.13", s.perUnit())
	}
}

func TestFitNeedsTwoPlaces(t *testing.T) {
	if _, ok := fit(nil); ok {
		t.Error("nothing was fitted")
	}
	one := pair{3, 4, planar.Vec{East: 1}}
	if _, ok := fit([]pair{one, one, one}); ok {
		t.Error("one place three times was fitted")
	}
	if _, ok := fit([]pair{{0, 0, planar.Vec{East: 1}}, {5, 0, planar.Vec{East: 1}}}); ok {
		t.Error("two places of the drawing were fitted to one of the plan")
	}
}

// TestSearchCircleHolds draws an old sketch with errors many times and counts
// how often a part lies in its search circle: 95 % is stated, and the scale of
// the errors is estimated from few marks, so that somewhat fewer is right too.
func TestSearchCircleHolds(t *testing.T) {
	marks := [][2]float64{{0, 0}, {44, 0}, {44, 28}, {0, 28}, {70, 60}, {-20, 75}}
	part := [2]float64{20, 55}
	c := chance(88172645463325252)
	const runs, sd = 4000, 0.4
	inside := 0
	for range runs {
		draw := func(p [2]float64) (float64, float64) { return p[0] + sd*c.normal(), p[1] + sd*c.normal() }
		var pairs []pair
		for _, m := range marks {
			x, y := draw(m)
			pairs = append(pairs, pair{x, y, planar.Vec{East: unit.Length(m[0]), North: unit.Length(m[1])}})
		}
		s, ok := fit(pairs)
		if !ok {
			t.Fatal("not fitted")
		}
		x, y := draw(part)
		off := s.at(x, y).Minus(planar.Vec{East: unit.Length(part[0]), North: unit.Length(part[1])}).Length()
		if off <= s.radius(x, y, sd) {
			inside++
		}
	}
	if share := float64(inside) / runs; share < 0.94 || share > 0.995 {
		t.Errorf("%.3f of the parts lie in their circle, 0.95 is stated", share)
	}
}

func TestLastPlace(t *testing.T) {
	for _, c := range []struct {
		text string
		want unit.Length
	}{
		{"60 ft", unit.Foot}, {"60'", unit.Foot}, {"60.0 ft", unit.Foot / 10}, {"60.25 ft", unit.Foot / 100},
		{`54' 9"`, unit.Inch}, {`54' 9 1/2"`, unit.Inch / 2}, {"18 m", unit.Metre}, {"18.3 m", unit.Metre / 10},
		{"1830 cm", unit.Centimetre}, {`12"`, unit.Inch}, {"12 in", unit.Inch}, {"60 ft 0 in", unit.Inch},
	} {
		w, err := unit.ParseLength(c.text, unit.NoForm)
		if err != nil {
			t.Fatal(err)
		}
		if got := lastPlace(w); math.Abs(float64(got-c.want)) > 1e-12 {
			t.Errorf("%s: %v, expected %v", c.text, got, c.want)
		}
	}
}

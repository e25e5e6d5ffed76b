package archive_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"undersod/core/unit"
	"undersod/internal/archive"
)

func TestDistance(t *testing.T) {
	// A degree of a great circle of radius R1 is R1 × π/180 = 111,195.08 m (by hand).
	const degree = 111195.08
	for _, c := range []struct {
		name       string
		lat1, lon1 float64
		lat2, lon2 float64
		want       float64 // metres
	}{
		{"the same place", 44.5, -93, 44.5, -93, 0},
		{"a degree north", 44.5, -93, 45.5, -93, degree},
		{"a degree of the equator", 0, 10, 0, 11, degree},
		{"over the date line", 0, 179.5, 0, -179.5, degree},
		{"over the pole", 89.5, 0, 89.5, 180, degree},
		{"the same pole", 90, 0, 90, 77, 0},
		{"the other side", 0, 0, 0, 180, 180 * degree},
		{"the other side, aslant", 30, 20, -30, -160, 180 * degree},
		{"one metre", 44.5, -93, 44.5 + 1/degree, -93, 1},
	} {
		near := archive.Near{Latitude: unit.Angle(c.lat1) * unit.Degree, Longitude: unit.Angle(c.lon1) * unit.Degree}
		got := near.Distance(unit.Angle(c.lat2)*unit.Degree, unit.Angle(c.lon2)*unit.Degree).Metres()
		if math.Abs(got-c.want) > 1e-6*c.want+1e-6 {
			t.Errorf("%s: %.3f m, want %.3f m", c.name, got, c.want)
		}
	}
}

func TestBoxesHoldAllWithinReach(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	inside := 0
	for range 200_000 {
		lat := math.Asin(2*r.Float64()-1) * 180 / math.Pi
		near := archive.Near{
			Latitude: unit.Angle(lat) * unit.Degree, Longitude: unit.Angle(r.Float64()*360-180) * unit.Degree,
			Within: unit.Length(math.Exp(r.Float64()*17)) * unit.Metre,
		}
		// A place about as far as the reach, in any direction.
		spread := near.Within.Metres() / archive.MeanRadius.Metres() * 1.2
		la := near.Latitude.Radians() + spread*(2*r.Float64()-1)
		la = max(-math.Pi/2, min(math.Pi/2, la))
		lo := near.Longitude.Radians() + spread*(2*r.Float64()-1)/max(1e-3, math.Cos(la))
		place := unit.Angle(lo).HalfTurn()
		if near.Distance(unit.Angle(la), place) > near.Within {
			continue
		}
		inside++
		if !held(near.Boxes(), unit.Angle(la), place) {
			t.Fatalf("%+v: %v %v is within reach and in none of %v", near, la, place.Radians(), near.Boxes())
		}
	}
	if inside < 50_000 {
		t.Errorf("only %d places were within reach", inside)
	}
}

func held(boxes []archive.Box, latitude, longitude unit.Angle) bool {
	for _, b := range boxes {
		if b.South <= latitude && latitude <= b.North && b.West <= longitude && longitude <= b.East {
			return true
		}
	}
	return false
}

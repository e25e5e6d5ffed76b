package invented_test

import (
	"math"
	"reflect"
	"testing"

	"undersod/core/unit"
	"undersod/internal/archive"
	"undersod/internal/archive/invented"
)

func TestTheSameSeedMakesTheSameSites(t *testing.T) {
	a, b, c := invented.New(1), invented.New(1), invented.New(2)
	seen, permits := map[archive.ID]bool{}, map[string]bool{}
	for range 3000 {
		s := a.Site()
		if !reflect.DeepEqual(s, b.Site()) {
			t.Fatal("two makers of one seed differ")
		}
		if reflect.DeepEqual(s, c.Site()) {
			t.Fatal("two seeds make the same")
		}
		h := s.Heading
		if !s.ID.Valid() || seen[s.ID] || permits[h.Permit] {
			t.Fatalf("%+v is not new", s)
		}
		seen[s.ID], permits[h.Permit] = true, true
		if math.Abs(float64(*h.Latitude/unit.Degree)-44.5) > 1.6 || math.Abs(float64(*h.Longitude/unit.Degree)+93) > 2.1 || h.NextLook <= h.Date {
			t.Fatalf("%+v lies elsewhere, or is looked at again before it was", h)
		}
	}
	if n := len(a.Job(a.Site(), 15_000)); n < 15_000 || n > 15_200 {
		t.Errorf("a job file has %d bytes", n)
	}
}

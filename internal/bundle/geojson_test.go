package bundle_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"testing"

	"undersod/core/adjust"
	"undersod/core/site"
	"undersod/examples"
	"undersod/internal/bundle"
	"undersod/internal/jobfile"
)

type geo struct {
	Type     string
	Features []struct {
		Type     string
		ID       string
		Geometry struct {
			Type        string
			Coordinates json.RawMessage
		}
		Properties map[string]any
	}
}

func solved(t testing.TB, name string) (*site.Job, *adjust.Plan) {
	t.Helper()
	text, err := examples.Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	r, err := jobfile.Read(name, bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return &r.Job, adjust.Solve(&r.Job, adjust.Settings{})
}

// A plan with fixes comes out where its fixes are.
func TestGeoJSONLiesWhereTheFixesAre(t *testing.T) {
	job, plan := solved(t, "two-ties-and-a-fix.yaml")
	text, err := bundle.GeoJSON(job, plan)
	if err != nil {
		t.Fatal(err)
	}
	var g geo
	if err := json.Unmarshal(text, &g); err != nil || g.Type != "FeatureCollection" {
		t.Fatalf("%v: %s", err, g.Type)
	}
	at := map[string][2]float64{}
	kinds := map[string]int{}
	for _, f := range g.Features {
		kinds[f.Geometry.Type]++
		if f.Geometry.Type == "Point" {
			var p [2]float64
			if err := json.Unmarshal(f.Geometry.Coordinates, &p); err != nil {
				t.Fatal(err)
			}
			at[f.ID] = p
		}
		if f.Geometry.Type == "Polygon" {
			checkRing(t, f.ID, f.Geometry.Coordinates)
		}
	}
	fixes := 0
	for _, r := range job.Visit.Readings {
		fix, ok := r.(site.Fix)
		if !ok || fix.Grid {
			continue
		}
		fixes++
		p, ok := at["point "+string(fix.Point)]
		// A degree of latitude is about 111 km; a phone is off by some metres.
		north := (p[1] - fix.Latitude.Degrees()) * 111_000
		east := (p[0] - fix.Longitude.Degrees()) * 111_000 * math.Cos(fix.Latitude.Radians())
		if !ok || math.Hypot(north, east) > 12 {
			t.Errorf("%s lies %.1f m from its fix", fix.Point, math.Hypot(north, east))
		}
	}
	if fixes == 0 || kinds["Polygon"] == 0 || kinds["LineString"] == 0 {
		t.Errorf("%d fixes, %v", fixes, kinds)
	}
	// Distances on the earth are those of the plan, within 1 mm and the rounding.
	a, b := plan.Points[0], plan.Points[1]
	p, q := at["point "+string(a.Name)], at["point "+string(b.Name)]
	lat := p[1] * math.Pi / 180
	s := 1 - 6.69437999014e-3*math.Pow(math.Sin(lat), 2)
	prime := 6378137 / math.Sqrt(s)
	d := math.Hypot((p[1]-q[1])*math.Pi/180*(prime*(1-6.69437999014e-3)/s+plan.Frame.Height.Metres()), (p[0]-q[0])*math.Pi/180*(prime+plan.Frame.Height.Metres())*math.Cos(lat))
	if want := a.At.Minus(b.At).Length().Metres(); math.Abs(d-want) > 0.003 {
		t.Errorf("%s to %s is %.4f m on the earth, %.4f m on the plan", a.Name, b.Name, d, want)
	}
}

// checkRing holds a ring against RFC 7946, section 3.1.6: closed, counterclockwise.
func checkRing(t *testing.T, id string, coordinates json.RawMessage) {
	t.Helper()
	var rings [][][2]float64
	if err := json.Unmarshal(coordinates, &rings); err != nil || len(rings) != 1 || len(rings[0]) < 4 {
		t.Fatalf("%s: %s", id, coordinates)
	}
	ring, twice := rings[0], 0.0
	for i := range ring[1:] {
		twice += (ring[i][0]-ring[0][0])*(ring[i+1][1]-ring[0][1]) - (ring[i+1][0]-ring[0][0])*(ring[i][1]-ring[0][1])
	}
	if ring[0] != ring[len(ring)-1] || twice <= 0 {
		t.Errorf("%s: closed %v, twice its area %g", id, ring[0] == ring[len(ring)-1], twice)
	}
}

// Without longitude and latitude there is no GeoJSON, and the words say why.
func TestGeoJSONNeedsAPlaceOnEarth(t *testing.T) {
	job, plan := solved(t, "two-corners.yaml")
	if _, err := bundle.GeoJSON(job, plan); !errors.Is(err, bundle.ErrNoPlace) {
		t.Error(err)
	}
	if _, err := bundle.GeoJSON(&site.Job{}, adjust.Solve(&site.Job{}, adjust.Settings{})); !errors.Is(err, bundle.ErrNoPlace) {
		t.Error(err)
	}
}

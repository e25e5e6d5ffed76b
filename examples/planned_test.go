package examples_test

import (
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// ground is the places of a plan, by name.
type ground map[site.Name]planar.Vec

func solved(t *testing.T, name string) (site.Job, ground) {
	t.Helper()
	r := read(t, name)
	if len(r.Problems) > 0 {
		t.Fatal(r.Problems)
	}
	g := ground{}
	for _, p := range adjust.Solve(&r.Job, adjust.Settings{}).Points {
		g[p.Name] = p.At
	}
	return r.Job, g
}

// step returns the place at a station along from-to and to the right of it, in
// feet.
func (g ground) step(from, to site.Name, station, right float64) planar.Vec {
	along, _ := g[to].Minus(g[from]).Unit()
	return g[from].Plus(along.Times(station * float64(unit.Foot))).Plus(along.Right().Times(right * float64(unit.Foot)))
}

func (g ground) path(names ...site.Name) planar.Path {
	var out planar.Path
	for _, n := range names {
		out = append(out, g[n])
	}
	return out
}

// rectangle is length by width feet about a middle, along from-to.
func (g ground) rectangle(from, to site.Name, station, right, length, width float64) planar.Path {
	var out planar.Path
	for _, c := range [][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}, {-1, -1}} {
		out = append(out, g.step(from, to, station+c[0]*length/2, right+c[1]*width/2))
	}
	return out
}

// feature is the outline of a feature, closed.
func (g ground) feature(t *testing.T, job site.Job, name site.Name) planar.Path {
	t.Helper()
	for _, f := range job.Site.Features {
		if f.Name == name {
			return g.path(append(append([]site.Name(nil), f.Points...), f.Points[0])...)
		}
	}
	t.Fatalf("there is no feature %s", name)
	return nil
}

// away tells whether two outlines are so many feet apart.
func away(t *testing.T, what string, a, b planar.Path, feet float64) {
	t.Helper()
	const within = 0.2 // of the readings
	if d := a.DistanceTo(b).Feet(); d < feet-within || d > feet+within {
		t.Errorf("%s: %.2f ft, want %.2f", what, d, feet)
	}
}

// TestTheCottageStandsTooNearTheLine holds the second dwelling to its story, on
// the places that its readings were made from: two feet too near the property
// line and clear of all else, also once it is moved.
func TestTheCottageStandsTooNearTheLine(t *testing.T) {
	job, g := solved(t, "second-dwelling.yaml")
	p := job.Site.Proposed[0]
	station, right := p.At.Station.Length.Feet(), p.At.Right.Length.Feet()
	if len(job.Site.Proposed) != 2 || *p.Along != [2]site.Name{"D", "C"} || p.At.From != "D" || job.Site.PlannedBedrooms() != 2 {
		t.Fatalf("%+v", p)
	}
	lot, trench := g.feature(t, job, "Lot"), 1.5
	asked := g.rectangle("D", "C", station, right, p.Length.Length.Feet(), p.Width.Length.Feet())
	moved := g.rectangle("D", "C", station-2, right, p.Length.Length.Feet(), p.Width.Length.Feet())
	away(t, "as asked, from the lot", asked, lot, p.FromLot.Length.Feet()-2)
	away(t, "moved, from the lot", moved, lot, p.FromLot.Length.Feet())
	// The rules want 10 ft from a field.
	for _, at := range []planar.Path{asked, moved} {
		for _, name := range []site.Name{"Reserve", "Next field"} {
			if d := at.DistanceTo(g.feature(t, job, name)).Feet(); d < 12 {
				t.Errorf("%.2f ft from %s", d, name)
			}
		}
		for _, l := range job.Site.Lines[2:] {
			if d := at.DistanceTo(g.path(l.Path...)).Feet() - trench; d < 11 {
				t.Errorf("%.2f ft from %s", d, l.Name)
			}
		}
	}
}

// TestTheWorkshopHasRoom shows one place for it that keeps every distance of the
// demo's permit with ten feet to spare: the lot can hold it.
func TestTheWorkshopHasRoom(t *testing.T) {
	job, g := solved(t, "quarry-hollow.yaml")
	p := job.Site.Proposed[0]
	if p.At != nil || p.Turn != nil || p.Along != nil || job.Site.Setbacks == nil || len(job.Site.Setbacks.Rows) != 4 {
		t.Fatalf("%+v", p)
	}
	at := g.rectangle("A", "B", 102, 40, p.Length.Length.Feet(), p.Width.Length.Feet())
	house := g.path("A", "B", "C", "D", "E", "F", "A")
	for _, c := range []struct {
		what string
		to   planar.Path
		kept float64
	}{
		{"the lot", g.feature(t, job, "Lot"), 10}, {"the house", house, 6}, {"the reserve", g.feature(t, job, "Reserve"), 15},
		{"the drive", g.feature(t, job, "Drive"), 0}, {"the box", g.path("D-box"), 10}, {"line 1", g.path(job.Site.Lines[2].Path...), 16.5},
	} {
		if d := at.DistanceTo(c.to).Feet(); d < c.kept+10 {
			t.Errorf("%.2f ft from %s, which wants %g", d, c.what, c.kept)
		}
	}
	// What the permit's distances say of the system as it lies: the drive clips
	// line 1, and the reserve area is drawn to 4 ft from the property line.
	if d := g.path(job.Site.Lines[2].Path...).DistanceTo(g.feature(t, job, "Drive")).Feet(); d > 1.5 {
		t.Errorf("line 1 lies %.2f ft from the drive", d)
	}
	away(t, "the reserve from the lot", g.feature(t, job, "Reserve"), g.feature(t, job, "Lot"), 4)
}

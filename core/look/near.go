package look

import (
	"fmt"
	"slices"

	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// mostNear is how many things are told of one finding; those that may explain
// it come before the rest.
const mostNear = 4

// reach is how near a thing must be to be told; common practice, no source.
// Kinds that are not listed are not told: a reserve area, a soil test, an
// easement and a flood plain do nothing to a pipe by themselves.
var reach = map[site.FeatureKind]unit.Length{
	site.Tree: 30 * unit.Foot, site.Well: 100 * unit.Foot, site.Driveway: 10 * unit.Foot,
	site.PropertyLine: 10 * unit.Foot, site.WaterLine: 10 * unit.Foot, site.Pool: 25 * unit.Foot,
	site.SurfaceWater: 50 * unit.Foot, site.Fence: 5 * unit.Foot, site.Downspout: 20 * unit.Foot,
	site.Structure: 15 * unit.Foot, site.UtilityLine: 10 * unit.Foot,
	site.Spring: 50 * unit.Foot, site.Wetland: 50 * unit.Foot, site.Ditch: 50 * unit.Foot, site.Drain: 20 * unit.Foot,
	site.DryWell: 20 * unit.Foot, site.Cistern: 15 * unit.Foot, site.StormPipe: 10 * unit.Foot,
	site.Bank: 25 * unit.Foot, site.Sinkhole: 25 * unit.Foot, site.OtherField: 25 * unit.Foot,
}

// reachBuilding is the same for a building.
const reachBuilding = 15 * unit.Foot

// thing is a feature or a building with its place.
type thing struct {
	name     site.Name
	kind     site.FeatureKind
	building bool
	radius   unit.Length // of a round thing, or of a tree's crown
	trunk    unit.Length
	area     planar.Ring
	lines    []planar.Path // of an edge, a line or one point
}

// gather returns everything that may stand near a finding and is located, in
// the order of the job.
func (g *ground) gather() []thing {
	var out []thing
	for _, b := range g.job.Site.Buildings {
		if at, all := g.located(b.Corners); all && len(at) > 2 {
			out = append(out, thing{name: b.Name, building: true, area: planar.Ring(at)})
		}
	}
	for i := range g.job.Site.Features {
		f := &g.job.Site.Features[i]
		if _, told := reach[f.Kind]; !told {
			continue
		}
		if t, ok := g.feature(f); ok {
			out = append(out, t)
		}
	}
	return out
}

// feature turns a feature into a thing; false where it is not located. Of a line
// or an outline the located pieces count; an area needs all its corners.
func (g *ground) feature(f *site.Feature) (thing, bool) {
	t := thing{name: f.Name, kind: f.Kind, radius: max(f.Radius, 0), trunk: max(f.Trunk, 0)}
	at, all := g.located(f.Points)
	if f.Closed && all && len(at) > 2 && isArea(f.Kind) {
		t.area = planar.Ring(at)
		return t, true
	}
	names := f.Points
	if f.Closed && len(names) > 2 {
		names = append(slices.Clone(names), names[0])
	}
	t.lines = g.pieces(names)
	return t, len(t.lines) > 0
}

// isArea tells whether something can lie under or inside such a feature; of a
// lot or a fence only the edge matters.
func isArea(k site.FeatureKind) bool {
	switch k {
	case site.PropertyLine, site.Fence, site.WaterLine, site.UtilityLine, site.StormPipe, site.Drain, site.Bank:
		return false
	}
	return true
}

func (g *ground) located(names []site.Name) (at planar.Path, all bool) {
	for _, n := range names {
		p, ok := g.points[n]
		if !ok {
			return nil, false
		}
		at = append(at, p.At)
	}
	return at, true
}

// pieces returns the runs of neighbouring points that are located.
func (g *ground) pieces(names []site.Name) []planar.Path {
	var out []planar.Path
	var now planar.Path
	for _, n := range names {
		if p, ok := g.points[n]; ok {
			now = append(now, p.At)
			continue
		}
		if len(now) > 0 {
			out = append(out, now)
		}
		now = nil
	}
	if len(now) > 0 {
		out = append(out, now)
	}
	return out
}

// from returns how far the thing lies from a path, and whether it lies over it.
func (t *thing) from(p planar.Path) (away unit.Length, over bool) {
	if t.area != nil {
		away = t.area.Distance(p)
		return away, away == 0
	}
	for i, l := range t.lines {
		if d := l.DistanceTo(p); i == 0 || d < away {
			away = d
		}
	}
	switch {
	case t.kind == site.Tree:
		return max(away-t.trunk/2, 0), away <= t.radius
	case isArea(t.kind):
		away = max(away-t.radius, 0)
		return away, away == 0 && (t.radius > 0 || t.kind == site.Driveway)
	}
	return away, false
}

// limit is how far away the thing is still told.
func (t *thing) limit() unit.Length {
	switch {
	case t.building:
		return reachBuilding
	case t.kind == site.Tree:
		return max(reach[site.Tree], t.roots())
	}
	return reach[t.kind]
}

// roots is how far from the trunk roots are looked for: ten feet past the crown,
// or where that is not known, 18 trunk diameters and at least 25 ft. Common
// practice, no source; roots go farther still where they find water.
func (t *thing) roots() unit.Length {
	if t.radius > 0 {
		return t.radius + 10*unit.Foot
	}
	return max(18*t.trunk, 25*unit.Foot)
}

// near returns what stands near a finding, nearest first.
func (g *ground) near(f *Finding) []Near {
	if len(f.Path) == 0 {
		return nil
	}
	sure := f.From.Radius
	if f.To != nil {
		sure = max(sure, f.To.Radius)
	}
	var out []Near
	for i := range g.things {
		t := &g.things[i]
		away, over := t.from(planar.Path(f.Path))
		if !(away <= t.limit()) && !over {
			continue
		}
		n := Near{Feature: t.name, Kind: t.kind, Building: t.building, Distance: away, Over: over}
		why := explains(f.What, t, away, over, sure)
		n.Explains = why != ""
		n.Words = g.nearWords(t, n, sure, why)
		out = append(out, n)
	}
	return keepNearest(out)
}

// keepNearest sorts by distance and keeps the first few, of which those that
// explain the finding are the last to go.
func keepNearest(all []Near) []Near {
	byDistance := func(a, b Near) int {
		switch {
		case a.Distance < b.Distance:
			return -1
		case a.Distance > b.Distance:
			return 1
		}
		return 0
	}
	slices.SortStableFunc(all, byDistance)
	slices.SortStableFunc(all, func(a, b Near) int {
		switch {
		case a.Explains == b.Explains:
			return 0
		case a.Explains:
			return -1
		}
		return 1
	})
	all = all[:min(len(all), mostNear)]
	slices.SortStableFunc(all, byDistance)
	return all
}

func (g *ground) nearWords(t *thing, n Near, sure unit.Length, why string) string {
	var s string
	switch {
	case t.kind == site.Tree:
		s = fmt.Sprintf("%s from the trunk of %s", g.length(n.Distance), t.name)
		if n.Over {
			s += ", under its crown"
		}
	case t.building && n.Over:
		s = "under " + string(t.name)
	case t.building:
		s = fmt.Sprintf("%s from %s", g.length(n.Distance), t.name)
	case n.Over:
		s = fmt.Sprintf("under %s (%s)", t.name, t.kind)
	case n.Distance == 0:
		s = fmt.Sprintf("where %s (%s) crosses", t.name, t.kind)
	default:
		s = fmt.Sprintf("%s from %s (%s)", g.length(n.Distance), t.name, t.kind)
	}
	if t.area != nil && !n.Over && n.Distance < sure {
		s += ", and as well as the place is known it may lie under it"
	}
	if why != "" {
		s += ": " + why
	}
	return s
}

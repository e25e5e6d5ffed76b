package bundle

import (
	"encoding/json"
	"errors"
	"math"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// ErrNoPlace means that the plan does not know where on earth it lies or which
// way north is, so that it has no longitudes and latitudes.
var ErrNoPlace = errors.New("the plan has no longitude and latitude: add a satellite fix, or latitude, longitude and a true azimuth of the datum, to the job")

// collection is a FeatureCollection of RFC 7946.
type collection struct {
	Type     string    `json:"type"`
	Features []feature `json:"features"`
}

type feature struct {
	Type       string     `json:"type"`
	ID         string     `json:"id"`
	Geometry   geometry   `json:"geometry"`
	Properties properties `json:"properties"`
}

type geometry struct {
	Type        string `json:"type"`
	Coordinates any    `json:"coordinates"`
}

type properties struct {
	Name    string   `json:"name"`
	Is      string   `json:"is"`   // mark, part, line, building, feature
	Kind    string   `json:"kind"` // in the words of the job
	Detail  string   `json:"detail,omitempty"`
	Within  *float64 `json:"within95_m,omitempty"` // of a point, on the plan
	Length  *float64 `json:"length_m,omitempty"`
	Visited string   `json:"visited,omitempty"`
}

// position is longitude and latitude in degrees, as RFC 7946 orders them.
type position [2]float64

// GeoJSON writes what a plan has located as a FeatureCollection of RFC 7946 in
// WGS 84: marks and parts as points, lines as lines, buildings, outlines and
// areas as polygons. What is not located is left out. ErrNoPlace where the plan
// has no longitude and latitude, or its north is not known or merely magnetic.
func GeoJSON(job *site.Job, plan *adjust.Plan) ([]byte, error) {
	g, ok := ground(plan)
	if !ok {
		return nil, ErrNoPlace
	}
	g.visited = job.Visit.Date
	g.points(job)
	g.lines(job)
	g.buildings(job)
	g.outlines(job)
	g.areas(job)
	text, err := json.MarshalIndent(collection{"FeatureCollection", g.out}, "", "  ")
	if err != nil {
		return nil, err
	}
	return append(text, '\n'), nil
}

// globe carries a plan onto the earth.
type globe struct {
	latitude, longitude unit.Angle
	origin              planar.Vec // where those are on the plan
	perNorth, perEast   float64    // metres to a radian of latitude, and of longitude
	at                  map[site.Name]adjust.Point
	plan                *adjust.Plan
	visited             string
	out                 []feature
}

// Radii of the WGS 84 ellipsoid (NIMA TR8350.2, 3rd edition, 2000, from
// memory): semi-major axis in metres and first eccentricity squared.
const (
	axis         = 6378137.0
	eccentricity = 6.69437999014e-3
)

// ground finds where a plan lies: arcs with the radii of curvature in the
// meridian, a(1-e²)/(1-e² sin²φ)^1.5, and in the prime vertical, a/√(1-e² sin²φ)
// (Snyder, Map Projections: A Working Manual, USGS Professional Paper 1395,
// 1987, p. 24, from memory), as the adjustment takes its fixes in.
func ground(plan *adjust.Plan) (*globe, bool) {
	f := plan.Frame
	if f.Latitude == nil || f.Longitude == nil || f.North != adjust.NorthGiven && f.North != adjust.NorthMeasured {
		return nil, false
	}
	g := &globe{latitude: *f.Latitude, longitude: *f.Longitude, plan: plan, at: map[site.Name]adjust.Point{}, out: []feature{}}
	for _, p := range plan.Points {
		if p.Placed && p.State == adjust.Determined && number(p.At) {
			g.at[p.Name] = p
		}
	}
	held, ok := g.at[f.Mark]
	g.origin = held.At
	s := math.Sin(float64(g.latitude))
	w := 1 - eccentricity*s*s
	prime := axis / math.Sqrt(w)
	g.perNorth = prime*(1-eccentricity)/w + float64(f.Height)
	g.perEast = (prime + float64(f.Height)) * math.Cos(float64(g.latitude))
	good := !math.IsNaN(float64(g.longitude)) && !math.IsInf(float64(g.longitude), 0)
	return g, ok && good && math.Abs(g.latitude.Degrees()) < 89.9 && g.perNorth > 1e6 && g.perEast > 1e3
}

func number(v planar.Vec) bool {
	s := float64(v.East) + float64(v.North)
	return !math.IsNaN(s) && math.Abs(float64(v.East)) < 1e5 && math.Abs(float64(v.North)) < 1e5
}

// position carries a place over, to about a millimetre.
func (g *globe) position(v planar.Vec) position {
	d := v.Minus(g.origin)
	lat := g.latitude + unit.Angle(float64(d.North)/g.perNorth)
	lon := (g.longitude + unit.Angle(float64(d.East)/g.perEast)).HalfTurn()
	return position{rounded(lon.Degrees()), rounded(lat.Degrees())}
}

func rounded(degrees float64) float64 { return math.Round(degrees*1e8) / 1e8 }

func (g *globe) add(id string, shape geometry, p properties) {
	p.Visited = g.visited
	g.out = append(g.out, feature{"Feature", id, shape, p})
}

func (g *globe) points(job *site.Job) {
	parts := map[site.Name]site.Part{}
	for _, p := range job.Site.Parts {
		parts[p.Name] = p
	}
	for _, p := range job.Site.Points {
		q, ok := g.at[p.Name]
		if !ok || p.Role == site.RoleHit {
			continue
		}
		within := q.Ellipse.Radius.Metres()
		of := properties{Name: string(p.Name), Is: "point", Kind: p.Kind, Within: &within}
		switch p.Role {
		case site.RoleMark, site.RoleCorner:
			of.Is = "mark"
		case site.RolePart:
			of.Is, of.Kind, of.Detail = "part", string(parts[p.Name].Kind), parts[p.Name].Detail
		}
		if math.IsNaN(within) || math.IsInf(within, 0) {
			of.Within = nil
		}
		g.add("point "+string(p.Name), geometry{"Point", g.position(q.At)}, of)
	}
}

// path is the places of points, and whether all are located.
func (g *globe) path(names []site.Name) ([]planar.Vec, bool) {
	var out []planar.Vec
	for _, n := range names {
		p, ok := g.at[n]
		if !ok {
			return nil, false
		}
		out = append(out, p.At)
	}
	return out, len(out) > 0
}

func (g *globe) positions(path []planar.Vec) []position {
	out := []position{}
	for _, v := range path {
		out = append(out, g.position(v))
	}
	return out
}

// polygon is a ring counterclockwise, closed by its first position (RFC 7946,
// section 3.1.6).
func (g *globe) polygon(ring []planar.Vec) geometry {
	var twice unit.Area
	for i, v := range ring {
		twice += v.Cross(ring[(i+1)%len(ring)])
	}
	out := g.positions(ring)
	if twice < 0 {
		for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
			out[i], out[j] = out[j], out[i]
		}
	}
	return geometry{"Polygon", [][]position{append(out, out[0])}}
}

func (g *globe) lines(job *site.Job) {
	lengths := map[site.Name]adjust.LineLength{}
	for _, l := range g.plan.Footages {
		lengths[l.Line] = l
	}
	for _, l := range job.Site.Lines {
		path, ok := g.path(l.Path)
		if !ok || len(path) < 2 {
			continue
		}
		p := properties{Name: string(l.Name), Is: "line", Kind: string(l.Kind)}
		if m := lengths[l.Name]; m.Known {
			metres := m.Length.Metres()
			p.Length = &metres
		}
		g.add("line "+string(l.Name), geometry{"LineString", g.positions(path)}, p)
	}
}

func (g *globe) buildings(job *site.Job) {
	for _, b := range job.Site.Buildings {
		if ring, ok := g.path(b.Corners); ok && len(ring) > 2 {
			g.add("building "+string(b.Name), g.polygon(ring), properties{Name: string(b.Name), Is: "building", Kind: "building", Detail: b.Class})
		}
	}
}

func (g *globe) outlines(job *site.Job) {
	for _, o := range g.plan.Outlines {
		if !o.Fitted || !number(o.Centre) {
			continue
		}
		p := properties{Name: string(o.Part), Is: "part"}
		for _, part := range job.Site.Parts {
			if part.Name == o.Part {
				p.Kind, p.Detail = string(part.Kind), part.Detail
			}
		}
		g.add("outline "+string(o.Part), g.polygon(o.Corners[:]), p)
	}
}

// areas adds the features that are more than one point.
func (g *globe) areas(job *site.Job) {
	for _, f := range job.Site.Features {
		path, ok := g.path(f.Points)
		if !ok {
			continue
		}
		p := properties{Name: string(f.Name), Is: "feature", Kind: string(f.Kind), Detail: f.Detail}
		switch {
		case f.Closed && len(path) > 2:
			g.add("feature "+string(f.Name), g.polygon(path), p)
		case len(path) > 1:
			g.add("feature "+string(f.Name), geometry{"LineString", g.positions(path)}, p)
		default:
			g.add("feature "+string(f.Name), geometry{"Point", g.position(path[0])}, p)
		}
	}
}

package adjust

import (
	"fmt"
	"math"

	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// frameChoice is the datum as the network uses it.
type frameChoice struct {
	kind         site.DatumKind
	mark, toward int // points; -1 where there is none
	azimuth      *unit.Angle
	north        North
	east0        unit.Length
	north0       unit.Length
	lat0, lon0   unit.Angle // origin of the satellites' local plane
	geoKnown     bool       // the datum mark's own latitude and longitude are given
	hasGeo       bool
	height       unit.Length
	why          string
}

// chooseFrame takes the job's datum, or else the first wall of the first
// building, or else the first two marks.
func (n *network) chooseFrame() frameChoice {
	d := n.job.Datum
	f := frameChoice{kind: d.Kind, mark: -1, toward: -1, height: d.Height}
	if i, ok := n.index[d.Mark]; ok && d.Kind == site.DatumBaseline {
		f.mark, f.east0, f.north0 = i, d.East, d.North
		f.why = "given by the job"
		if j, ok := n.index[d.Toward]; ok && j != i {
			f.toward, f.azimuth = j, d.Azimuth
		}
		if d.Latitude != nil && d.Longitude != nil {
			f.lat0, f.lon0, f.geoKnown, f.hasGeo = *d.Latitude, *d.Longitude, true, true
		}
	}
	n.defaultBaseline(&f)
	n.chooseNorth(&f)
	if f.mark >= 0 && f.toward >= 0 {
		f.why = fmt.Sprintf("%s and the direction %s-%s held (%s)",
			n.points[f.mark].Name, n.points[f.mark].Name, n.points[f.toward].Name, f.why)
	}
	return f
}

// defaultBaseline fills in the ends of the baseline that the job leaves open.
func (n *network) defaultBaseline(f *frameChoice) {
	for _, b := range n.job.Site.Buildings {
		if f.mark >= 0 || len(b.Corners) < 2 {
			break
		}
		if pts, ok := n.find(b.Corners[0], b.Corners[1]); ok {
			f.mark, f.toward = pts[0], pts[1]
			f.why = "the first wall of " + string(b.Name)
		}
	}
	for i, p := range n.points {
		if !p.IsMark() || i == f.mark || f.toward >= 0 {
			continue
		}
		if f.mark < 0 {
			f.mark, f.why = i, "the first two marks of the job"
		} else {
			f.toward = i
		}
	}
	for i := range n.points { // no marks at all: any two points will do
		if f.mark < 0 {
			f.mark, f.why = i, "the first two points of the job"
		} else if f.toward < 0 && i != f.mark {
			f.toward = i
		}
	}
}

// firmFix is the standard deviation up to which two fixes say more about north
// than a compass whose declination nobody stated: over a yard of 20 m a phone is
// worth a quarter turn, a survey receiver a tenth of a degree.
const firmFix = 0.5 // m

// chooseNorth decides what up means, and where the satellites' plane starts.
func (n *network) chooseNorth(f *frameChoice) {
	if f.azimuth != nil {
		f.north = NorthGiven
	}
	magnetic, trueNorth, fixes, firm := 0, 0, 0, 0
	placed := n.gridStated(f)
	for _, r := range n.job.Visit.Readings {
		if r.Common().SetAside != "" {
			continue
		}
		switch r := r.(type) {
		case site.Bearing:
			if r.Magnetic && n.job.Visit.Declination == nil {
				magnetic++
			} else {
				trueNorth++
			}
		case site.Fix:
			fixes++
			if n.fixDeviation(r) <= firmFix {
				firm++
			}
			if r.Grid && placed || !r.Grid && f.geoKnown {
				fixes++ // the datum's own place is the second one
			}
			if !r.Grid && !f.hasGeo && finite(r.Latitude) && finite(r.Longitude) {
				f.lat0, f.lon0, f.hasGeo = r.Latitude, r.Longitude, true
			}
		}
	}
	switch {
	case f.north == NorthGiven:
	case trueNorth > 0 || (fixes > 1 && (magnetic == 0 || firm > 1)):
		f.north = NorthMeasured
	case magnetic > 0:
		f.north = NorthMagnetic
	}
}

func finite(a unit.Angle) bool { return !math.IsNaN(float64(a)) && !math.IsInf(float64(a), 0) }

// gridStated tells whether the datum states where its mark lies in the grid.
func (n *network) gridStated(f *frameChoice) bool {
	return n.job.Datum.Kind == site.DatumBaseline && f.mark >= 0 &&
		n.points[f.mark].Name == n.job.Datum.Mark
}

// Radii of the WGS 84 ellipsoid (NIMA TR8350.2, 3rd edition, 2000, from
// memory): semi-major axis in metres and first eccentricity squared.
const (
	wgs84Axis         = 6378137.0
	wgs84Eccentricity = 6.69437999014e-3
)

// local returns the step east and north from the plane's origin to a latitude
// and longitude, on the ground plane at the site's height: arcs with the radii
// of curvature in the meridian, M = a(1-e²)/(1-e² sin²φ)^1.5, and in the prime
// vertical, N = a/√(1-e² sin²φ) (Snyder, Map Projections: A Working Manual,
// USGS Professional Paper 1395, 1987, p. 24, from memory). The error of leaving
// out the second order is below x² tanφ / 2N: a millimetre at 100 m.
func (f frameChoice) local(lat, lon unit.Angle) planar.Vec {
	m, p := curvature(f.lat0)
	h := float64(f.height)
	dLon := float64((lon - f.lon0).HalfTurn())
	return planar.Vec{
		East:  unit.Length(dLon * (p + h) * math.Cos(float64(f.lat0))),
		North: unit.Length(float64(lat-f.lat0) * (m + h)),
	}
}

// geographic is the inverse of local.
func (f frameChoice) geographic(v planar.Vec) (lat, lon unit.Angle) {
	m, p := curvature(f.lat0)
	h := float64(f.height)
	lat = f.lat0 + unit.Angle(float64(v.North)/(m+h))
	lon = f.lon0 + unit.Angle(float64(v.East)/((p+h)*math.Cos(float64(f.lat0))))
	return lat, lon
}

// curvature returns the radii of curvature in the meridian and in the prime
// vertical at a latitude, in metres.
func curvature(lat unit.Angle) (meridian, prime float64) {
	s := math.Sin(float64(lat))
	w := 1 - wgs84Eccentricity*s*s
	prime = wgs84Axis / math.Sqrt(w)
	return prime * (1 - wgs84Eccentricity) / w, prime
}

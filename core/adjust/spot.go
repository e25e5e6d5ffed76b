package adjust

import "math"

// spot is a working position in metres.
type spot struct{ e, n float64 }

func (s spot) from(t spot) float64 { return math.Hypot(s.e-t.e, s.n-t.n) }

// circle is where a tape's end may lie; ray is where a bearing leads.
type circle struct {
	centre spot
	radius float64
}

type ray struct {
	from spot
	e, n float64 // direction, one metre long
}

func rayAt(from spot, azimuth float64) ray {
	s, c := math.Sincos(azimuth)
	return ray{from, s, c}
}

// meetCircles returns the places where two circles meet; circles that do not
// meet give the place between them, where both are missed by least.
func meetCircles(a, b circle) []spot {
	d := a.centre.from(b.centre)
	if d < 1e-6 {
		return nil
	}
	ue, un := (b.centre.e-a.centre.e)/d, (b.centre.n-a.centre.n)/d
	along := (d*d + a.radius*a.radius - b.radius*b.radius) / (2 * d)
	q := a.radius*a.radius - along*along
	if q <= 0 {
		along = halfway(a.radius, b.radius, d)
		return []spot{{a.centre.e + along*ue, a.centre.n + along*un}}
	}
	h := math.Sqrt(q)
	foot := spot{a.centre.e + along*ue, a.centre.n + along*un}
	return []spot{{foot.e + h*un, foot.n - h*ue}, {foot.e - h*un, foot.n + h*ue}}
}

// halfway returns the place on the line of centres, counted from the first,
// midway between two circles that do not meet.
func halfway(r1, r2, d float64) float64 {
	switch {
	case d >= r1+r2: // apart
		return (r1 + d - r2) / 2
	case r1 > r2: // the second lies inside the first
		return (r1 + d + r2) / 2
	}
	return (-r1 + d - r2) / 2
}

// meetRayCircle returns where a ray meets a circle, or the place of the ray
// nearest to it.
func meetRayCircle(r ray, c circle) []spot {
	de, dn := c.centre.e-r.from.e, c.centre.n-r.from.n
	t := de*r.e + dn*r.n
	q := c.radius*c.radius - (de*de + dn*dn - t*t)
	if q <= 0 {
		if t <= 0 {
			return nil
		}
		return []spot{{r.from.e + t*r.e, r.from.n + t*r.n}}
	}
	h := math.Sqrt(q)
	var out []spot
	for _, s := range [2]float64{t - h, t + h} {
		if s > 0 {
			out = append(out, spot{r.from.e + s*r.e, r.from.n + s*r.n})
		}
	}
	return out
}

// meetRays returns where two rays cross, ahead of both.
func meetRays(a, b ray) []spot {
	cross := a.e*b.n - a.n*b.e
	if math.Abs(cross) < 0.02 { // about one degree: the crossing is worth nothing
		return nil
	}
	de, dn := b.from.e-a.from.e, b.from.n-a.from.n
	t := (de*b.n - dn*b.e) / cross
	u := (de*a.n - dn*a.e) / cross
	if t <= 0 || u <= 0 {
		return nil
	}
	return []spot{{a.from.e + t*a.e, a.from.n + t*a.n}}
}

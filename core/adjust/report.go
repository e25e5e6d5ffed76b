package adjust

import (
	"math"

	"undersod/core/least"
	"undersod/core/quantile"
	"undersod/core/site"
	"undersod/core/unit"
)

// Limits of what counts as a check.
const (
	// leastShare is the redundancy share below which nothing checks a reading.
	leastShare = 0.01
	// power is the chance with which the smallest detectable slip is found.
	power = 0.80
	// nullPart is the part in a direction left open above which a point is
	// not determined, against the largest part of any point.
	nullPart = 1e-6
)

// report fills the plan from the solution.
func (w *work) report() {
	w.reportFrame()
	w.reportGlobal()
	if w.net.job.Datum.Kind == site.DatumFree && w.sol != nil {
		w.free = newFreeDatum(w)
	}
	w.reportReadings()
	w.reportPoints()
	w.plan.Footages = w.lineLengths()
	w.reportLevels()
	if w.sol != nil && w.layout != nil {
		w.plan.Iterations = w.sol.Iterations
		w.plan.work = w.remember()
		w.plan.solved = solved{w.sol, w.turn()}
	}
}

func (w *work) reportFrame() {
	f := w.net.frame
	out := &w.plan.Frame
	out.Kind, out.Why, out.Height, out.North = f.kind, f.why, f.height, f.north
	out.Azimuth = (math.Pi/2 + w.turn()).Turn()
	if f.mark >= 0 {
		out.Mark = w.net.points[f.mark].Name
	}
	if f.toward >= 0 {
		out.Toward = w.net.points[f.toward].Name
	}
	switch {
	case f.azimuth == nil && w.layout != nil && !w.layout.turn:
		out.North = NorthUnknown
	case f.azimuth == nil && f.north == NorthGiven:
		out.North = NorthMeasured
	}
	if w.sol == nil {
		return
	}
	if !w.problem.Held[w.net.turn] {
		v, _ := w.sol.Cov(w.net.turn, w.net.turn)
		out.NorthSD = unit.Angle(math.Sqrt(math.Max(v, 0)))
	}
	if f.hasGeo && w.layout.shift[1] {
		v := w.toPlan(spot{})
		v.East = unit.Length(w.layout.x[w.net.geoShift])
		v.North = unit.Length(w.layout.x[w.net.geoShift+1])
		lat, lon := f.geographic(v)
		out.Latitude, out.Longitude = &lat, &lon
	}
}

// reportGlobal tests the whole adjustment and sets the limit of a single
// standardized residual: with m tested numbers and the significance a of all
// together, each is tested at 1-(1-a)^(1/m) (Šidák, JASA 62, 1967, from
// memory).
func (w *work) reportGlobal() {
	g := &w.plan.Global
	g.Significance, g.FamilyWise, g.Power = w.settings.Significance, w.settings.Significance, power
	g.Passed = true
	if w.sol == nil {
		return
	}
	tested := 0
	for k := range w.problem.Equations {
		if w.sol.Redundancy(k) > leastShare {
			tested++
		}
	}
	w.critical = criticalValue(w.settings.Significance, tested)
	g.Critical = w.critical
	g.Freedom, g.Statistic = w.sol.Freedom, w.sol.Statistic
	if g.Freedom > 0 {
		g.Lower = quantile.Chi2Quantile(g.Significance/2, float64(g.Freedom))
		g.Upper = quantile.Chi2Quantile(1-g.Significance/2, float64(g.Freedom))
		g.Passed, g.TooGood = g.Statistic <= g.Upper, g.Statistic < g.Lower
	}
}

// criticalValue is the two-sided limit of a standard normal number that is one
// of tested, at a significance over all of them.
func criticalValue(significance float64, tested int) float64 {
	single := significance
	if tested > 1 {
		single = -math.Expm1(math.Log1p(-significance) / float64(tested))
	}
	return quantile.NormalQuantile(1 - single/2)
}

// reportReadings fills in adjusted values, residuals and shares.
func (w *work) reportReadings() {
	w.plan.Readings = w.net.readings
	detect := w.critical + quantile.NormalQuantile(power)
	for k := range w.net.eqs {
		e := &w.net.eqs[k]
		r := &w.plan.Readings[e.reading]
		c := &r.Components[e.component]
		c.Detectable = math.Inf(1)
		q := w.eqOf[k]
		if q < 0 || w.sol == nil {
			if r.Use == Used {
				r.Use, r.Why = Idle, w.whyIdle(e)
			}
			continue
		}
		c.Residual = w.sol.Residual(q)
		c.Adjusted = e.Read + c.Residual
		c.Redundancy = w.sol.Redundancy(q)
		if c.Redundancy > leastShare {
			c.Standard = c.Residual / (e.SD * math.Sqrt(c.Redundancy))
			c.Detectable = detect * e.SD / math.Sqrt(c.Redundancy)
		}
	}
}

// whyIdle tells why an equation is not part of the adjustment.
func (w *work) whyIdle(e *equation) string {
	for _, p := range e.points {
		if w.layout == nil || !w.layout.placed[p] {
			return "a point it speaks of is not located"
		}
	}
	return "one position alone does not turn the plan to north: take a second one well away from it"
}

// share returns the smallest redundancy share of a reading's numbers.
func (r *Reading) share() float64 {
	if r.Use != Used || len(r.Components) == 0 {
		return 0
	}
	s := 1.0
	for _, c := range r.Components {
		s = math.Min(s, c.Redundancy)
	}
	return s
}

// reportPoints fills in the points.
func (w *work) reportPoints() {
	pts := make([]Point, len(w.net.points))
	for i, p := range w.net.points {
		pts[i] = Point{Name: p.Name, Role: p.Role}
		q := &pts[i]
		if w.layout == nil || !w.layout.placed[i] || w.sol == nil {
			q.State, q.Why = w.whyOpen(i)
			continue
		}
		q.Placed, q.At = true, w.toPlan(w.layout.at(i))
		q.Sigma = w.sigma(i)
		q.Ellipse = q.Sigma.Ellipse95()
	}
	w.plan.Points = pts
	w.markHidden()
	w.markFree()
	w.markTwo()
	w.markDoubt()
	for i := range w.plan.Readings {
		r := &w.plan.Readings[i]
		for _, name := range r.Touches {
			if p, ok := w.net.index[name]; ok && r.Source == FromReading {
				pts[p].Checked = math.Max(pts[p].Checked, w.shareFor(r))
			}
		}
	}
}

// shareFor is the largest redundancy share among a reading's numbers.
func (w *work) shareFor(r *Reading) float64 {
	s := 0.0
	for _, c := range r.Components {
		s = math.Max(s, c.Redundancy)
	}
	return s
}

// whyOpen tells why a point has no place.
func (w *work) whyOpen(p int) (State, string) {
	if f, is := w.flat[p]; is {
		return Undetermined, f.why
	}
	numbers := len(w.net.at[p])
	switch {
	case numbers == 0:
		return Unconnected, "no usable reading speaks of it"
	case numbers == 1:
		return Undetermined, "one number alone (" + w.net.readings[w.net.eqs[w.net.at[p][0]].reading].Words + ") leaves it free to move"
	}
	return Undetermined, "its readings lead to points that are not located themselves"
}

// markFree marks the points that the readings leave free to move.
func (w *work) markFree() {
	if w.sol == nil {
		return
	}
	for _, d := range w.sol.Deficient {
		largest := 0.0
		for _, v := range d.Vector {
			largest = math.Max(largest, math.Abs(v))
		}
		for i := range w.net.points {
			if !w.layout.placed[i] {
				continue
			}
			if part := math.Hypot(d.Vector[2*i], d.Vector[2*i+1]); part > nullPart*largest {
				w.plan.Points[i].State = Undetermined
				w.plan.Points[i].Why = "its readings leave it free to move in one direction: their marks lie nearly in one line with it"
			}
		}
	}
}

// markTwo marks the points that have a second, mirrored answer.
func (w *work) markTwo() {
	for _, o := range w.others {
		for i := range w.net.points {
			q := &w.plan.Points[i]
			if q.State != Determined || !o.placed[i] || o.at(i).from(w.layout.at(i)) <= samePlace {
				continue
			}
			at := w.toPlan(o.at(i))
			q.State, q.Other = TwoAnswers, &at
			q.Why = "two mirrored places explain its readings equally well"
		}
	}
}

// markDoubt marks the points whose mirrored answers were too many to follow.
func (w *work) markDoubt() {
	for i, doubt := range w.builder.doubt {
		if q := &w.plan.Points[i]; doubt && q.State == Determined {
			q.State = Undetermined
			q.Why = "its readings and those of the points it is tied to leave more mirrored places than can be tried"
		}
	}
}

// lineLengths measures every line along the plan.
func (w *work) lineLengths() []LineLength {
	var out []LineLength
	for _, l := range w.net.job.Site.Lines {
		r := LineLength{Line: l.Name}
		pts, ok := w.net.find(l.Path...)
		for _, p := range pts {
			ok = ok && w.plan.Points[p].Placed && w.plan.Points[p].State == Determined
		}
		if ok && len(pts) > 1 && w.sol != nil {
			v, terms := pathModel{pts}.Predict(w.layout.x, nil)
			r.Known, r.Length = true, unit.Length(v)
			r.SD = unit.Length(math.Sqrt(math.Max(w.variance(terms), 0)))
			for k := 1; k < len(pts); k++ {
				r.Segments = append(r.Segments, unit.Length(w.layout.at(pts[k-1]).from(w.layout.at(pts[k]))))
			}
		}
		out = append(out, r)
	}
	return out
}

// variance returns the variance of a linear function of the unknowns.
func (w *work) variance(terms []least.Term) float64 {
	return w.sol.PredictedVariance(terms)
}

package adjust

import (
	"math"
	"slices"

	"undersod/core/least"
	"undersod/core/level"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// equation is one number of one reading, ready for the solver, with what the
// builder of starting places and the search for wrong readings must know.
type equation struct {
	least.Equation
	reading   int     // index in network.readings
	component int     // index in that reading's Components
	points    []int   // points it speaks of, in its own order
	turns     bool    // it needs the frame's turn
	shift     int     // first unknown of the shift it needs; -1 for none
	radius    float64 // level distance of a tie, m
}

// network is the site and its visit as numbers: points, unknowns, equations.
type network struct {
	job      *site.Job
	dev      deviations
	levels   *level.Net
	points   []site.Point
	index    map[site.Name]int
	readings []Reading
	eqs      []equation
	at       [][]int // equations that touch a point
	building []outline
	written  map[site.ReadingID][2]unit.Written

	unknowns  int
	turn      int // unknown: clockwise turn from working to true azimuths
	gridShift int // first unknown of the grid's shift
	geoShift  int // first unknown of the satellites' shift
	frame     frameChoice
}

// outline is a building's ideal figure: its corners as points of the network
// and in its own coordinates (m), walked clockwise.
type outline struct {
	corners []int
	ideal   []planar.Vec
}

// withoutNil returns the job, or a copy of it when a reading is nil, without
// such readings.
func withoutNil(job *site.Job) *site.Job {
	none := func(r site.Reading) bool { return r == nil }
	if !slices.ContainsFunc(job.Visit.Readings, none) {
		return job
	}
	c := *job
	c.Visit.Readings = slices.DeleteFunc(slices.Clone(job.Visit.Readings), none)
	return &c
}

// newNetwork gathers everything that can be adjusted.
func newNetwork(job *site.Job) (*network, error) {
	job = withoutNil(job)
	n := &network{
		job: job, dev: newDeviations(job.Visit.Instruments),
		points: job.Site.Points, index: make(map[site.Name]int, len(job.Site.Points)),
	}
	for i, p := range n.points {
		if _, twice := n.index[p.Name]; !twice {
			n.index[p.Name] = i
		}
	}
	base := 2 * len(n.points)
	n.turn, n.gridShift, n.geoShift, n.unknowns = base, base+1, base+3, base+5
	n.levels = level.Adjust(job.Visit.Readings, n.levelDeviation)
	n.frame = n.chooseFrame()
	for _, r := range job.Visit.Readings {
		n.addReading(r)
	}
	for i := range job.Site.Buildings {
		n.addBuilding(&job.Site.Buildings[i])
	}
	n.at = make([][]int, len(n.points))
	for k := range n.eqs {
		for _, p := range n.eqs[k].points {
			n.at[p] = append(n.at[p], k)
		}
	}
	return n, n.levels.Err()
}

// find returns the index of a named point.
func (n *network) find(names ...site.Name) ([]int, bool) {
	out := make([]int, len(names))
	for k, name := range names {
		i, ok := n.index[name]
		if !ok {
			return nil, false
		}
		out[k] = i
	}
	return out, true
}

// begin opens the record of a reading.
func (n *network) begin(t site.Taken, written, words string, touches ...site.Name) *Reading {
	n.readings = append(n.readings, Reading{
		ID: t.ID, Place: t.Place, Written: written, Words: words, Touches: touches,
	})
	r := &n.readings[len(n.readings)-1]
	if t.SetAside != "" {
		r.Use, r.Why = SetAside, t.SetAside
	}
	return r
}

// put adds one equation of the reading begun last, unless the reading is not
// used.
func (n *network) put(what string, m least.Observation, read, sd float64, points []int) *equation {
	r := &n.readings[len(n.readings)-1]
	angular := what == "direction" || what == "angle"
	r.Components = append(r.Components, Component{What: what, Angular: angular, Read: read, SD: sd, Detectable: math.Inf(1)})
	if r.Use != Used {
		return nil
	}
	if bad := badNumber(read, sd); bad != "" {
		n.refuse(bad)
		return nil
	}
	n.eqs = append(n.eqs, equation{
		Equation: least.Equation{Model: m, Read: read, SD: sd, Wrap: angular},
		reading:  len(n.readings) - 1, component: len(r.Components) - 1, points: points, shift: -1,
	})
	return &n.eqs[len(n.eqs)-1]
}

// badNumber tells in words why a reading cannot be adjusted, or nothing.
func badNumber(read, sd float64) string {
	switch {
	case math.IsNaN(read) || math.IsInf(read, 0):
		return "its value is not a number"
	case math.IsNaN(sd) || math.IsInf(sd, 0) || sd <= 0:
		return "its standard deviation must be above zero"
	case math.Abs(read) > 1e5:
		return "its value is too large for one property"
	}
	return ""
}

// refuse leaves the reading begun last out, with all its numbers: half an
// offset or half a fix is worth nothing.
func (n *network) refuse(why string) {
	last := len(n.readings) - 1
	r := &n.readings[last]
	if r.Use != Used {
		return
	}
	r.Use, r.Why = Unusable, why
	for len(n.eqs) > 0 && n.eqs[len(n.eqs)-1].reading == last {
		n.eqs = n.eqs[:len(n.eqs)-1]
	}
}

func (n *network) idle(why string) {
	r := &n.readings[len(n.readings)-1]
	if r.Use == Used {
		r.Use, r.Why = Idle, why
	}
}

func (n *network) addReading(r site.Reading) {
	switch r := r.(type) {
	case site.Tie:
		n.addTie(r)
	case site.Offset:
		n.addOffset(r)
	case site.Bearing:
		n.addBearing(r)
	case site.Fix:
		n.addFix(r)
	case site.Footage:
		n.addFootage(r)
	case site.Depth:
		n.begin(r.Taken, r.Read.Text, "depth of "+string(r.Point), r.Point)
		n.idleLevel(r, "depth")
	case site.Rod:
		n.begin(r.Taken, r.Read.Text, "rod on "+string(r.On)+" at "+string(r.Point), r.Point)
		n.idleLevel(r, "rod reading")
	}
}

func (n *network) addTie(r site.Tie) {
	n.begin(r.Taken, r.Read.Text, "tie from "+string(r.From)+" to "+string(r.To), r.From, r.To)
	pts, ok := n.find(r.From, r.To)
	read := r.Read
	if r.Corrected != nil {
		read = *r.Corrected
		n.readings[len(n.readings)-1].Corrected = read.Text
	}
	switch {
	case !ok:
		n.refuse("it names a point that is not on the site")
		return
	case pts[0] == pts[1]:
		n.refuse("it runs from a point to itself")
		return
	case !usableLength(float64(read.Length)):
		n.refuse("a tie must be longer than nothing and shorter than 10 km")
		return
	case r.Drop != nil && math.IsNaN(float64(r.Drop.Length)):
		n.refuse("the drop between its ends is not a number")
		return
	}
	d := float64(read.Length)
	sd := stated(r.SD, n.dev.of(r.Instrument, site.FibreglassTape).At(read.Length))
	rise, riseSD := n.rise(r)
	if rise != 0 {
		if math.Abs(rise) >= d {
			n.refuse("its ends differ more in height than the tape is long")
			return
		}
		sd = math.Hypot(sd, rise/d*riseSD)
	}
	eq := n.put("distance", distanceModel{pts[0], pts[1], rise}, d, sd, pts)
	if eq != nil {
		eq.radius = math.Sqrt(d*d - rise*rise)
	}
}

// rise returns how far the ends of a tape differ in height (m), and its
// standard deviation: 0 for a tape held level or of unknown slope.
func (n *network) rise(r site.Tie) (rise, sd float64) {
	switch {
	case r.Held == site.HeldLevel:
		return 0, 0
	case r.Drop != nil:
		return float64(r.Drop.Length), float64(n.dev.of("", site.SteelTape).Fixed)
	}
	up, upSD, ok := n.levels.Difference(
		level.Key{Point: r.From, On: site.OnGround}, level.Key{Point: r.To, On: site.OnGround})
	if !ok {
		return 0, 0
	}
	return float64(up), float64(upSD)
}

func (n *network) addOffset(r site.Offset) {
	n.begin(r.Taken, "station "+r.Station.Text+", "+offsetWords(r.Right),
		"offset of "+string(r.Point)+" from baseline "+string(r.From)+"-"+string(r.To),
		r.From, r.To, r.Point)
	pts, ok := n.find(r.From, r.To, r.Point)
	switch {
	case !ok:
		n.refuse("it names a point that is not on the site")
		return
	case pts[0] == pts[1] || pts[2] == pts[0] || pts[2] == pts[1]:
		n.refuse("the baseline and the point must be three different points")
		return
	}
	// Squaring off by eye is worse than any tape, so a better tape changes
	// nothing; a worse one does.
	d := Deviation{Fixed: OffsetDeviation, PerUnit: 0.001}
	if tape := n.dev.of(r.Instrument, site.FibreglassTape); r.Instrument != "" && tape.Fixed > d.Fixed {
		d = tape
	}
	s, o := r.Station.Length, r.Right.Length
	n.put("station", baselineModel{pts[0], pts[1], pts[2], false}, float64(s), stated(r.SD, d.At(s)), pts)
	n.put("right", baselineModel{pts[0], pts[1], pts[2], true}, float64(o), stated(r.SD, d.At(o)), pts)
}

func offsetWords(w unit.Written) string {
	if w.Length < 0 {
		return w.Text + " left"
	}
	return w.Text + " right"
}

func (n *network) addBearing(r site.Bearing) {
	n.begin(r.Taken, r.Read.Text, "bearing from "+string(r.From)+" to "+string(r.To), r.From, r.To)
	pts, ok := n.find(r.From, r.To)
	if !ok || pts[0] == pts[1] {
		n.refuse("it must run between two different points of the site")
		return
	}
	a := float64(r.Read.Angle)
	if r.Magnetic {
		switch {
		case n.job.Visit.Declination != nil:
			a += float64(*n.job.Visit.Declination)
		case n.frame.north != NorthMagnetic:
			n.refuse("it was read against magnetic north, and the job states no declination")
			return
		}
	}
	sd := float64(n.dev.of(r.Instrument, site.Compass).Angle)
	if r.SD != nil {
		sd = float64(*r.SD)
	}
	if eq := n.put("direction", directionModel{pts[0], pts[1], n.turn}, a, sd, pts); eq != nil {
		eq.turns = true
	}
}

func (n *network) addFix(r site.Fix) {
	n.begin(r.Taken, r.Text, "fix of "+string(r.Point), r.Point)
	pts, ok := n.find(r.Point)
	if !ok {
		n.refuse("it names a point that is not on the site")
		return
	}
	shift := n.geoShift
	e, no := r.East, r.North
	if r.Grid {
		shift = n.gridShift
	} else {
		v := n.frame.local(r.Latitude, r.Longitude)
		e, no = v.East, v.North
	}
	sd := n.fixDeviation(r)
	for _, c := range []struct {
		what  string
		read  unit.Length
		north bool
	}{{"east", e, false}, {"north", no, true}} {
		if eq := n.put(c.what, fixModel{pts[0], n.turn, shift, c.north}, float64(c.read), sd, pts); eq != nil {
			eq.turns, eq.shift = true, shift
		}
	}
}

// fixDeviation is the standard deviation of each number of a fix, in metres.
func (n *network) fixDeviation(r site.Fix) float64 {
	kind := site.PhoneFix
	if r.Grid {
		kind = site.SurveyReceiver
	}
	return stated(r.SD, n.dev.of(r.Instrument, kind).Fixed)
}

func (n *network) addFootage(r site.Footage) {
	n.begin(r.Taken, r.Read.Text, "footage of "+string(r.Line)+" to "+string(r.To), r.To)
	path, ok := n.pathTo(r.Line, r.To)
	switch {
	case !ok:
		n.refuse("it names a line, or a point of the line's path, that is not on the site")
		return
	case !usableLength(float64(r.Read.Length)):
		n.refuse("a footage must be longer than nothing and shorter than 10 km")
		return
	}
	for _, i := range path {
		n.touch(n.points[i].Name)
	}
	sd := stated(r.SD, n.dev.of(r.Instrument, site.CameraCounter).At(r.Read.Length))
	n.put("length", pathModel{path}, float64(r.Read.Length), sd, path)
}

func (n *network) touch(name site.Name) {
	r := &n.readings[len(n.readings)-1]
	for _, t := range r.Touches {
		if t == name {
			return
		}
	}
	r.Touches = append(r.Touches, name)
}

// pathTo returns the points of a line from its start to one of its points.
func (n *network) pathTo(line, to site.Name) ([]int, bool) {
	for _, l := range n.job.Site.Lines {
		if l.Name != line {
			continue
		}
		for k, name := range l.Path {
			if name == to && k > 0 {
				return n.find(l.Path[:k+1]...)
			}
		}
	}
	return nil, false
}

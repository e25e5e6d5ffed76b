package checkfile

import (
	"math"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// Make fills a document from a job, its plan and the problems of its file.
func Make(file string, job *site.Job, plan *adjust.Plan, problems []site.Problem) Document {
	d := Document{
		Undersod: 1, Kind: "check",
		Job:     Job{File: file, Site: job.Site.Name, Date: job.Visit.Date},
		Verdict: Verdict{FillWord(plan.Verdict.Fill), plan.Verdict.Words, strings(plan.Verdict.Reasons)},
		Frame:   MakeFrame(plan.Frame), Global: global(plan),
		Points: []Point{}, Readings: []Reading{}, Accused: []Accused{}, Next: []Next{},
		Lines: []Line{}, Outlines: []Outline{}, Heights: []Height{}, Problems: []Problem{},
	}
	for _, p := range plan.Points {
		d.Points = append(d.Points, point(p))
	}
	hypotheses := map[site.ReadingID][]Hypothesis{}
	for _, a := range plan.Search.Accused {
		d.Accused = append(d.Accused, accused(a))
		for _, id := range a.Readings {
			hypotheses[id] = append(hypotheses[id], hypothesesOf(a, id)...)
		}
	}
	for _, r := range plan.Readings {
		d.Readings = append(d.Readings, reading(r, hypotheses[r.ID]))
	}
	for _, c := range plan.Next {
		d.Next = append(d.Next, Next{string(c.From), string(c.To), m(c.Expect), m(c.Before), m(c.After), c.Words})
	}
	for _, l := range plan.Footages {
		d.Lines = append(d.Lines, line(l))
	}
	for _, o := range plan.Outlines {
		d.Outlines = append(d.Outlines, outline(o))
	}
	for _, h := range plan.Levels.Heights {
		d.Heights = append(d.Heights, Height{string(h.Point), string(h.On), m(h.At), m(h.SD)})
	}
	for _, p := range problems {
		d.Problems = append(d.Problems, Problem{p.Place.Line, p.Place.Column, p.Subject, p.Found, p.Expected, p.Example, p.Advice, p.Severity == site.Remark})
	}
	return d
}

// FillWord is the verdict in one word.
func FillWord(f adjust.Fill) string {
	switch f {
	case adjust.FillYes:
		return "yes"
	case adjust.FillUnsure:
		return "unsure"
	}
	return "no"
}

func m(l unit.Length) float64          { return l.Metres() }
func ref(v float64) *float64           { return &v }
func lengthRef(l unit.Length) *float64 { return ref(l.Metres()) }
func degrees(a unit.Angle) *float64    { return ref(a.Degrees()) }

func strings(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}

func place(v planar.Vec) *Place { return &Place{m(v.East), m(v.North)} }

// MakeFrame returns the document of what coordinates are counted from.
func MakeFrame(f adjust.Frame) Frame {
	out := Frame{
		Kind: [...]string{"auto", "baseline", "free"}[f.Kind], Mark: string(f.Mark), Toward: string(f.Toward),
		Azimuth: f.Azimuth.Degrees(), NorthSD: f.NorthSD.Degrees(), Why: f.Why,
		North: [...]string{"unknown", "given", "measured", "magnetic"}[f.North],
	}
	if f.Latitude != nil && f.Longitude != nil {
		out.Latitude, out.Longitude = degrees(*f.Latitude), degrees(*f.Longitude)
	}
	return out
}

func global(plan *adjust.Plan) Global {
	g := plan.Global
	return Global{g.Freedom, g.Statistic, g.Lower, g.Upper, g.Significance, g.Passed, g.TooGood,
		g.Critical, g.FamilyWise, g.Power, plan.Iterations}
}

// RoleWord is a point's role in words.
func RoleWord(r site.Role) string {
	return [...]string{"mark", "corner", "part", "bend", "probe hit", "feature"}[r]
}

// StateWord is a point's state in words.
func StateWord(s adjust.State) string {
	return [...]string{"determined", "two answers", "undetermined", "unconnected"}[s]
}

func point(p adjust.Point) Point {
	out := Point{
		Name: string(p.Name), Role: RoleWord(p.Role), Determined: p.State == adjust.Determined,
		State: StateWord(p.State), Why: p.Why, Checked: p.Checked, Cure: p.CureWords,
	}
	if !p.Placed {
		return out
	}
	out.East, out.North = lengthRef(p.At.East), lengthRef(p.At.North)
	if p.Other != nil {
		out.Other = place(*p.Other)
	}
	if p.State == adjust.Undetermined {
		return out // its spread is not known in the open direction
	}
	out.SDEast, out.SDNorth = lengthRef(p.Sigma.East), lengthRef(p.Sigma.North)
	out.Correlation = ref(p.Sigma.Correlation)
	out.Ellipse = &Ellipse{m(p.Ellipse.Major), m(p.Ellipse.Minor), p.Ellipse.Azimuth.Degrees()}
	out.Radius = lengthRef(p.Ellipse.Radius)
	out.Doubt = m(p.Doubt)
	if !math.IsInf(float64(p.Hidden), 0) {
		out.Hidden = lengthRef(p.Hidden)
	}
	return out
}

func reading(r adjust.Reading, h []Hypothesis) Reading {
	out := Reading{
		ID: string(r.ID), Source: [...]string{"reading", "side", "right angle"}[r.Source],
		Use: [...]string{"used", "set aside", "unusable", "idle"}[r.Use], Why: r.Why,
		Words: r.Words, Written: r.Written, Corrected: r.Corrected, Line: r.Place.Line, Column: r.Place.Column,
		Flagged: r.Flagged, Hypotheses: h, Components: []Component{},
	}
	for _, c := range r.Components {
		k := component(c, r.Use == adjust.Used)
		out.Checked = out.Checked || k.Detectable != nil
		out.Components = append(out.Components, k)
	}
	return out
}

func component(c adjust.Component, used bool) Component {
	scale, name := 1.0, "m"
	if c.Angular {
		scale, name = 180/math.Pi, "deg"
	}
	out := Component{What: c.What, Unit: name, Read: c.Read * scale, SD: c.SD * scale}
	if !used {
		return out
	}
	out.Adjusted, out.Residual = ref(c.Adjusted*scale), ref(c.Residual*scale)
	out.Redundancy = ref(c.Redundancy)
	if !math.IsInf(c.Detectable, 0) {
		out.Standard, out.Detectable = ref(c.Standard), ref(c.Detectable*scale)
	}
	return out
}

func accused(a adjust.Accusation) Accused {
	scale, name := 1.0, "m"
	if a.Angular {
		scale, name = 180/math.Pi, "deg"
	}
	out := Accused{Readings: []string{}, Located: a.Located, Standard: a.Standard, Unit: name,
		Misfit: a.Misfit * scale, Predicted: a.Predicted * scale, Words: a.Words, Hypotheses: []Hypothesis{}}
	for _, id := range a.Readings {
		out.Readings = append(out.Readings, string(id))
	}
	for i, h := range a.Hypotheses {
		out.Hypotheses = append(out.Hypotheses, hypothesis(i+1, h, scale))
	}
	if a.NextReading != nil {
		out.Next = a.NextReading.Words
	}
	return out
}

// hypothesesOf lists the hypotheses of an accusation that speak of a reading.
func hypothesesOf(a adjust.Accusation, id site.ReadingID) []Hypothesis {
	scale := 1.0
	if a.Angular {
		scale = 180 / math.Pi
	}
	var out []Hypothesis
	for i, h := range a.Hypotheses {
		for _, r := range h.Readings {
			if r == id {
				out = append(out, hypothesis(i+1, h, scale))
				break
			}
		}
	}
	return out
}

func hypothesis(rank int, h adjust.Hypothesis, scale float64) Hypothesis {
	out := Hypothesis{Rank: rank, Kind: string(h.Kind), Words: h.Words, Readings: []string{},
		Corrected: h.Corrected, Change: h.Change * scale, Statistic: h.Statistic,
		Standard: h.Standard, Explains: h.Explains, Score: h.Score}
	for _, id := range h.Readings {
		out.Readings = append(out.Readings, string(id))
	}
	for _, v := range h.Moves {
		out.Moves = append(out.Moves, Move{string(v.Point), m(v.By.East), m(v.By.North)})
	}
	return out
}

func line(l adjust.LineLength) Line {
	out := Line{Name: string(l.Line), Known: l.Known}
	if l.Known {
		out.Length, out.SD = lengthRef(l.Length), lengthRef(l.SD)
	}
	return out
}

func outline(o adjust.Outline) Outline {
	out := Outline{Part: string(o.Part), Fitted: o.Fitted, Why: o.Why}
	if !o.Fitted {
		return out
	}
	out.Centre = place(o.Centre)
	out.SDEast, out.SDNorth = lengthRef(o.Sigma.East), lengthRef(o.Sigma.North)
	out.Azimuth, out.AzimuthSD = degrees(o.Azimuth), degrees(o.AzimuthSD)
	out.Length, out.LengthSD = lengthRef(o.Length), lengthRef(o.LengthSD)
	out.Width, out.WidthSD = lengthRef(o.Width), lengthRef(o.WidthSD)
	for _, c := range o.Corners {
		out.Corners = append(out.Corners, *place(c))
	}
	for _, h := range o.Hits {
		out.Hits = append(out.Hits, Hit{string(h.Point), EdgeWord(h.Edge), m(h.Off), h.Standard, h.LiesOff, h.Words})
	}
	return out
}

// EdgeWord is an outline's edge in words.
func EdgeWord(e site.Edge) string {
	return [...]string{"any", "near", "right", "far", "left"}[e]
}

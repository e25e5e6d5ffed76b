package sheet

import (
	"strings"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// thing is one figure of the plan, still on the ground: a symbol at a point, a
// run, or an area.
type thing struct {
	name   string
	look   look
	points []planar.Vec
	closed bool
	radius unit.Length // of a circle about the first point, 0 for none
	width  unit.Length // of a trench, 0 when not drawn to scale
	beside unit.Length // of the trench that it lies in, which its label keeps clear of
	outer  bool        // a feature of the property: it may lie beyond the drawing
	label  *wish
}

// wish is a label that a thing asks for.
type wish struct {
	lines  []string
	told   string // in the list of numbers; empty for the lines
	size   MM
	weight Weight
	colour Colour
	way    way
	rank   int // the lower the sooner it is placed
}

// list is what the list of numbers says for the label.
func (w *wish) list() string {
	if w.told != "" {
		return w.told
	}
	return strings.Join(w.lines, ", ")
}

// way is how a label lies to its thing.
type way uint8

const (
	wayPoint way = iota // round a symbol
	wayLine             // along a run
	wayArea             // inside an area
)

// content is everything of the plan that goes on the sheet.
type content struct {
	job    *site.Job
	plan   *adjust.Plan
	say    wording
	at     map[site.Name]int  // index of a point in the plan
	site   map[site.Name]bool // the points of the site
	part   map[site.Name]int  // index of a part by its name
	onRun  map[site.Name]bool // points on a line
	ending map[site.Name]bool // points where a line ends
	read   map[site.Name]bool // points that a tie, a bearing or an offset finds
	fitted map[site.Name]int  // index of an outline of the plan
	runs   map[site.Name]int  // index of a line's length in the plan
	things []thing
	lost   []string // parts not located, with the reason
}

// gather turns the job and its plan into things to draw.
func gather(job *site.Job, plan *adjust.Plan, o Options) *content {
	c := &content{job: job, plan: plan, say: newWording(job.Show)}
	c.index()
	c.features()
	c.buildings()
	if o.Ties {
		c.ties()
	}
	c.lines()
	c.outlines()
	c.points()
	c.missing()
	c.findings(o.Findings)
	return c
}

// index finds points, parts and lines by name.
func (c *content) index() {
	c.at = make(map[site.Name]int, len(c.plan.Points))
	for i, p := range c.plan.Points {
		c.at[p.Name] = i
	}
	c.site = make(map[site.Name]bool, len(c.job.Site.Points))
	for _, p := range c.job.Site.Points {
		c.site[p.Name] = true
	}
	c.part = make(map[site.Name]int, len(c.job.Site.Parts))
	for i, p := range c.job.Site.Parts {
		c.part[p.Name] = i
	}
	c.indexRuns()
}

// indexRuns finds what the lines pass and which points were read.
func (c *content) indexRuns() {
	c.onRun, c.ending = map[site.Name]bool{}, map[site.Name]bool{}
	for _, l := range c.job.Site.Lines {
		for i, n := range l.Path {
			c.onRun[n] = true
			if i == len(l.Path)-1 {
				c.ending[n] = true
			}
		}
	}
	c.read = map[site.Name]bool{}
	for _, r := range c.job.Visit.Readings {
		switch r := r.(type) {
		case site.Tie:
			c.read[r.From], c.read[r.To] = true, true
		case site.Bearing:
			c.read[r.From], c.read[r.To] = true, true
		case site.Offset:
			c.read[r.Point] = true
		}
	}
	c.indexPlan()
}

// indexPlan finds what the plan says of tanks and lines.
func (c *content) indexPlan() {
	c.fitted, c.runs = map[site.Name]int{}, map[site.Name]int{}
	for i, o := range c.plan.Outlines {
		if o.Fitted {
			c.fitted[o.Part] = i
		}
	}
	for i, f := range c.plan.Footages {
		if f.Known {
			c.runs[f.Line] = i
		}
	}
}

// farthest bounds the coordinates that are drawn, from the datum.
const farthest = 100_000 * unit.Metre

func drawable(v planar.Vec) bool {
	return v.East.Abs() < farthest && v.North.Abs() < farthest // false for what is no number
}

// point returns a point of the plan.
func (c *content) point(n site.Name) (adjust.Point, bool) {
	i, ok := c.at[n]
	if !ok {
		return adjust.Point{}, false
	}
	return c.plan.Points[i], true
}

// located tells whether the point may be drawn as located, and where.
func (c *content) located(n site.Name) (planar.Vec, bool) {
	p, ok := c.point(n)
	if !ok || !p.Placed || !drawable(p.At) || p.State > adjust.TwoAnswers {
		return planar.Vec{}, false
	}
	return p.At, true
}

// isMark tells whether ties are taken from the point.
func (c *content) isMark(n site.Name) bool {
	p, ok := c.point(n)
	return ok && (p.Role == site.RoleMark || p.Role == site.RoleCorner)
}

// doubtful tells whether the point has two answers.
func (c *content) doubtful(n site.Name) bool {
	p, ok := c.point(n)
	return ok && p.State == adjust.TwoAnswers && p.Other != nil && drawable(*p.Other)
}

// all returns where the named points lie, and whether every one is located.
func (c *content) all(names []site.Name) ([]planar.Vec, bool) {
	out := make([]planar.Vec, 0, len(names))
	for _, n := range names {
		v, ok := c.located(n)
		if !ok {
			return nil, false
		}
		out = append(out, v)
	}
	return out, len(out) > 0
}

func (c *content) add(t thing) { c.things = append(c.things, t) }

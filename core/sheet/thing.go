package sheet

import (
	"strings"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/ties"
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
	holes  [][]planar.Vec
	loose  bool    // of what is proposed or asked for: it sets no scale, and is cut at the edge of the drawing
	broken [2]bool // its first or last end lies beyond the drawing
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
	*ties.Index
	job    *site.Job
	plan   *adjust.Plan
	say    wording
	things []thing
	lost   []string // parts not located, with the reason
	// sources tells where the distances that are required come from.
	sources []string
	loose   bool // some things are
	sided   bool // sides of a property line have their lengths

	title     string // in place of the job's own; empty for that
	allowedAs string // what the legend calls the allowed region
}

// gather turns the job and its plan into things to draw.
func gather(job *site.Job, plan *adjust.Plan, o Options) *content {
	c := &content{Index: ties.NewIndex(job, plan), job: job, plan: plan, say: newWording(job.Show)}
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
	c.clear(o.Clear)
	return c
}

func (c *content) add(t thing) { c.things = append(c.things, t) }

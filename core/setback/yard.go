package setback

import (
	"undersod/core/adjust"
	"undersod/core/bounds"
	"undersod/core/clearance"
	"undersod/core/phrase"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
)

// farthest bounds what a site may measure; what lies beyond is a slip.
const farthest = bounds.Farthest

// yard is the job and its plan as shapes, with what is looked up again and
// again.
type yard struct {
	job    *site.Job
	plan   *adjust.Plan
	pack   *rules.Pack
	permit *rules.Pack // the permit's own distances, nil without any
	joint  *adjust.Joint
	points map[site.Name]int // place among the plan's points
	say    unit.Style
	sets   map[[2]string]*ruleSet

	parts  []*body // what setbacks protect, in the order of the job
	things []*body // what they are kept from, in the order of the job
	lot    *body   // the property's outline; nil without one
	asks   phrase.Once
	stands []Stands
}

// body is one thing of the site as a shape, with what its place hangs on.
type body struct {
	Thing
	column   rules.Column // of a part
	from     string       // the word of the rules for it, where it is kept away from
	shape    clearance.Shape
	ready    clearance.Ready // the shape, where it is located
	carriers []int           // of each point of the shape, its place among the plan's points
	outline  *adjust.Outline // where the shape was fitted to probe hits
	stand    *stand          // where it is something proposed
	sizeSD   unit.Length     // of half its size, where its turn is not known
	lot      planar.Ring     // where it is the outline of the property
	lost     string          // why it is not located; empty where it is
	crossed  bool            // it is lost as its outline makes no sense
	inner    unit.Length     // half its smaller size, where its turn is not known
	proposed bool
	line     *site.Line // of a line
}

// prepare makes the shape ready for distances.
func (b *body) prepare() {
	if b.lost == "" {
		b.ready = clearance.Prepare(b.shape)
	}
}

// newYard gathers a job and its plan; nil ones are empty.
func newYard(job *site.Job, plan *adjust.Plan, pack *rules.Pack) *yard {
	if job == nil {
		job = &site.Job{}
	}
	if plan == nil {
		plan = &adjust.Plan{}
	}
	y := &yard{job: job, plan: plan, pack: pack, permit: permitPack(job.Site.Setbacks), joint: plan.Joint(),
		points: make(map[site.Name]int, len(plan.Points)), say: job.Show.Style(), sets: map[[2]string]*ruleSet{}}
	for i := range plan.Points {
		y.points[plan.Points[i].Name] = i
	}
	y.gatherParts()
	y.gatherThings()
	y.dropCrossed()
	y.chooseLot()
	for _, list := range [][]*body{y.parts, y.things} {
		for _, b := range list {
			b.prepare()
		}
	}
	return y
}

// locate returns where a point lies, and why where it is not determined.
func (y *yard) locate(name site.Name) (at planar.Vec, index int, lost string) {
	i, ok := y.points[name]
	if !ok {
		for k := range y.plan.Outlines {
			if y.plan.Outlines[k].Part == name {
				return planar.Vec{}, -1, string(name) + " has no place of its own: it is found by its outline"
			}
		}
		return planar.Vec{}, -1, string(name) + " is not located: no reading speaks of it"
	}
	p := &y.plan.Points[i]
	if p.State == adjust.Determined && p.Placed && finite(p.At) {
		return p.At, i, ""
	}
	why := string(name) + " is not located"
	if p.Why != "" {
		why += ": " + p.Why
	}
	y.asks.Add(p.CureWords)
	return planar.Vec{}, -1, why
}

// run places a body along named points.
func (y *yard) run(b *body, names []site.Name, back bool) {
	b.shape.Points = make([]planar.Vec, 0, len(names)+1)
	b.carriers = make([]int, 0, len(names)+1)
	for _, n := range names {
		at, i, lost := y.locate(n)
		if lost != "" {
			b.lost = lost
			y.asks.Add(lost)
			return
		}
		b.shape.Points, b.carriers = append(b.shape.Points, at), append(b.carriers, i)
	}
	if back && len(names) > 2 {
		b.shape.Points, b.carriers = append(b.shape.Points, b.shape.Points[0]), append(b.carriers, b.carriers[0])
	}
	if len(names) == 0 {
		b.lost = string(b.Name) + " has no points"
	}
}

func finite(v planar.Vec) bool {
	return v.East.Abs() <= farthest && v.North.Abs() <= farthest
}

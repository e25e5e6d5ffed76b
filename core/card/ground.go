package card

import (
	"math"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// target is the part that a card is made for.
type target struct {
	name   site.Name
	kind   string
	at     planar.Vec
	spread planar.Spread
	middle bool          // at is the middle of a fitted outline
	hits   []site.Name   // of that outline
	ring   planar.Ring   // the same outline
	point  *adjust.Point // nil for an outline
}

// mark is a mark from which a tape may be held.
type mark struct {
	name     site.Name
	words    string
	corner   bool
	at       planar.Vec
	spread   planar.Spread
	doubt    unit.Length
	distance unit.Length
	toward   planar.Vec  // from the mark to the part, one metre long
	plan     unit.Length // standard deviation of the distance on the plan, or a bound of it
	within   unit.Length // standard deviation of what a tape will read there
	why      string      // why it cannot be used, empty when it can
}

// obstacle is something that no tape runs through.
type obstacle struct {
	name   site.Name
	area   planar.Ring
	centre planar.Vec // of a round thing
	radius unit.Length
}

// ground is the job and its plan with what a card needs of them.
type ground struct {
	job       *site.Job
	plan      *adjust.Plan
	points    map[site.Name]*adjust.Point
	obstacles []obstacle
	walls     []wall
	unseen    []site.Name // buildings whose outline is not located
	say       unit.Style
}

func newGround(job *site.Job, plan *adjust.Plan) *ground {
	if job == nil {
		job = &site.Job{}
	}
	if plan == nil {
		plan = &adjust.Plan{}
	}
	g := &ground{job: job, plan: plan, say: job.Show.Style(), points: make(map[site.Name]*adjust.Point, len(plan.Points))}
	for i := range plan.Points {
		g.points[plan.Points[i].Name] = &plan.Points[i]
	}
	g.gatherObstacles()
	return g
}

// located returns a point that is determined.
func (g *ground) located(name site.Name) (*adjust.Point, bool) {
	p, ok := g.points[name]
	return p, ok && p.Placed && p.State == adjust.Determined && finite(p.At)
}

func finite(v planar.Vec) bool {
	s := float64(v.East) + float64(v.North)
	return !math.IsNaN(s) && !math.IsInf(s, 0)
}

// gatherObstacles finds what no tape runs through: buildings and structures,
// and the trunks of trees.
func (g *ground) gatherObstacles() {
	for _, b := range g.job.Site.Buildings {
		if ring, ok := g.ring(b.Corners); ok {
			g.obstacles = append(g.obstacles, obstacle{name: b.Name, area: ring})
			g.gatherWalls(b.Corners, ring)
		} else {
			g.unseen = append(g.unseen, b.Name)
		}
	}
	for _, f := range g.job.Site.Features {
		if f.Kind != site.Structure && f.Kind != site.Tree {
			continue
		}
		radius := f.Radius
		if f.Kind == site.Tree {
			radius = f.Trunk / 2
		}
		if ring, ok := g.ring(f.Points); ok && f.Closed && f.Kind == site.Structure {
			g.obstacles = append(g.obstacles, obstacle{name: f.Name, area: ring})
		} else if len(f.Points) == 1 && radius > 0 {
			if p, ok := g.located(f.Points[0]); ok {
				g.obstacles = append(g.obstacles, obstacle{name: f.Name, centre: p.At, radius: radius})
			}
		}
	}
}

// wall is a side of a building with the direction away from it.
type wall struct {
	from, to site.Name
	at       planar.Vec // of from
	lawn     planar.Vec // one metre long
}

// beyond is how far a place lies on the lawn side of the wall's line.
func (w *wall) beyond(v planar.Vec) unit.Length { return unit.Length(v.Minus(w.at).Dot(w.lawn)) }

func (g *ground) gatherWalls(corners []site.Name, ring planar.Ring) {
	for i, from := range ring {
		j := (i + 1) % len(ring)
		step := ring[j].Minus(from)
		lawn, ok := step.Right().Unit()
		if !ok {
			continue
		}
		if ring.Contains(from.Plus(step.Times(0.5)).Plus(lawn.Times(float64(skin)))) {
			lawn = lawn.Times(-1)
		}
		g.walls = append(g.walls, wall{corners[i], corners[j], from, lawn})
	}
}

func (g *ground) ring(names []site.Name) (planar.Ring, bool) {
	var out planar.Ring
	for _, n := range names {
		p, ok := g.located(n)
		if !ok {
			return nil, false
		}
		out = append(out, p.At)
	}
	return out, len(out) > 2
}

// skin is how far from a wall a tape counts as beside it: siding and the
// uncertainty of the corners.
const skin = unit.Foot / 4

// covers tells whether a place lies under the obstacle: then it is no reason
// against one tape more than another.
func (o *obstacle) covers(v planar.Vec) bool { return o.area != nil && o.area.Contains(v) }

// blocks tells whether a tape from a to b would run through the obstacle.
func (o *obstacle) blocks(a, b planar.Vec) bool {
	if o.area != nil {
		return o.area.Through(a, b, skin) > 0
	}
	ends := min(a.Minus(o.centre).Length(), b.Minus(o.centre).Length())
	return ends > o.radius+skin && o.centre.ToSegment(a, b) < o.radius
}

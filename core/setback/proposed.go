package setback

import (
	"undersod/core/clearance"
)

// gatherProposed adds what the owner wants to build to the things that parts
// are kept from, where its place is stated.
func (y *yard) gatherProposed() {
	for _, p := range y.job.Site.Proposed {
		if p.At == nil {
			continue
		}
		q, problems := y.ask(p)
		if len(problems) > 0 || q.Stated == nil || q.check() != nil {
			y.asks.Add("where " + string(p.Name) + " shall stand: it cannot be placed as it is written")
			continue
		}
		at := *q.Stated
		if q.Turning.Free && len(q.Footprint.Corners) > 1 {
			g := y.ground(q)
			if err := g.Check(); err != nil {
				y.asks.Add("where " + string(p.Name) + " shall stand: " + err.Error())
				continue
			}
			at = g.stated()
		}
		shape := q.Footprint.Placed(at)
		if len(shape.Points) == 1 {
			shape.Closed = false
		}
		b := &body{
			Thing: Thing{Name: p.Name, Kind: string(p.Kind), Class: p.Class}, from: wordOf(p.Kind),
			shape: clearance.Shape{Points: shape.Points, Closed: shape.Closed}, stand: &q.stood.stand, proposed: true,
		}
		b.prepare()
		y.things = append(y.things, b)
	}
}

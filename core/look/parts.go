package look

import (
	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
)

// AtParts returns what was seen at the parts of the system, in the order of the
// job: each at the part's point, or at the middle of its fitted outline.
func AtParts(job *site.Job, plan *adjust.Plan) []Finding {
	g := newGround(job, plan)
	var out []Finding
	for i := range g.job.Site.Parts {
		p := &g.job.Site.Parts[i]
		spot := g.partSpot(p.Name)
		for _, f := range p.Findings {
			out = append(out, g.atPart(p, f, spot))
		}
	}
	return out
}

func (g *ground) atPart(p *site.Part, f site.Finding, spot Spot) Finding {
	out := Finding{Finding: f, Part: p.Name, From: spot}
	if spot.Known {
		out.Path = []planar.Vec{spot.At}
	}
	g.judge(&out, site.Line{}, func(site.Problem) {}, "", site.Place{})
	out.Near = g.near(&out)
	out.Words = g.partWords(&out)
	return out
}

// partSpot is where a part lies.
func (g *ground) partSpot(name site.Name) Spot {
	if p, ok := g.points[name]; ok {
		return Spot{At: p.At, Known: true, Radius: adjust.Radius95(p.Sigma.Spread())}
	}
	for _, o := range g.plan.Outlines {
		if o.Part == name && o.Fitted && finite(o.Centre) {
			return Spot{At: o.Centre, Known: true, Radius: adjust.Radius95(o.Sigma.Spread())}
		}
	}
	return Spot{}
}

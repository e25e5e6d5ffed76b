package judge

import (
	"undersod/core/adjust"
	"undersod/core/site"
)

// point is a located point of the plan, or the centre of a fitted outline.
func (w *work) point(name site.Name) (adjust.Point, bool) {
	for _, p := range w.plan.Points {
		if p.Name == name && p.Placed && p.State == adjust.Determined {
			return p, true
		}
	}
	for _, o := range w.plan.Outlines {
		if o.Part == name && o.Fitted {
			return adjust.Point{Name: name, At: o.Centre, Placed: true, Sigma: o.Sigma, Ellipse: o.Sigma.Ellipse95()}, true
		}
	}
	return adjust.Point{}, false
}

package adjust

import (
	"fmt"

	"undersod/core/site"
)

// contradictedHints lists the points that the readings put on the other side of
// a line than the job says, and the buried parts they put inside a building. A
// hint carries no weight, but one that the readings contradict means that one of
// the two is wrong: a slip that nothing else checks shows here.
func (w *work) contradictedHints() []string {
	var out []string
	for i := range w.net.points {
		if !w.plan.Points[i].Placed || w.plan.Points[i].State != Determined {
			continue
		}
		for _, s := range w.net.points[i].Sides {
			if w.net.contradicts(w.layout, i, s) {
				out = append(out, fmt.Sprintf("The readings put %s on the other side of %s-%s than the job says (%s). Either a reading or the side is wrong.",
					w.net.points[i].Name, s.From, s.To, sideWords(s)))
			}
		}
	}
	for _, i := range w.drawnPoints() {
		if w.plan.Points[i].State != Determined || w.net.points[i].Kind == string(site.Cleanout) {
			continue
		}
		for k := range w.net.building {
			if w.deepInside(w.net.building[k], i) {
				out = append(out, fmt.Sprintf("The readings put %s inside %s. Look at its ties and at its side.",
					w.net.points[i].Name, w.buildingName(k)))
			}
		}
	}
	return out
}

// contradicts tells whether a placed point lies clearly on the wrong side of one
// hint.
func (n *network) contradicts(l *layout, p int, s site.Side) bool {
	pts, ok := n.find(s.From, s.To)
	if !ok || !l.placed[pts[0]] || !l.placed[pts[1]] {
		return false
	}
	want := n.wantedSide(s, pts)
	return want != 0 && float64(want)*signedSide(l.at(pts[0]), l.at(pts[1]), l.at(p)) < -clearOfLine
}

// wantedSide is +1 where a hint asks for the right of its line, -1 for the left.
func (n *network) wantedSide(s site.Side, pts []int) int {
	switch s.Kind {
	case site.RightOf:
		return 1
	case site.Outside:
		return n.outsideSign(pts[0], pts[1])
	}
	return -1
}

// clearOfLine is how far in metres a point must lie on the wrong side before it
// is said so: half a foot, more than a wall is thick.
const clearOfLine = 0.15

// signedSide is how far right of the line from a to b a place lies, m.
func signedSide(a, b, p spot) float64 {
	d := a.from(b)
	if d == 0 {
		return 0
	}
	return ((p.e-a.e)*(b.n-a.n) - (p.n-a.n)*(b.e-a.e)) / d
}

func sideWords(s site.Side) string {
	if s.Text != "" {
		return s.Text
	}
	return [...]string{"left of it", "right of it", "on its lawn side"}[s.Kind]
}

// deepInside tells whether a point lies inside a building, clear of its walls.
func (w *work) deepInside(o outline, p int) bool {
	at := w.layout.at(p)
	for k, c := range o.corners {
		d := o.corners[(k+1)%len(o.corners)]
		if !w.layout.placed[c] || !w.layout.placed[d] {
			return false
		}
		if away := signedSide(w.layout.at(c), w.layout.at(d), at); away < clearOfLine && away > -clearOfLine {
			return false
		}
	}
	return w.inside(o, at)
}

// inside tells whether a place lies within a building's outline.
func (w *work) inside(o outline, p spot) bool {
	in := false
	for k, c := range o.corners {
		q, r := w.layout.at(c), w.layout.at(o.corners[(k+1)%len(o.corners)])
		if (q.n > p.n) != (r.n > p.n) && p.e < q.e+(p.n-q.n)/(r.n-q.n)*(r.e-q.e) {
			in = !in
		}
	}
	return in
}

// buildingName names the building behind outline k.
func (w *work) buildingName(k int) site.Name {
	for _, b := range w.net.job.Site.Buildings {
		if len(b.Corners) > 0 && b.Corners[0] == w.net.points[w.net.building[k].corners[0]].Name {
			return b.Name
		}
	}
	return "the building"
}

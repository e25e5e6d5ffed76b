package sheet_test

import (
	"fmt"
	"math"
	"testing"

	"undersod/core/sheet"
)

// quad is the box of a text: four corners.
type quad [4]sheet.Pos

// textQuad returns the box that a text covers, from its own metrics.
func textQuad(t sheet.Text) quad {
	w := rough{}.Advance(t.Text, t.Weight, t.Size)
	x := sheet.MM(0)
	switch t.Align {
	case sheet.AlignMiddle:
		x = -w / 2
	case sheet.AlignRight:
		x = -w
	}
	up, down := rough{}.Ascent(t.Weight, t.Size), rough{}.Descent(t.Weight, t.Size)
	s, c := math.Sincos(t.Turn.Radians())
	at := func(x, y sheet.MM) sheet.Pos {
		return sheet.Pos{X: t.At.X + x*sheet.MM(c) - y*sheet.MM(s), Y: t.At.Y + x*sheet.MM(s) + y*sheet.MM(c)}
	}
	return quad{at(x, -up), at(x+w, -up), at(x+w, down), at(x, down)}
}

// overlap is the separating axis test on any two convex figures.
func overlap(a, b []sheet.Pos) bool {
	return !apart(a, b) && !apart(b, a)
}

func apart(a, b []sheet.Pos) bool {
	for i := range a {
		p, q := a[i], a[(i+1)%len(a)]
		nx, ny := q.Y-p.Y, p.X-q.X
		if nx == 0 && ny == 0 {
			continue
		}
		a0, a1 := shadow(a, nx, ny)
		b0, b1 := shadow(b, nx, ny)
		if a1 <= b0+1e-6 || b1 <= a0+1e-6 {
			return true
		}
	}
	return false
}

func shadow(p []sheet.Pos, nx, ny sheet.MM) (lo, hi sheet.MM) {
	lo, hi = sheet.MM(math.Inf(1)), sheet.MM(math.Inf(-1))
	for _, v := range p {
		d := v.X*nx + v.Y*ny
		lo, hi = min(lo, d), max(hi, d)
	}
	return lo, hi
}

// pieces returns the straight pieces of a path; an arc is cut into 16.
func pieces(p sheet.Path) [][2]sheet.Pos {
	var out [][2]sheet.Pos
	for _, r := range p.Runs {
		at := r.Start
		for _, q := range r.Pieces {
			if q.Arc {
				out = append(out, arc(at, q)...)
			} else {
				out = append(out, [2]sheet.Pos{at, q.To})
			}
			at = q.To
		}
		if r.Closed {
			out = append(out, [2]sheet.Pos{at, r.Start})
		}
	}
	return out
}

func arc(from sheet.Pos, q sheet.Piece) [][2]sheet.Pos {
	a0 := math.Atan2(float64(from.Y-q.Centre.Y), float64(from.X-q.Centre.X))
	a1 := math.Atan2(float64(q.To.Y-q.Centre.Y), float64(q.To.X-q.Centre.X))
	if a1 <= a0 {
		a1 += 2 * math.Pi
	}
	r := math.Hypot(float64(from.X-q.Centre.X), float64(from.Y-q.Centre.Y))
	var out [][2]sheet.Pos
	p := from
	for i := 1; i <= 16; i++ {
		s, c := math.Sincos(a0 + (a1-a0)*float64(i)/16)
		n := sheet.Pos{X: q.Centre.X + sheet.MM(r*c), Y: q.Centre.Y + sheet.MM(r*s)}
		out = append(out, [2]sheet.Pos{p, n})
		p = n
	}
	return out
}

// checkSheet returns everything about a scene that breaks a promise: labels on
// labels, on lines or symbols, outside the drawing, too small, or off the paper.
func checkSheet(s sheet.Scene) []string {
	var bad []string
	var texts []sheet.Text
	var quads []quad
	var furniture []sheet.Text
	for _, l := range s.Layers {
		for _, shape := range l.Shapes {
			t, ok := shape.(sheet.Text)
			if !ok {
				continue
			}
			q := textQuad(t)
			if t.Size < 2.3 {
				bad = append(bad, fmt.Sprintf("%q is only %.2f mm high", t.Text, t.Size))
			}
			if !within(q[:], s.Width, s.Height) {
				bad = append(bad, fmt.Sprintf("%q leaves the paper", t.Text))
			}
			if !l.Plan {
				furniture = append(furniture, t)
				continue
			}
			for i, o := range texts {
				if overlap(q[:], quads[i][:]) && !sameBlock(t, o) {
					bad = append(bad, fmt.Sprintf("label %q lies on label %q", t.Text, o.Text))
				}
			}
			texts, quads = append(texts, t), append(quads, q)
		}
	}
	bad = append(bad, checkFurniture(furniture, quads)...)
	for _, t := range furniture {
		texts, quads = append(texts, t), append(quads, textQuad(t))
	}
	return append(bad, checkLines(s, texts, quads)...)
}

// sameBlock tells whether two texts are lines of one label, which may touch.
func sameBlock(a, b sheet.Text) bool {
	return a.Name == b.Name && hypot(float64(a.At.X-b.At.X), float64(a.At.Y-b.At.Y)) < 45 && a.Turn == b.Turn && a.At.Y != b.At.Y &&
		math.Abs(float64(a.At.Y-b.At.Y)) >= 1.1*float64(a.Size)
}

func within(q []sheet.Pos, w, h sheet.MM) bool {
	for _, p := range q {
		if p.X < 9 || p.Y < 9 || p.X > w-9 || p.Y > h-9 {
			return false
		}
	}
	return true
}

// checkFurniture finds texts of the furniture that lie on each other or on the
// drawing's labels.
func checkFurniture(texts []sheet.Text, labels []quad) []string {
	var bad []string
	quads := make([]quad, len(texts))
	for i, t := range texts {
		quads[i] = textQuad(t)
		for j := range i {
			if overlap(quads[i][:], quads[j][:]) {
				bad = append(bad, fmt.Sprintf("text %q lies on text %q", t.Text, texts[j].Text))
			}
		}
		for j := range labels {
			if overlap(quads[i][:], labels[j][:]) {
				bad = append(bad, fmt.Sprintf("text %q lies in the drawing", t.Text))
			}
		}
	}
	return bad
}

// checkLines finds labels that lie on a line, a symbol or a leader.
func checkLines(s sheet.Scene, texts []sheet.Text, quads []quad) []string {
	var bad []string
	for _, l := range s.Layers {
		if l.Name == "labels" || !l.Plan {
			continue // the rings of numbers, and the boxes of the panel, hold their own text
		}
		for _, shape := range l.Shapes {
			p, ok := shape.(sheet.Path)
			if !ok || p.Stroke == nil {
				continue
			}
			for _, seg := range pieces(p) {
				for i := range texts {
					if overlap(quads[i][:], seg[:]) {
						bad = append(bad, fmt.Sprintf("label %q lies on a line of %q in layer %q", texts[i].Text, p.Name, l.Name))
					}
				}
			}
		}
	}
	return bad
}

func TestLabelsKeepClear(t *testing.T) {
	keyed, papers, scales := 0, map[string]int{}, map[string]int{}
	labels := 0
	for seed := range uint64(200) {
		y := randomYard(seed)
		y.job.Show.Ties = seed%4 == 0
		s, err := sheet.Draw(y.job, y.plan, rough{}, sheet.Options{})
		if err != nil {
			t.Fatalf("yard %d: %v", seed, err)
		}
		for _, b := range checkSheet(s) {
			t.Errorf("yard %d: %s", seed, b)
		}
		k := numbers(s)
		keyed += k
		if k > 4 {
			t.Errorf("yard %d: %d labels became numbers", seed, k)
		}
		labels += len(y.plan.Points)
		papers[fmt.Sprintf("%.0fx%.0f", s.Width, s.Height)]++
		scales[fmt.Sprintf("1:%.0f", 1000/s.Mapping.MMPerMetre)]++
	}
	t.Logf("%d numbers for %d points, papers %v, scales %v", keyed, labels, papers, scales)
	if keyed > 100 {
		t.Errorf("%d labels became numbers on 200 sheets; expected at most 100", keyed)
	}
}

// numbers counts the labels that stand as numbers.
func numbers(s sheet.Scene) int {
	n := 0
	for _, l := range s.Layers {
		if l.Name != "labels" {
			continue
		}
		for _, shape := range l.Shapes {
			if _, ok := shape.(sheet.Path); ok {
				n++
			}
		}
	}
	return n
}

func BenchmarkDraw(b *testing.B) {
	y := randomYard(1)
	for b.Loop() {
		if _, err := sheet.Draw(y.job, y.plan, rough{}, sheet.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

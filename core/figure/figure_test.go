package figure_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"undersod/core/figure"
	"undersod/core/sheet"
	"undersod/core/unit"
	"undersod/internal/render"
)

var (
	update = flag.Bool("update", false, "accept the figures as they are drawn now")
	shown  = flag.String("look", "", "folder to write the figures into, as PNG")
)

func feetAndInches(width sheet.MM) figure.Say {
	return figure.Say{Style: unit.Style{Form: unit.FeetInches, Denominator: 8}, Metrics: render.Metrics(), Width: width}
}

func inMetres(width sheet.MM) figure.Say {
	return figure.Say{Style: unit.Style{Form: unit.Metres}, Metrics: render.Metrics(), Width: width}
}

// area is the upright rectangle of a text.
type area struct {
	x0, y0, x1, y1 sheet.MM
	text           string
}

func areaOf(t sheet.Text) area {
	m := render.Metrics()
	w := m.Advance(t.Text, t.Weight, t.Size)
	x := t.At.X
	switch t.Align {
	case sheet.AlignMiddle:
		x -= w / 2
	case sheet.AlignRight:
		x -= w
	}
	return area{x, t.At.Y - 0.8*m.Ascent(t.Weight, t.Size), x + w, t.At.Y + 0.8*m.Descent(t.Weight, t.Size), t.Text}
}

// faults returns what breaks a promise of every figure: a text outside it, on
// another text or too small, a coordinate that is no number.
func faults(s sheet.Scene) (bad []string) {
	if !(s.Width > 0) || !(s.Height > 0) || s.Height > 2000 {
		bad = append(bad, fmt.Sprintf("the figure is %v x %v mm", s.Width, s.Height))
	}
	var texts []area
	for _, l := range s.Layers {
		for _, shape := range l.Shapes {
			switch v := shape.(type) {
			case sheet.Text:
				a := areaOf(v)
				if v.Size < 2.3 {
					bad = append(bad, fmt.Sprintf("%q is only %v mm high", v.Text, v.Size))
				}
				for _, b := range texts {
					if a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1 {
						bad = append(bad, fmt.Sprintf("%q lies on %q", a.text, b.text))
					}
				}
				if !(a.x0 >= 0) || !(a.y0 >= 0) || !(a.x1 <= s.Width+1e-6) || !(a.y1 <= s.Height+1e-6) {
					bad = append(bad, fmt.Sprintf("%q leaves the figure: %v", a.text, a))
				}
				texts = append(texts, a)
			case sheet.Path:
				bad = append(bad, astray(s, v)...)
			}
		}
	}
	return bad
}

func astray(s sheet.Scene, p sheet.Path) (bad []string) {
	in := func(q sheet.Pos) bool { return q.X >= 0 && q.X <= s.Width && q.Y >= 0 && q.Y <= s.Height }
	for _, r := range p.Runs {
		ok := in(r.Start)
		for _, q := range r.Pieces {
			ok = ok && in(q.To) && (!q.Arc || in(q.Centre))
		}
		if !ok {
			bad = append(bad, fmt.Sprintf("a line leaves the figure of %vx%v: %v", s.Width, s.Height, r))
		}
	}
	return bad
}

// crossed returns the lines that run through a text.
func crossed(s sheet.Scene) (bad []string) {
	var texts []area
	for _, l := range s.Layers {
		for _, shape := range l.Shapes {
			if v, ok := shape.(sheet.Text); ok {
				texts = append(texts, areaOf(v))
			}
		}
	}
	for _, l := range s.Layers {
		for _, shape := range l.Shapes {
			p, ok := shape.(sheet.Path)
			if !ok || p.Stroke == nil {
				continue
			}
			for _, r := range p.Runs {
				at := r.Start
				for _, q := range r.Pieces {
					for _, a := range texts {
						if meets(at, q.To, a) {
							bad = append(bad, fmt.Sprintf("a line from %v to %v runs through %q", at, q.To, a.text))
						}
					}
					at = q.To
				}
			}
		}
	}
	return bad
}

// meets samples a straight piece for points inside a text.
func meets(a, b sheet.Pos, t area) bool {
	for i := range 201 {
		k := sheet.MM(i) / 200
		x, y := a.X+(b.X-a.X)*k, a.Y+(b.Y-a.Y)*k
		if x > t.x0 && x < t.x1 && y > t.y0 && y < t.y1 {
			return true
		}
	}
	return false
}

// show writes a figure for the eye when -look names a folder.
func show(t *testing.T, name string, s sheet.Scene) {
	t.Helper()
	if *shown == "" {
		return
	}
	f, err := os.Create(filepath.Join(*shown, name+".png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := render.PNG(f, s, 160); err != nil {
		t.Fatal(err)
	}
}

// check holds a figure against its promises, and its golden file.
func check(t *testing.T, name string, s sheet.Scene) {
	t.Helper()
	for _, b := range faults(s) {
		t.Errorf("%s: %s", name, b)
	}
	for _, b := range crossed(s) {
		t.Errorf("%s: %s", name, b)
	}
	golden(t, name, s)
	show(t, name, s)
}

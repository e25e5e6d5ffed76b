package report

import (
	"fmt"
	"strings"

	"undersod/core/sheet"
)

// ownerDrawing sets the sheet of the plan for someone who has nothing but this
// report: of the papers of the job's family, lying or standing, the one that
// leaves nothing out and draws at the largest scale, the smaller paper where two
// are alike.
func (r *report) ownerDrawing() {
	if r.in.Plan == nil {
		r.drawing()
		return
	}
	var best *sheet.Scene
	var most legible
	for _, p := range family(paperOf(r.in.Job.Show)) {
		for _, way := range []sheet.Orientation{sheet.Landscape, sheet.Portrait} {
			s, err := sheet.Draw(*r.in.Job, *r.in.Plan, r.in.Metrics, sheet.Options{Paper: p, Orientation: way, Findings: r.marked()})
			if err != nil {
				continue
			}
			if l := legibility(s); best == nil || l.better(most) {
				best, most = &s, l
			}
		}
	}
	if best == nil { // any paper, or why there is none
		r.drawing(sheet.PaperAuto)
		return
	}
	r.SheetPage(*best)
}

// family lists the papers of one family, smallest first.
func family(p sheet.Paper) []sheet.Paper {
	if p == sheet.A4 {
		return []sheet.Paper{sheet.A4, sheet.A3}
	}
	return []sheet.Paper{sheet.Letter, sheet.Tabloid}
}

// legible is how much of a drawing can be read.
type legible struct {
	whole bool // nothing is left out or named by a number only
	ratio int  // how many times smaller than the ground; 0 where it is not told
}

func (l legible) better(o legible) bool {
	if l.whole != o.whole {
		return l.whole
	}
	return l.ratio > 0 && (o.ratio == 0 || l.ratio < o.ratio)
}

// legibility reads from a drawn sheet what it says of itself.
func legibility(s sheet.Scene) legible {
	l := legible{whole: true}
	for _, layer := range s.Layers {
		for _, shape := range layer.Shapes {
			t, is := shape.(sheet.Text)
			if !is {
				continue
			}
			if strings.HasPrefix(t.Text, "Continued:") || strings.Contains(t.Text, "(no room for the number)") {
				l.whole = false
			}
			if i := strings.LastIndex(t.Text, "1:"); i >= 0 && strings.HasPrefix(t.Text, "Scale ") {
				fmt.Sscanf(t.Text[i:], "1:%d", &l.ratio)
			}
		}
	}
	return l
}

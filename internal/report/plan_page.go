package report

import (
	"undersod/core/sheet"
	"undersod/internal/report/flow"
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
	var most flow.Legible
	for _, p := range family(paperOf(r.in.Job.Show)) {
		for _, way := range []sheet.Orientation{sheet.Landscape, sheet.Portrait} {
			s, err := sheet.Draw(*r.in.Job, *r.in.Plan, r.in.Metrics, sheet.Options{Paper: p, Orientation: way, Findings: Marks(r.in.Job, r.in.Judgement.Runs)})
			if err != nil {
				continue
			}
			if l := flow.Legibility(s); best == nil || l.Better(most) {
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

package report

import (
	"strings"

	"undersod/core/caution"
	"undersod/core/site"
	"undersod/internal/report/flow"
)

// cautions sets the working cautions for whoever opens the system again, each
// with its source, under the place where the danger arises.
func (r *report) cautions() {
	where := []caution.Where{caution.Digging, caution.OpenTank, caution.OpenBox, caution.Trench, caution.Camera, caution.Well}
	if r.pumps() {
		where = append(where, caution.Pump)
	}
	r.Heading("Cautions for whoever opens it again")
	t := flow.Table{Columns: []flow.Column{{Title: "Caution"}, {Title: "Source"}}}
	last := caution.Where("")
	for _, c := range caution.For(where...) {
		if c.Where != last {
			last = c.Where
			t.Row(capital(string(c.Where)))
		}
		t.Row(c.Words, c.Source)
	}
	r.Table(t)
	r.Para(caution.Decides)
}

// pumps tells whether the job has a pump tank.
func (r *report) pumps() bool {
	for _, p := range r.in.Job.Site.Parts {
		if p.Kind == site.PumpTank {
			return true
		}
	}
	return false
}

// openingWords are the cautions of a card for a part that opens a tank: the gas
// in it with its number and source, and the wires of a pump.
func (r *report) openingWords(part site.Name) []string {
	tank, pump := r.opens(part)
	var out []string
	if tank {
		out = append(out, shortest(caution.OpenTank, func(c caution.Caution) bool { return strings.ContainsAny(c.Words, "0123456789") }))
	}
	if pump {
		out = append(out, shortest(caution.Pump, func(c caution.Caution) bool { return strings.Contains(c.Words, "live wires") }))
	}
	return out
}

// opens tells whether a part opens a tank, and whether that may be one with a
// pump: a lid does not say whose it is, so that with a pump tank on the site
// only a lid named after another tank is free of it.
func (r *report) opens(part site.Name) (tank, pump bool) {
	var kind site.PartKind
	other := false
	for _, p := range r.in.Job.Site.Parts {
		if p.Name == part {
			kind = p.Kind
		}
		if p.Kind == site.SepticTank && p.Name != "" && strings.HasPrefix(string(part), string(p.Name)) {
			other = true
		}
	}
	switch kind {
	case site.PumpTank:
		return true, true
	case site.SepticTank:
		return true, false
	case site.Lid:
		return true, r.pumps() && !other
	}
	return false, false
}

// shortest prints the shortest of the cautions of a place that are wanted, with
// its source; nothing where there is none.
func shortest(where caution.Where, wanted func(caution.Caution) bool) string {
	best := ""
	for _, c := range caution.For(where) {
		if text := c.Words + " (" + c.Source + ")"; wanted(c) && (best == "" || len(text) < len(best)) {
			best = text
		}
	}
	return best
}

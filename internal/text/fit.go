package text

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"undersod/core/absorb"
	"undersod/core/caution"
	"undersod/core/clearance"
	"undersod/core/english"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/stake"
	"undersod/core/unit"
	"undersod/internal/clearfile"
)

// Fits prints where each thing may stand; found is not empty.
func Fits(w io.Writer, of Of, pack *rules.Pack, found []clearfile.Answered) {
	t := of.teller(w)
	t.head()
	t.unsettled(of.Name)
	t.problems(of.Read)
	t.fits(pack, found)
}

// fits tells every answer, and at the end what all of them rest on.
func (t *teller) fits(pack *rules.Pack, found []clearfile.Answered) {
	var notes sources
	dangers := map[caution.Where]bool{}
	for _, a := range found {
		t.fit(a, &notes)
		dangers[caution.Well] = dangers[caution.Well] || a.Question.Kind == site.Well
		dangers[caution.Trench] = dangers[caution.Trench] || a.Question.Kind == site.Structure || a.Question.Kind == site.Pool
	}
	t.bedrooms(found, &notes)
	t.title("Where the numbers come from")
	t.wrapped("- ", packWords(pack.Name, pack.Place))
	t.sources("", &notes)
	where := []caution.Where{caution.Digging}
	for _, w := range []caution.Where{caution.Trench, caution.Well} {
		if dangers[w] {
			where = append(where, w)
		}
	}
	t.cautions("Before anybody digs", where...)
	t.print("\n%s\n", absorb.Decides)
}

// fit tells one answer, the verdict first.
func (t *teller) fit(a clearfile.Answered, notes *sources) {
	q := a.Question
	t.title(q.Named())
	t.print("%s\n", t.outcome(a.Fit))
	if a.Fit.Ruleless() {
		t.print("%s\n", t.paint(yellow, "But no rule here asks for a distance from any part of the system."))
	}
	for _, w := range a.Words {
		if w = strings.TrimSuffix(w, absorb.Decides); w != "" { // it ends everything
			t.wrapped("- ", w)
		}
	}
	if q.Stated != nil {
		t.limiting("At the stated place", a.Stated, notes)
	}
	switch {
	case a.Fit.Outcome() == setback.FitsSomewhere:
	case a.Sure != nil:
		t.pegs("How to peg the place that is sure", q, *a.Sure)
	case q.Stated == nil || a.Verdict != setback.Short:
		t.pegs("How to peg it", q, bestOrStated(a.Fit))
	case a.Cure != nil:
		t.pegs("How to peg the place that keeps just what is asked", q, *a.Cure)
	}
	if q.Stated == nil && a.Fit.Outcome() != setback.FitsSomewhere {
		t.limiting("What limits it there", a.Limits, notes)
	}
	t.area(a.Fit)
	var taken []string
	for _, c := range a.Caution { // what was taken of every rule is among it
		taken = addOnce(taken, c)
	}
	t.listed("What was assumed", taken)
	t.listed("What is not known", sentences(a.Missing))
}

// bedrooms tells what planned bedrooms ask for, once for all that is fitted.
func (t *teller) bedrooms(found []clearfile.Answered, notes *sources) {
	var words []string
	for _, a := range found {
		if a.Capacity == nil {
			continue
		}
		for _, w := range a.Capacity.Words {
			words = addOnce(words, strings.TrimSuffix(w, " "+absorb.Decides))
		}
	}
	t.listed("Field and tank with the bedrooms that are planned", words)
	for _, a := range found {
		if a.Capacity != nil {
			t.capacitySources(a.Capacity, notes)
			return // they are the same for all
		}
	}
}

// capacitySources numbers where the flow, the area and the tank come from, with
// how far each can be trusted.
func (t *teller) capacitySources(c *setback.Capacity, notes *sources) {
	var from []string
	for _, s := range []struct {
		what   string
		known  bool
		source rules.Source
	}{
		{"the daily flow", c.Then.Flow.Known, c.Then.Flow.Source},
		{"the area required", c.Then.Required.Known, c.Then.Required.Source},
		{"the tank", c.Then.Tank.Required > 0, c.Then.Tank.Source},
	} {
		if s.known && s.source.Title != "" {
			from = append(from, s.what+notes.of(s.source, false))
		}
	}
	if len(from) > 0 {
		t.wrapped("- ", "By these sources: "+english.And(from)+".")
	}
}

// outcome is the verdict in a few words, painted.
func (t *teller) outcome(f *setback.Fit) painted {
	switch f.Outcome() {
	case setback.FitsNowhere:
		return t.paint(red, "It fits nowhere.")
	case setback.FitsByNoRule:
		return t.paint(yellow, "Cannot be judged: it fits on the ground alone.")
	case setback.FitsByLocated:
		return t.paint(yellow, "No answer yet: it fits by what is located, but not all that matters is.")
	case setback.FitsSomewhere:
		return t.paint(yellow, "It fits somewhere, but no property line is in the job: state a place, or what") + painted("\n") +
			t.paint(yellow, "to stand near. The freest place alone says nothing.")
	case setback.FitsElsewhere:
		return t.paint(red, "It fits, but not at the stated place.")
	case setback.FitsWhereStated:
		return t.paint(green, "It fits at the stated place.")
	case setback.FitsFreely:
		return t.paint(green, "It fits.")
	case setback.FitsNearWish:
		return t.paint(yellow, "It fits; the place nearest to "+f.Question.NearWords+" keeps just what is asked.")
	}
	return t.paint(yellow, "Too close to call: within what the measuring can tell.")
}

// bestOrStated is the place to peg: the stated one where it keeps every setback.
func bestOrStated(f *setback.Fit) clearance.Found {
	if f.Question.Stated != nil {
		return clearance.Found{Placement: *f.Question.Stated, Fits: true}
	}
	return f.Best
}

// pegs tells the tapes to each corner.
func (t *teller) pegs(title string, q setback.Question, at clearance.Found) {
	if !at.Fits {
		return
	}
	corners := q.Footprint.Placed(at.Placement).Points
	names := []string{"the spot"}
	if len(corners) > 1 {
		corners = append([]planar.Vec{at.At}, corners...)
		names = []string{"the middle"}
	}
	pegs := stake.Out(t.job, t.plan, corners)
	t.title(title)
	if !slices.ContainsFunc(pegs, func(p stake.Peg) bool { return len(p.Ties) > 0 }) {
		t.wrapped("- ", "No two located marks see it so that their tapes would cross well: add marks to the job near it.")
		return
	}
	if len(corners) > 1 {
		t.wrapped("- ", fmt.Sprintf("Its length runs at %s, clockwise from the plan's north. Corners in their order round it:", azimuth(at.Turn)))
	}
	for i, peg := range pegs {
		if i > 0 {
			names = append(names, fmt.Sprintf("corner %d", i))
		}
		t.wrapped("    ", t.tiesWords(names[i], peg))
	}
	t.wrapped("- ", "Hold each tape level from the mark; two tapes meet at the peg, the third checks it."+t.diagonals(q.Footprint.Corners))
}

// diagonals asks for the check that shows crooked pegs of four corners.
func (t *teller) diagonals(c []planar.Vec) string {
	if len(c) != 4 {
		return ""
	}
	one, other := t.length(c[0].Minus(c[2]).Length()), t.length(c[1].Minus(c[3]).Length())
	if one == other {
		return " Measure both diagonals before you trust the pegs: " + one + " each."
	}
	return " Measure both diagonals before you trust the pegs: " + one + " from corner 1 to 3, " + other + " from corner 2 to 4."
}

// tiesWords tells the tapes to one peg.
func (t *teller) tiesWords(name string, peg stake.Peg) string {
	if len(peg.Ties) == 0 {
		return name + ": no two marks whose tapes would cross there"
	}
	var all []string
	for _, tie := range peg.Ties {
		all = append(all, fmt.Sprintf("%s from %s", t.length(tie.Distance), tie.From))
	}
	return name + ": " + strings.Join(all, ", ")
}

func azimuth(a unit.Angle) string {
	return fmt.Sprintf("%g°", math.Round(a.Turn().Degrees()*10)/10)
}

// mostLimits is how many things are listed that are clear.
const mostLimits = 8

// limiting tells what a place is kept from: all that is not clear, and the
// nearest of the rest.
func (t *teller) limiting(title string, limits []setback.Limiting, notes *sources) {
	if len(limits) == 0 {
		return
	}
	t.title(title)
	shown := map[setback.Verdict][]distance{}
	more, proposed := 0, false
	for i, l := range limits {
		if l.Verdict == setback.Clear && i >= mostLimits {
			more++
			continue
		}
		proposed = proposed || l.Proposed
		shown[l.Verdict] = append(shown[l.Verdict], distanceOfLimit(l, notes))
	}
	for _, v := range verdicts() {
		t.distances(v, shown[v])
	}
	if proposed {
		t.print("\n *  proposed as well\n")
	}
	if more > 0 {
		t.print("  and %d more, all clear by more than these\n", more)
	}
}

// mostTurns is how many turns the table of areas shows.
const mostTurns = 12

// area tells the allowed ground by turn, a dozen turns of it and the largest.
func (t *teller) area(f *setback.Fit) {
	if len(f.Ground.Lot) == 0 {
		return // the ground has no end
	}
	if len(f.Region.Pieces) > 0 || len(f.ByTurn) > 0 {
		t.title("How much room there is for its middle")
	}
	if n := len(f.Region.Pieces); n > 0 {
		t.wrapped("- ", fmt.Sprintf("At %s: %s in %s.", azimuth(clearfile.RegionTurn(f)), t.style().FormatArea(f.Region.Area), pieces(n)))
	}
	if len(f.ByTurn) < 2 {
		return
	}
	turns := f.ByTurn
	if last := turns[len(turns)-1]; math.Abs(float64(last.Area-turns[0].Area)) <= 1e-6*float64(last.Area) {
		turns = turns[:len(turns)-1] // half a turn further a rectangle is the same again
	}
	largest := slices.MaxFunc(turns, func(a, b clearance.TurnArea) int { return cmp.Compare(a.Area, b.Area) })
	var cells []string
	stride := (len(turns) + mostTurns - 1) / mostTurns
	for i := 0; i < len(turns); i += stride {
		cells = append(cells, fmt.Sprintf("%6s %13s", azimuth(turns[i].Turn), t.style().FormatArea(turns[i].Area)))
	}
	if largest.Area > f.Region.Area {
		t.wrapped("- ", fmt.Sprintf("Largest at %s: %s.", azimuth(largest.Turn), t.style().FormatArea(largest.Area)))
	}
	t.wrapped("- ", "By the turn of its length:")
	for i := 0; i < len(cells); i += 3 {
		t.print("  %s\n", strings.Join(cells[i:min(i+3, len(cells))], "   "))
	}
}

func pieces(n int) string {
	if n == 1 {
		return "one piece"
	}
	return fmt.Sprintf("%d pieces", n)
}

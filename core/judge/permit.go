package judge

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"undersod/core/english"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// Two-sided 95 % of the normal distribution.
const normal95 = 1.96

// tooWeak is how uncertain a measurement may be and still tell agreement: more
// than this share of the claimed length, and more than a foot, cannot.
const tooWeak = 0.05

// permit holds what the permit says against what was measured.
func (w *work) permit() {
	w.lengths()
	r := w.job.Site.Record
	if r == nil {
		return
	}
	w.counts(r)
	w.trenches(r)
	w.spacing(r)
	w.tankAndHouse(r)
	for _, c := range r.Distances {
		w.distance(c)
	}
}

func (w *work) compare(c Comparison) { w.out.Permit = append(w.out.Permit, c) }

// lengths holds every line against its permitted length.
func (w *work) lengths() {
	for _, l := range w.job.Site.Lines {
		claimed := l.Permitted
		if r := w.job.Site.Record; claimed == nil && r != nil && l.Kind == site.DrainLine {
			claimed = r.TrenchLength
		}
		if claimed == nil {
			continue
		}
		what := "length of " + string(l.Name)
		if m, ok := w.measured(l.Name); ok {
			w.length(what, *claimed, m.Length, m.SD, 0)
		} else {
			w.unmeasured(what, *claimed, "not all of it is located")
		}
	}
}

// unmeasured is a claim that nothing measured speaks of.
func (w *work) unmeasured(what string, claimed unit.Written, why string) {
	w.compare(Comparison{What: what, Claimed: claimed.Text, Answer: CannotTell,
		Words: fmt.Sprintf("%s: the record says %s; %s.", english.Capital(what), claimed.Text, why)})
}

// length compares a length with a claim. The limit is 95 % of what the
// measurement and the record's own deviation allow, and half the last place
// that the record writes: one that states whole feet says no more.
func (w *work) length(what string, claimed unit.Written, measured, sd, claimSD unit.Length) {
	off := measured - claimed.Length
	within := unit.Length(normal95 * math.Hypot(float64(sd), float64(claimSD)))
	limit := within + lastPlace(claimed)/2
	c := Comparison{What: what, Claimed: claimed.Text, Measured: w.say.Format(measured),
		Off: signed(w.say.Format(off)), Within: w.say.FormatDeviation(within)}
	switch {
	case off.Abs() > limit:
		c.Answer = Differs
		c.Words = fmt.Sprintf("%s is %s; the record says %s: %s %s.", english.Capital(what), c.Measured, claimed.Text, w.say.Format(off.Abs()), moreOrLess(off))
	case within > unit.Foot && within > unit.Length(tooWeak)*claimed.Length.Abs():
		c.Answer = CannotTell
		c.Words = fmt.Sprintf("%s is %s, within %s: too uncertain to hold against %s.", english.Capital(what), c.Measured, w.say.Format(within), claimed.Text)
	default:
		c.Answer = Agrees
		c.Words = fmt.Sprintf("%s is %s; the record says %s.", english.Capital(what), c.Measured, claimed.Text)
	}
	w.compare(c)
}

func signed(s string) string {
	if strings.HasPrefix(s, "-") || s == `0"` || s == "0" {
		return s
	}
	return "+" + s
}

func moreOrLess(off unit.Length) string {
	if off > 0 {
		return "more"
	}
	return "less"
}

// lastPlace is the value of the last place that a written length shows: a foot
// for 60 ft, a tenth for 60.0 ft, an inch for 54' 9", a quarter for 1/4.
func lastPlace(w unit.Written) unit.Length {
	text := w.Text
	if i := strings.LastIndexByte(text, '/'); i >= 0 && (w.Form == unit.FeetInches || w.Form == unit.Inches) {
		var d int
		if _, err := fmt.Sscanf(text[i+1:], "%d", &d); err == nil && d > 0 {
			return unit.Inch / unit.Length(d)
		}
	}
	base := map[unit.Form]unit.Length{unit.DecimalFeet: unit.Foot, unit.Metres: unit.Metre, unit.Centimetres: unit.Centimetre,
		unit.Millimetres: unit.Millimetre, unit.Inches: unit.Inch, unit.FeetInches: unit.Inch}[w.Form]
	if base == 0 {
		base = unit.Inch
	}
	if w.Form == unit.FeetInches && !strings.ContainsAny(text, "\"″”n") { // 60' alone states feet
		base = unit.Foot
	}
	if i := strings.LastIndexByte(text, '.'); i >= 0 {
		n := 0
		for i+1+n < len(text) && text[i+1+n] >= '0' && text[i+1+n] <= '9' {
			n++
		}
		base *= unit.Length(math.Pow(10, -float64(n)))
	}
	return base
}

// counts compares what can be counted.
func (w *work) counts(r *site.Record) {
	if r.Lines > 0 {
		w.number("number of drain lines", r.Lines, len(w.drains()), len(w.drains()) > 0)
	}
	if r.Outlets > 0 {
		n := 0
		for _, b := range w.job.Visit.Boxes {
			n += len(b.Outlets)
		}
		w.number("outlets of the box", r.Outlets, n, n > 0)
	}
	if r.Bedrooms > 0 {
		w.number("bedrooms", r.Bedrooms, w.job.Site.Household.Bedrooms, w.job.Site.Household.Bedrooms > 0)
	}
}

func (w *work) number(what string, claimed, found int, known bool) {
	c := Comparison{What: what, Claimed: fmt.Sprint(claimed)}
	switch {
	case !known:
		c.Answer, c.Words = CannotTell, fmt.Sprintf("%s: the record says %d; none was entered.", english.Capital(what), claimed)
	case claimed != found:
		c.Answer, c.Measured, c.Off = Differs, fmt.Sprint(found), fmt.Sprintf("%+d", found-claimed)
		c.Words = fmt.Sprintf("%s: %d found; the record says %d.", english.Capital(what), found, claimed)
	default:
		c.Answer, c.Measured, c.Off = Agrees, fmt.Sprint(found), "0"
		c.Words = fmt.Sprintf("%s: %d, as the record says.", english.Capital(what), found)
	}
	w.compare(c)
}

// dimension is one size of a trench that a record may claim.
type dimension struct {
	what    string
	claimed *unit.Written
	of      func(site.Line) (unit.Length, bool)
}

// trenches compares widths and depths, line by line.
func (w *work) trenches(r *site.Record) {
	written := func(p *unit.Written) (unit.Length, bool) {
		if p == nil {
			return 0, false
		}
		return p.Length, true
	}
	for _, d := range []dimension{
		{"width of the trench of ", r.TrenchWidth, func(l site.Line) (unit.Length, bool) { return l.TrenchWidth, l.TrenchWidth > 0 }},
		{"depth of the trench of ", r.TrenchDepth, func(l site.Line) (unit.Length, bool) { return written(l.TrenchDepth) }},
		{"stone under ", r.StoneBelow, func(l site.Line) (unit.Length, bool) { return written(l.StoneBelow) }},
	} {
		if d.claimed == nil {
			continue
		}
		for _, l := range w.drains() {
			if v, ok := d.of(l); ok {
				w.length(d.what+string(l.Name), *d.claimed, v, widthDeviation, 0)
			} else {
				w.unmeasured(d.what+string(l.Name), *d.claimed, "it was not measured")
			}
		}
	}
}

// spacing compares the distance between the middles of neighbouring lines.
func (w *work) spacing(r *site.Record) {
	if r.Spacing == nil {
		return
	}
	type run struct {
		name   site.Name
		middle planar.Vec
		along  planar.Vec
		sd     unit.Length
	}
	var runs []run
	for _, l := range w.drains() {
		if len(l.Path) < 2 {
			continue
		}
		a, okA := w.point(l.Path[len(l.Path)-2])
		b, okB := w.point(l.Path[len(l.Path)-1])
		if u, ok := b.At.Minus(a.At).Unit(); okA && okB && ok {
			runs = append(runs, run{l.Name, a.At.Plus(b.At).Times(0.5), u, max(a.Ellipse.Radius, b.Ellipse.Radius) / 2.4477})
		}
	}
	if len(runs) < 2 {
		w.unmeasured("spacing of the lines", *r.Spacing, "fewer than two lines are located")
		return
	}
	across := runs[0].along.Right()
	sort.SliceStable(runs, func(i, j int) bool { return runs[i].middle.Dot(across) < runs[j].middle.Dot(across) })
	for i := 1; i < len(runs); i++ {
		a, b := runs[i-1], runs[i]
		gap := unit.Length(math.Abs(float64(b.middle.Minus(a.middle).Cross(a.along))))
		w.length(fmt.Sprintf("spacing of %s and %s", a.name, b.name), *r.Spacing, gap, unit.Length(math.Hypot(float64(a.sd), float64(b.sd))), 0)
	}
}

// tankAndHouse compares the tank and the absorption area.
func (w *work) tankAndHouse(r *site.Record) {
	if r.Tank > 0 {
		found := w.tank()
		c := Comparison{What: "capacity of the tank", Claimed: w.say.FormatVolume(r.Tank), Answer: CannotTell}
		c.Words = fmt.Sprintf("Capacity of the tank: the record says %s; none was entered.", c.Claimed)
		if found > 0 {
			c.Measured = w.say.FormatVolume(found)
			c.Answer = answer(math.Abs(float64(found-r.Tank)) <= 0.02*float64(r.Tank))
			c.Words = fmt.Sprintf("Capacity of the tank: %s found; the record says %s.", c.Measured, c.Claimed)
		}
		w.compare(c)
	}
	if r.Area > 0 {
		w.area(r.Area)
	}
}

// area compares the record's absorption area with the plain bottom of the
// trenches, or with the faces that the pack counts where it counts sidewalls;
// no allowance for deeper stone is in either.
func (w *work) area(claimed unit.Area) {
	c := Comparison{What: "absorption area", Claimed: w.say.FormatArea(claimed), Answer: CannotTell}
	c.Words = fmt.Sprintf("Absorption area: the record says %s; not every trench is known.", c.Claimed)
	var found unit.Area
	for _, t := range w.out.Capacity.Trenches {
		found += t.Counted * unit.Area(t.Share)
	}
	if present := w.out.Capacity.Present; present > 0 && found > 0 && w.allKnown() {
		within := unit.Area(normal95) * w.out.Capacity.PresentSD * found / present
		c.Measured, c.Within = w.say.FormatArea(found), "±"+w.say.FormatArea(within)
		c.Answer = answer(math.Abs(float64(found-claimed)) <= float64(within)+0.5*float64(unit.SquareFoot))
		c.Words = fmt.Sprintf("Absorption area, without allowance for deeper stone: %s; the record says %s.", c.Measured, c.Claimed)
	}
	w.compare(c)
}

func (w *work) allKnown() bool {
	for _, t := range w.out.Capacity.Trenches {
		if !t.Known {
			return false
		}
	}
	return len(w.out.Capacity.Trenches) > 0
}

func answer(agrees bool) Agreement {
	if agrees {
		return Agrees
	}
	return Differs
}

// claimDeviation is how well an older record is taken to know a distance of its
// own; common practice, no source.
const claimDeviation = 0.5 * unit.Foot

// distance compares a distance that the record states with the plan.
func (w *work) distance(c site.Claim) {
	what := fmt.Sprintf("distance from %s to %s", c.From, c.To)
	a, okA := w.point(c.From)
	b, okB := w.point(c.To)
	if !okA || !okB {
		w.unmeasured(what, c.Read, "one of them is not located")
		return
	}
	step := b.At.Minus(a.At)
	sd := claimDeviation
	if c.SD != nil {
		sd = *c.SD
	}
	w.length(what, c.Read, step.Length(), unit.Length(math.Hypot(float64(a.Ellipse.Radius), float64(b.Ellipse.Radius))/2.4477), sd)
}

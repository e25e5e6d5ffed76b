package compare

import (
	"fmt"
	"math"

	"undersod/core/adjust"
	"undersod/core/english"
	"undersod/core/level"
	"undersod/core/site"
	"undersod/core/unit"
)

// lines compares the lengths and bends of the lines, in the order of the later
// job, then of what is gone.
func (w *work) lines() {
	was, is := lengths(w.before.Plan), lengths(w.after.Plan)
	earlier := map[site.Name]site.Line{}
	for _, l := range w.before.Job.Site.Lines {
		earlier[l.Name] = l
	}
	for _, l := range w.after.Job.Site.Lines {
		e, ok := earlier[w.earlier(l.Name)]
		delete(earlier, w.earlier(l.Name))
		if !ok {
			w.out.Lines = append(w.out.Lines, Line{Line: l.Name, Verdict: New, Words: fmt.Sprintf("%s is not in the earlier visit: new, or not looked for then.", l.Name)})
			continue
		}
		w.out.Lines = append(w.out.Lines, w.line(e, l, was[e.Name], is[l.Name]))
	}
	for _, l := range w.before.Job.Site.Lines {
		if _, left := earlier[l.Name]; left {
			w.out.Lines = append(w.out.Lines, Line{Line: l.Name, Verdict: Gone, Words: fmt.Sprintf("%s is not in the later visit: gone, or not looked for.", l.Name)})
		}
	}
}

func lengths(p *adjust.Plan) map[site.Name]adjust.LineLength {
	out := map[site.Name]adjust.LineLength{}
	for _, l := range p.Footages {
		out[l.Line] = l
	}
	return out
}

func (w *work) line(e, l site.Line, was, is adjust.LineLength) Line {
	out := Line{Line: l.Name, BendsWas: max(len(e.Path)-2, 0), BendIs: max(len(l.Path)-2, 0)}
	for _, n := range l.Path {
		if w.moved[w.earlier(n)] {
			out.Moved = append(out.Moved, n)
		}
	}
	out.Known = was.Known && is.Known
	switch {
	case !out.Known:
		out.Verdict, out.Words = NotLocated, fmt.Sprintf("%s: its length is not known at both visits.", l.Name)
	default:
		out.Before, out.After, out.Change = was.Length, is.Length, is.Length-was.Length
		ends := float64(2 * PartAgain) // both ends are found again, at both visits
		out.Within = both(unit.Length(math.Hypot(float64(was.SD), ends)), is.SD)
		out.Verdict = of(out.Change, out.Within, w.places95, Changed)
		out.Words = fmt.Sprintf("%s: %s before, %s now, %s", l.Name, w.say.Format(out.Before), w.say.Format(out.After), w.told(out.Verdict, out.Change, out.Within, w.say, "longer", "shorter"))
	}
	if out.BendsWas != out.BendIs {
		out.Words += fmt.Sprintf(" It has %s, %d before.", english.Count(out.BendIs, "bend"), out.BendsWas)
	}
	if len(out.Moved) > 0 {
		out.Words += fmt.Sprintf(" It moved at %s.", english.And(out.Moved))
	}
	return out
}

// told tells a change of a number.
func (w *work) told(v Verdict, change, within unit.Length, say unit.Style, more, less string) string {
	switch v {
	case Changed:
		word := more
		if change < 0 {
			word = less
		}
		return fmt.Sprintf("%s %s, %s.", say.Format(change.Abs()), word, say.FormatDeviation(within))
	case Unchanged:
		return fmt.Sprintf("unchanged within %s.", say.Format(change.Abs()+within))
	}
	return fmt.Sprintf("a difference of %s, %s: too close to call.", say.Format(change.Abs()), say.FormatDeviation(within))
}

// levels compares heights that both visits know, counted from one that both
// know: a mark or a level point where there is one.
func (w *work) levels() {
	was, is := w.before.Plan.Net, w.after.Plan.Net
	say := w.say.Small()
	from, words, ok := w.bench()
	if !ok {
		return
	}
	w.out.LevelFrom = words
	for _, h := range is.Heights() {
		e := level.Key{Point: w.earlier(h.Point), On: h.On}
		if e == from {
			continue
		}
		a, sa, known := was.Difference(e, from)
		b, sb, good := is.Difference(h.Key, level.Key{Point: w.later(from.Point), On: from.On})
		if !known || !good {
			continue
		}
		l := Level{Point: h.Point, On: h.On, Change: b - a, Within: both(sa, sb)}
		l.Verdict = of(l.Change, l.Within, LevelMatters, Moved)
		switch l.Verdict {
		case Moved:
			l.Words = fmt.Sprintf("%s, %s: %s", l.Point, l.On, w.told(Changed, l.Change, l.Within, say, "higher than before", "lower than before"))
		default:
			l.Words = fmt.Sprintf("%s, %s: %s", l.Point, l.On, w.told(l.Verdict, l.Change, l.Within, say, "", ""))
		}
		w.out.Levels = append(w.out.Levels, l)
	}
}

// depths compares how deep things lie below the ground above them. Whether the
// thing or the ground moved a depth cannot tell.
func (w *work) depths() {
	say := w.say.Small()
	for _, h := range w.after.Plan.Net.Heights() {
		if h.On != site.OnTop {
			continue
		}
		below := func(n *level.Net, p site.Name) (unit.Length, unit.Length, bool) {
			return n.Difference(level.Key{Point: p, On: site.OnGround}, level.Key{Point: p, On: site.OnTop})
		}
		a, sa, known := below(w.before.Plan.Net, w.earlier(h.Point))
		b, sb, good := below(w.after.Plan.Net, h.Point)
		if !known || !good {
			continue
		}
		d := Depth{Point: h.Point, Before: a, After: b, Change: b - a, Within: both(sa, sb)}
		d.Verdict = of(d.Change, d.Within, DepthMatters, Changed)
		d.Words = fmt.Sprintf("%s lies %s below the ground, %s before: %s", d.Point, say.Format(b), say.Format(a), w.told(d.Verdict, d.Change, d.Within, say, "deeper", "less deep"))
		w.out.Depths = append(w.out.Depths, d)
	}
}

// bench is the height that levels are counted from.
func (w *work) bench() (level.Key, string, bool) {
	stays := map[site.Name]bool{}
	for _, p := range w.before.Job.Site.Points {
		stays[p.Name] = p.IsMark()
	}
	for _, p := range w.before.Job.Site.LevelPoints {
		stays[p.Name] = true
	}
	for _, b := range w.before.Job.Visit.Boxes { // an opening of a box is a level point, and what is asked about
		for _, o := range b.Outlets {
			delete(stays, o.Rod)
		}
		if b.Inlet != nil {
			delete(stays, b.Inlet.Rod)
		}
	}
	there := map[level.Key]bool{}
	for _, h := range w.after.Plan.Net.Heights() {
		there[level.Key{Point: w.earlier(h.Point), On: h.On}] = true
	}
	var ground, any *level.Key
	for _, h := range w.before.Plan.Net.Heights() {
		k := h.Key
		switch {
		case !there[k]:
		case stays[k.Point] && k.On != site.OnGround && k.On != site.OnInvert:
			return k, fmt.Sprintf("counted from %s", k.Point), true
		case ground == nil && stays[k.Point] && k.On == site.OnGround:
			ground = &k
		case any == nil:
			any = &k
		}
	}
	if ground != nil {
		return *ground, fmt.Sprintf("counted from the ground at %s", ground.Point), true
	}
	if any == nil {
		return level.Key{}, "", false
	}
	return *any, fmt.Sprintf("counted from %s, %s, as no mark was levelled at both visits: what is told is how they changed against it", any.Point, any.On), true
}

// boxes compares the outlets of opened boxes and how the flow is shared.
func (w *work) boxes() {
	earlier := map[site.Name]site.Box{}
	for _, b := range w.before.Job.Visit.Boxes {
		earlier[b.Part] = b
	}
	for _, b := range w.after.Job.Visit.Boxes {
		e, ok := earlier[w.earlier(b.Part)]
		if !ok {
			continue
		}
		was := level.Measure(e, w.before.Plan.Net, w.say.Small())
		is := level.Measure(b, w.after.Plan.Net, w.say.Small())
		w.out.Boxes = append(w.out.Boxes, w.box(b.Part, was, is))
	}
}

func (w *work) box(part site.Name, was, is level.Box) Box {
	out, say := Box{Part: part}, w.say.Small()
	before, after := w.shares(w.before, w.earlier(part)), w.shares(w.after, part)
	heights := map[site.Name]level.Outlet{}
	known := 0
	for _, o := range was.Outlets {
		if heights[o.Line] = o; o.Known {
			known++
		}
	}
	now := 0
	for _, o := range is.Outlets {
		e, ok := heights[w.earlier(o.Line)]
		if o.Known {
			now++
		}
		if !ok {
			continue
		}
		one := Outlet{Line: o.Line, Known: e.Known && o.Known, Verdict: NotLocated}
		if one.Known {
			one.Before, one.After, one.Within = e.At, o.At, both(deviation(e.SD), deviation(o.SD))
			one.Verdict = of(o.At-e.At, one.Within, BoxMatters, Changed)
			one.Words = fmt.Sprintf("%s: %s over the lowest outlet, %s before, %s: %s", o.Line, say.Format(o.At), say.Format(e.At), say.FormatDeviation(one.Within), one.Verdict)
		}
		a, known := before[w.earlier(o.Line)]
		b, good := after[o.Line]
		if one.SharesKnown = known && good; one.SharesKnown {
			one.ShareBefore, one.ShareAfter = a, b
			one.Words += fmt.Sprintf("; it takes %.0f %% of the flow, %.0f %% before", 100*b, 100*a)
		}
		out.Outlets = append(out.Outlets, one)
	}
	if known > 1 && now > 1 {
		s := &out.Spread
		s.Known, s.Before, s.After, s.Change = true, was.Spread, is.Spread, is.Spread-was.Spread
		s.Within = both(deviation(was.SpreadSD), deviation(is.SpreadSD))
		s.Verdict = of(s.Change, s.Within, BoxMatters, Changed)
		out.Words = fmt.Sprintf("%s: its outlets lie within %s of one level, %s before: %s", part, say.Format(s.After), say.Format(s.Before),
			w.told(s.Verdict, s.Change, s.Within, say, "more", "less"))
	}
	return out
}

// deviation is one that is a number.
func deviation(sd unit.Length) unit.Length {
	if v := float64(sd); math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return sd
}

// shares is what each line takes of a box's flow, at the inflow that corrections
// are reckoned at.
func (w *work) shares(s Side, part site.Name) map[site.Name]float64 {
	out := map[site.Name]float64{}
	if s.Judgement == nil {
		return out
	}
	for _, b := range s.Judgement.Boxes {
		if b.Part != part {
			continue
		}
		if split, ok := b.Reference(); ok {
			for _, share := range split.Split.Shares {
				out[site.Name(share.Name)] = share.Share
			}
		}
	}
	return out
}

package comparefile

import (
	"math"

	"undersod/core/compare"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/checkfile"
)

// Make returns the document of a comparison.
func Make(before, after checkfile.Job, c *compare.Comparison) Document {
	return Document{
		Undersod: 1, Kind: "compare", Before: before, After: after, Summary: list(c.Summary), Remarks: list(c.Remarks),
		Overlay: overlay(c.Overlay), Places: each(c.Places, place), Outlines: each(c.Outlines, outline), Lines: each(c.Lines, line),
		Levels: Levels{c.LevelFrom, each(c.Levels, height)}, Depths: each(c.Depths, depth), Boxes: each(c.Boxes, box),
		Findings: each(c.Findings, finding), Runs: each(c.Runs, run), Since: each(c.Since, care),
		Facts:    each(c.Facts, func(f compare.Fact) Fact { return Fact(f) }),
		Readings: each(c.Readings, reading),
	}
}

func each[A, B any](in []A, f func(A) B) []B {
	out := make([]B, 0, len(in))
	for _, a := range in {
		out = append(out, f(a))
	}
	return out
}

func list(in []string) []string { return append([]string{}, in...) }

func texts[T ~string](in []T) []string { return each(in, func(t T) string { return string(t) }) }

// number is one that JSON can hold.
func number(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return v
}

func metres(l unit.Length) float64 { return number(l.Metres()) }

func degrees(a unit.Angle) float64 { return number(a.Degrees()) }

// some is a length where it is known.
func some(known bool, l unit.Length) *float64 {
	if !known {
		return nil
	}
	v := metres(l)
	return &v
}

func at(v planar.Vec) At { return At{metres(v.East), metres(v.North)} }

func someAt(known bool, v planar.Vec) *At {
	if !known {
		return nil
	}
	out := at(v)
	return &out
}

func overlay(o compare.Overlay) Overlay {
	return Overlay{Known: o.Known, Marks: texts(o.Marks), Turn: degrees(o.Turn), East: metres(o.Shift.East), North: metres(o.Shift.North),
		Misfit: number(o.Misfit), Freedom: o.Freedom, Words: o.Words,
		Aside: each(o.Aside, func(a compare.Aside) Aside {
			return Aside{string(a.Mark), texts(a.With), metres(a.By.East), metres(a.By.North), a.Words}
		})}
}

func place(p compare.Place) Place {
	both := p.Verdict == compare.Moved || p.Verdict == compare.Unchanged || p.Verdict == compare.TooClose
	out := Place{Name: string(p.Name), Earlier: string(p.Earlier), What: p.What, Mark: p.Mark, Verdict: string(p.Verdict), Same: p.Same, Words: p.Words,
		Was: someAt(both, p.Was), Is: someAt(both, p.Is), By: some(both, p.By), Within: some(both, p.Within)}
	if p.Verdict == compare.Moved {
		v := degrees(p.Toward)
		out.Toward = &v
	}
	return out
}

func outline(o compare.Outline) Outline {
	return Outline{string(o.Part), string(o.Verdict), at(o.Was), at(o.Is), metres(o.By), degrees(o.Toward), metres(o.Within),
		degrees(o.Turned), degrees(o.TurnedSD), o.Words}
}

func line(l compare.Line) Line {
	return Line{Line: string(l.Line), Verdict: string(l.Verdict), Before: some(l.Known, l.Before), After: some(l.Known, l.After),
		Change: some(l.Known, l.Change), Within: some(l.Known, l.Within), BendsBefore: l.BendsWas, BendsAfter: l.BendIs, Moved: texts(l.Moved), Words: l.Words}
}

func height(l compare.Level) Height {
	return Height{string(l.Point), string(l.On), string(l.Verdict), metres(l.Change), metres(l.Within), l.Words}
}

func depth(d compare.Depth) Number {
	return Number{string(d.Point), string(d.Verdict), metres(d.Before), metres(d.After), metres(d.Change), metres(d.Within), d.Words}
}

func box(b compare.Box) Box {
	out := Box{Part: string(b.Part), Outlets: each(b.Outlets, outlet)}
	if s := b.Spread; s.Known {
		out.Spread = &Number{"", string(s.Verdict), metres(s.Before), metres(s.After), metres(s.Change), metres(s.Within), b.Words}
	}
	return out
}

func outlet(o compare.Outlet) Outlet {
	out := Outlet{Line: string(o.Line), Verdict: string(o.Verdict), Before: some(o.Known, o.Before), After: some(o.Known, o.After),
		Within: some(o.Known, o.Within), Words: o.Words}
	if o.SharesKnown {
		a, b := number(o.ShareBefore), number(o.ShareAfter)
		out.ShareBefore, out.ShareAfter = &a, &b
	}
	return out
}

func finding(f compare.Finding) Finding {
	return Finding{Line: string(f.Line), Part: string(f.Part), What: string(f.What), Growth: string(f.Growth), Grade: f.Grade.String(),
		Station: some(f.Line != "", f.Station), Before: seen(f.Before), After: seen(f.After), Words: f.Words}
}

func seen(f *site.Finding) *Seen {
	if f == nil {
		return nil
	}
	written := func(w *unit.Written) string {
		if w == nil {
			return ""
		}
		return w.Text
	}
	out := &Seen{What: string(f.What), At: written(f.At), To: written(f.To), Depth: written(f.Depth), Note: f.Note}
	if f.Percent != nil {
		v := number(*f.Percent)
		out.Percent = &v
	}
	return out
}

func run(r compare.Run) Run {
	ranges := func(s []compare.Seen) []Range {
		return each(s, func(s compare.Seen) Range { return Range{metres(s.From), metres(s.To), string(s.Ended)} })
	}
	return Run{string(r.Line), ranges(r.Before), ranges(r.After), r.Words}
}

func care(c compare.Care) Care { return Care{c.Date, c.What, c.By, c.Note, c.Unsure, c.Words} }

func reading(p compare.Pair) Reading {
	return Reading{string(p.From), string(p.To), metres(p.Before), metres(p.After), metres(p.Change), metres(p.Within), p.Words}
}

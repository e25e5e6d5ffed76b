package clearfile

import (
	"undersod/core/absorb"
	"undersod/core/adjust"
	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/stake"
	"undersod/core/unit"
	"undersod/internal/checkfile"
	"undersod/internal/judgefile"
)

// MakeSetbacks returns the document of a table and of the count of its
// checklist.
func MakeSetbacks(job checkfile.Job, plan *adjust.Plan, t *setback.Table, checks []setback.Check) Setbacks {
	return Setbacks{
		Undersod: 1, Kind: "setbacks", Job: job, Coordinates: Coordinates, Frame: checkfile.MakeFrame(plan.Frame),
		Pack: t.Pack, Place: t.Place, Check: MakeCheck(plan), Rows: each(t.Rows, row), Proposed: each(t.Proposed, stands), Clashes: list(t.Clashes), Limits: each(t.Limits, limit),
		NoRule: list(t.NoRule), Missing: list(t.Missing), Checklist: Counted(checks), Decides: absorb.Decides,
	}
}

// MakeCheck tells what the check of the readings says of a plan.
func MakeCheck(plan *adjust.Plan) Check {
	v := plan.Verdict
	return Check{map[adjust.Fill]string{adjust.FillNo: "no", adjust.FillUnsure: "unsure", adjust.FillYes: "yes"}[v.Fill], v.Words, len(plan.Search.Accused), v.Unused}
}

func stands(s setback.Stands) Stands {
	return Stands{thing(s.Thing), s.Size, Outline(s.Outline), string(s.Verdict), s.Words}
}

func thing(t setback.Thing) Thing { return Thing{string(t.Name), t.Kind, t.Class} }

func row(r setback.Row) Row {
	out := Row{
		Part: thing(r.Part), Column: string(r.Column), From: thing(r.From), Required: metres(r.Required),
		Measured: some(r.Known, float64(r.Measured)), Margin: some(r.Known, float64(r.Margin)), Within: some(r.Known, float64(r.Within)),
		Verdict: string(r.Verdict), Words: r.Words, Source: judgefile.MakeSource(r.Source), Permit: r.Permit,
		Assumed: r.Assumed, Note: r.Note, Proposed: r.Proposed, Advice: r.Advice,
	}
	if r.Known {
		g := gap(r.Gap)
		out.Gap = &g
	}
	return out
}

func gap(g clearance.Gap) Gap {
	return Gap{metres(g.Distance), g.Overlap, Line(g.From.At, g.To.At)}
}

func limit(l setback.LimitRow) Limit {
	return Limit{
		What: l.What, On: string(l.On), Least: some(l.Least != 0, float64(l.Least)), Most: some(l.Most != 0, float64(l.Most)),
		Measured: some(l.Known, float64(l.Measured)), Within: some(l.Known && l.Within != 0, float64(l.Within)),
		Verdict: string(l.Verdict), Words: l.Words, Source: judgefile.MakeSource(l.Source),
	}
}

// Counted counts the answers of a checklist.
func Counted(checks []setback.Check) Count {
	var c Count
	for _, one := range checks {
		switch one.Answer {
		case setback.OnSheet:
			c.OnSheet++
		case setback.Missing:
			c.Missing++
		case setback.NotApplicable:
			c.NotApplicable++
		}
	}
	return c
}

// MakeChecklist returns the document of what the authority wants on the
// drawing; pack may be nil.
func MakeChecklist(job checkfile.Job, plan *adjust.Plan, pack *rules.Pack, checks []setback.Check) Checklist {
	out := Checklist{Undersod: 1, Check: MakeCheck(plan), Kind: "checklist", Job: job, Count: Counted(checks), Decides: absorb.Decides,
		Items: each(checks, func(c setback.Check) Item {
			return Item{string(c.What), c.Words, string(c.Answer), c.Why, judgefile.MakeSource(c.Source)}
		})}
	if pack != nil {
		out.Pack, out.Place = pack.Name, pack.Place
	}
	return out
}

// Answered is a fit with what its bedrooms ask for, nil where it adds none.
type Answered struct {
	*setback.Fit
	Capacity *setback.Capacity
}

// MakeFits returns the document of what was fitted, and of what could not be
// asked and why; pack may be nil. The corners of every best place get the tapes
// to peg them by.
func MakeFits(head checkfile.Job, job *site.Job, plan *adjust.Plan, pack *rules.Pack, fits []Answered, wrong []string) Fits {
	out := Fits{
		Undersod: 1, Kind: "fit", Job: head, Coordinates: Coordinates, Frame: checkfile.MakeFrame(plan.Frame), Decides: absorb.Decides, Check: MakeCheck(plan),
		Fits: each(fits, func(a Answered) Fit { return fit(job, plan, a) }), NotAsked: list(wrong),
	}
	if pack != nil {
		out.Pack, out.Place = pack.Name, pack.Place
	}
	return out
}

func fit(job *site.Job, plan *adjust.Plan, a Answered) Fit {
	q := a.Question
	pegs := func(corners []planar.Vec) []stake.Peg { return stake.Out(job, plan, corners) }
	out := Fit{
		Name: string(q.Name), Thing: string(q.Kind), Class: q.Class, Size: q.Size, Footprint: Outline(q.Footprint.Corners),
		Turning: Turning{q.Turning.Free, some(!q.Turning.Free, degrees(q.Turning.Fixed)), some(q.Turning.Free, degrees(stepOf(q.Turning)))},
		Verdict: string(a.Verdict), Words: list(a.Words), WishWords: q.NearWords,
		Allowed: Region{degrees(RegionTurn(a.Fit)), finite(float64(a.Region.Area)), metres(a.Region.Tolerance), Pieces(a.Region.Pieces)},
		ByTurn: each(a.ByTurn, func(t clearance.TurnArea) TurnArea {
			return TurnArea{degrees(t.Turn), finite(float64(t.Area))}
		}),
		Best: place(q.Footprint, a.Best, pegs), Limits: each(a.Limits, limiting),
		Bedrooms: q.Bedrooms, Capacity: capacity(a.Capacity), Missing: list(a.Missing), Caution: list(a.Caution),
		LeftOut: list(a.LeftOut), Outcome: string(a.Outcome()),
	}
	if q.FromLot != nil {
		out.FromLot = some(true, float64(*q.FromLot))
	}
	if q.Near != nil {
		wish := Point(*q.Near)
		out.Wish = &wish
	}
	if a.Sure != nil {
		sure := place(q.Footprint, *a.Sure, pegs)
		out.Sure = &sure
	}
	if q.Stated != nil {
		out.Stated = stated(a, pegs)
	}
	return out
}

// RegionTurn is the turn that the allowed region of a fit is told for: that of
// the stated place, else of the best one.
func RegionTurn(f *setback.Fit) unit.Angle {
	if f.Question.Stated != nil {
		return f.Question.Stated.Turn
	}
	return f.Best.Turn
}

// stepOf is the step of a free turn, where none is stated one degree.
func stepOf(t setback.Turning) unit.Angle {
	if t.Step == 0 {
		return unit.Degree
	}
	return t.Step
}

func stated(a Answered, pegs func([]planar.Vec) []stake.Peg) *Stated {
	q := a.Question
	out := &Stated{At: Point(q.Stated.At), Turn: degrees(q.Stated.Turn), Limits: each(a.Stated, limiting),
		Outline: Outline(q.Footprint.Placed(*q.Stated).Points)}
	if a.Cure != nil {
		cure := place(q.Footprint, *a.Cure, pegs)
		out.Cure = &cure
	}
	return out
}

func place(f clearance.Footprint, p clearance.Found, pegs func([]planar.Vec) []stake.Peg) Place {
	corners := f.Placed(p.Placement).Points
	return Place{
		At: Point(p.At), Turn: degrees(p.Turn), Outline: Outline(corners), Fits: p.Fits,
		Moved: metres(p.Moved), Searched: p.Searched,
		Stakes: each(pegs(corners), func(s stake.Peg) Stake {
			return Stake{Point(s.At), each(s.Ties, func(t stake.Tie) Tie { return Tie{string(t.From), metres(t.Distance)} })}
		}),
	}
}

func limiting(l setback.Limiting) Limiting {
	return Limiting{
		From: thing(l.Thing), Required: metres(l.Required), Measured: metres(l.Measured), Margin: metres(l.Margin),
		Within: metres(l.Within), Verdict: string(l.Verdict), Gap: gap(l.Gap), Words: l.Words,
		Source: judgefile.MakeSource(l.Source), Permit: l.Permit, Assumed: l.Assumed,
		Ruled: l.Ruled, Proposed: l.Proposed, Advice: l.Advice,
	}
}

func capacity(c *setback.Capacity) *Capacity {
	if c == nil {
		return nil
	}
	return &Capacity{
		Rooms: c.Rooms, Now: judgefile.MakeCapacity(c.Now), Then: judgefile.MakeCapacity(c.Then),
		ReserveArea: some(c.ReserveArea > 0, float64(c.ReserveArea)), ReserveNeeded: some(c.ReserveNeeded > 0, float64(c.ReserveNeeded)),
		Reserve: string(c.Reserve), Words: list(c.Words),
	}
}

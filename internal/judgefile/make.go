package judgefile

import (
	"math"

	"undersod/core/absorb"
	"undersod/core/judge"
	"undersod/core/level"
	"undersod/core/look"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
)

// Make returns the document of a judgement.
func Make(j *judge.Judgement) Document {
	d := Document{
		Pack: j.Pack, Runs: each(j.Runs, run), Parts: each(j.Parts, finding), Levels: levels(j.Levels),
		Boxes: each(j.Boxes, MakeBox), Storage: MakeStorage(j.Storage), Capacity: MakeCapacity(j.Capacity),
		Permit: each(j.Permit, comparison), Lives: each(j.Lives, life), Actions: each(j.Actions, action),
		Fine: list(j.Fine), Reminders: each(j.Reminders, reminder), Missing: list(j.Missing),
	}
	if j.Added != nil {
		d.Added = &Added{j.AddedRooms, j.AddedWords, MakeCapacity(*j.Added)}
	}
	if o := j.Old; o != nil {
		d.Old = &OldDrawing{finite(o.Scale), metres(o.Misfit), each(o.Points, oldPoint), o.Words}
	}
	return d
}

// each turns every item, and never gives null.
func each[T, U any](in []T, f func(T) U) []U {
	out := make([]U, 0, len(in))
	for _, x := range in {
		out = append(out, f(x))
	}
	return out
}

func list(in []string) []string { return each(in, func(s string) string { return s }) }

func names(in []site.Name) []string { return each(in, func(n site.Name) string { return string(n) }) }

// finite keeps JSON valid where a number has no end.
func finite(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return v
}

func metres(l unit.Length) float64 { return finite(float64(l)) }

// some is a number that is left out where it is not known.
func some(known bool, v float64) *float64 {
	if !known || math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

func place(v planar.Vec) Place { return Place{metres(v.East), metres(v.North)} }

func spot(s look.Spot) *Spot {
	out := &Spot{Station: metres(s.Station), StationSD: metres(s.StationSD), Beyond: metres(s.Beyond)}
	if s.Known {
		at := place(s.At)
		out.At, out.Radius = &at, some(true, float64(s.Radius))
	}
	return out
}

func run(r look.Run) Run {
	return Run{Line: string(r.Line), Against: r.Against, From: metres(r.Seen[0]), To: metres(r.Seen[1]),
		Ended: string(r.Ended), Words: r.Words, Findings: each(r.Findings, finding)}
}

func finding(f look.Finding) Finding {
	out := Finding{Part: string(f.Part), What: string(f.What), Grade: f.Grade.String(), Why: f.Why, Percent: f.Percent,
		Note: f.Note, Words: f.Words, Near: each(f.Near, near),
		Photos: each(f.Photos, func(p site.Photo) string { return p.File })}
	if f.At != nil {
		out.Written, out.From = f.At.Text, spot(f.From)
	}
	if f.To != nil {
		out.To, out.Stretch = spot(*f.To), some(true, float64(f.Stretch))
	}
	if f.Depth != nil {
		out.Depth = some(true, float64(f.Depth.Length))
	}
	return out
}

func near(n look.Near) Near {
	kind := string(n.Kind)
	if n.Building {
		kind = "building"
	}
	return Near{string(n.Feature), kind, metres(n.Distance), n.Over, n.Explains, n.Words}
}

func levels(l judge.Levels) Levels {
	return Levels{
		Words: l.Words, Carries: list(l.Carries),
		Heights: each(l.Heights, func(h level.Height) Height {
			return Height{string(h.Point), string(h.On), metres(h.At), metres(h.SD), h.Group}
		}),
		Readings: each(l.Readings, func(r level.Reading) Rod {
			return Rod{string(r.ID), metres(r.Residual), metres(r.SD), some(r.Redundancy > 0, r.Standard), finite(r.Redundancy), r.Flagged}
		}),
		Closures: each(l.Closures, func(c level.Closure) Closure {
			return Closure{names(c.Through), metres(c.Misclosed), metres(c.Allowed), c.Closes, c.Words}
		}),
		Falls: each(l.Falls, func(f level.Fall) Fall {
			return Fall{string(f.Line), string(f.From), string(f.To), metres(f.Drop), metres(f.DropSD), some(f.RunKnown, float64(f.Run)),
				some(f.RunKnown, f.Slope), some(f.RunKnown, f.SlopeSD), string(f.Way), f.Words}
		}),
	}
}

// MakeCapacity returns the document of a field and a tank against a rule pack.
func MakeCapacity(c absorb.Capacity) Capacity {
	out := Capacity{
		Daily: some(c.Flow.Known, float64(c.Flow.Daily)), DailyGPD: some(c.Flow.Known, float64(c.Flow.Daily/unit.GallonPerDay)),
		FlowWords: c.Flow.Words, FlowSource: MakeSource(c.Flow.Source),
		Present: finite(float64(c.Present)), PresentSD: finite(float64(c.PresentSD)),
		Required: some(c.Required.Known, float64(c.Required.Area)), Method: string(c.Required.Method), Reckoned: c.Required.Words,
		Source: MakeSource(c.Required.Source), Field: string(c.Field), FieldWords: c.FieldWords, Missing: list(c.Missing),
		Trenches: each(c.Trenches, func(t absorb.TrenchArea) Trench {
			return Trench{t.Name, t.Known, finite(float64(t.Bottom)), finite(float64(t.Side)), finite(t.Share), finite(float64(t.Counted)), finite(float64(t.CountedSD)), t.Words}
		}),
		Tank: Tank{some(c.Tank.Present > 0, float64(c.Tank.Present)), some(c.Tank.Required > 0, float64(c.Tank.Required)),
			string(c.Tank.Verdict), c.Tank.Words, MakeSource(c.Tank.Source)},
	}
	if c.Pumping.Known {
		out.Pumping = &Pumping{finite(c.Pumping.Years), c.Pumping.Words, MakeSource(c.Pumping.Source)}
	}
	return out
}

// MakeSource returns the document of where a number comes from.
func MakeSource(s rules.Source) Source {
	return Source{s.Title, s.Section, s.Year, string(s.Status), s.Note}
}

func comparison(c judge.Comparison) Comparison {
	return Comparison{c.What, c.Claimed, c.Measured, c.Off, c.Within, string(c.Answer), c.Words}
}

func oldPoint(p judge.OldPoint) OldPoint {
	return OldPoint{string(p.Name), place(p.At), p.Control, metres(p.Off), metres(p.Radius), string(p.Answer), p.Words}
}

func life(l judge.Life) Life {
	return Life{string(l.What), l.Kind, l.Installed, finite(l.Years), finite(l.Least), finite(l.Most), l.Words, MakeSource(l.Source)}
}

func action(a judge.Action) Action {
	urgency := map[judge.Urgency]string{judge.Now: "now", judge.Soon: "soon", judge.CanWait: "can wait"}[a.Urgency]
	return Action{urgency, a.What, a.Why, a.By.String(), names(a.About)}
}

func reminder(r judge.Reminder) Reminder { return Reminder{r.Key, r.On.String(), r.Words, r.Why} }

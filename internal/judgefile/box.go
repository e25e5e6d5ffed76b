package judgefile

import (
	"undersod/core/hydraulic"
	"undersod/core/judge"
	"undersod/core/storage"
	"undersod/core/unit"
)

// MakeBox returns the document of one opened box.
func MakeBox(b judge.Box) Box {
	out := Box{
		Part: string(b.Part), Spread: metres(b.Spread), Splits: each(b.Splits, MakeSplit),
		Openings: make([]Opening, 0, len(b.Openings)), Words: list(b.Words), Missing: list(b.Missing),
		Sensitivity: each(b.Sensitivity, func(s hydraulic.Sensitivity) Sensitivity {
			return Sensitivity{s.Name, metres(s.By), finite(s.Change)}
		}),
	}
	for _, words := range []string{b.FloodedWords, b.InletWords, b.SpreadWords} {
		if words != "" {
			out.Words = append(out.Words, words)
		}
	}
	if t := b.Tilt; t.Known {
		out.Tilt = &Tilt{t.By, finite(t.Slope), finite(t.SlopeSD), finite(t.Toward.Degrees()), t.Words}
	}
	for i, o := range b.Openings {
		known, sd := b.Outlets[i].Known, b.Outlets[i].SD
		out.Openings = append(out.Openings, Opening{o.Name, some(known, float64(o.Invert)), some(known, float64(sd)), metres(o.Bore), o.Closed, finite(o.Narrowed)})
	}
	out.Correction, out.Level = correction(b.Correction), correction(b.Level)
	return out
}

// correction returns the document of a setting, nil for none.
func correction(c *hydraulic.Correction) *Correction {
	if c == nil {
		return nil
	}
	return &Correction{
		Turns: each(c.Turns, func(t hydraulic.Turn) Turn { return Turn{t.Name, metres(t.By)} }),
		Worst: finite(c.Worst), After: finite(c.After), Tolerance: finite(c.Tolerance), Within: c.Within}
}

// MakeSplit returns the document of one split.
func MakeSplit(s judge.NamedSplit) Split {
	return Split{
		Name: s.Name, Words: s.Words, Inflow: finite(float64(s.Split.Inflow)), InflowGPM: gallonsPerMinute(s.Split.Inflow),
		Water: metres(s.Split.Water),
		Shares: each(s.Split.Shares, func(h hydraulic.Share) Share {
			return Share{h.Name, metres(h.Head), metres(h.Depth), finite(float64(h.Flow)), gallonsPerMinute(h.Flow), finite(h.Share), finite(h.Wanted), string(h.Regime)}
		}),
	}
}

func gallonsPerMinute(f unit.Flow) float64 { return finite(float64(f / unit.GallonPerMinute)) }

// MakeStorage returns the document of the field's storage, nil for none.
func MakeStorage(s *judge.Storage) *Storage {
	if s == nil {
		return nil
	}
	return &Storage{
		Step: float64(s.Now.Step), Days: s.Run.Days, Inflow: finite(float64(s.Now.Inflow)), Backed: finite(float64(s.Now.Backed)),
		Closure: finite(float64(s.Now.Closure)), Courses: each(s.Now.Courses, course),
		Without: each(s.Without, func(w judge.Without) Without {
			return Without{string(w.Line), finite(float64(w.Result.Backed)), each(w.Result.Courses, course)}
		}),
		Assumptions: list(s.Assumptions), Words: list(s.Words),
	}
}

func course(c storage.Course) Course {
	return Course{c.Name, finite(float64(c.Inflow)), finite(float64(c.Soaked)), finite(float64(c.End)), metres(c.Highest), some(c.Full, float64(c.FullAt))}
}

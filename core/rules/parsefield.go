package rules

import (
	"undersod/core/english"
	"undersod/core/unit"
)

const (
	examplePerc    = `{"up to": "15 min/in", "loading": "0.8 gal/day/sq ft"}`
	exampleArea    = `{"up to": "15 min/in", "per bedroom": "190 sq ft"}`
	exampleTexture = `{"texture": "sandy loam", "loading": "0.6 gal/day/sq ft"}`
	exampleField   = `{"method": "loading rate by percolation time", "counts": "bottom", "between": "the next slower step", "steps": [` + examplePerc + `], "source": ` + exampleSource + `}`
)

// fieldRule reads how a field is sized.
func (r *reader) fieldRule(n *node, key string) *FieldRule {
	f := &FieldRule{}
	ok := r.object(n, key, exampleField,
		field{"method", true, choice(r, &f.Method, AreaPerBedroom, RateFormula, LoadingByPerc, LoadingByTexture)},
		field{"counts", true, choice(r, &f.Counts, CountBottom, CountSides, CountBoth)},
		field{"side", false, quantity(r, &f.SideFeet, length, "1 ft")},
		field{"ends", false, r.flag(&f.Ends)},
		field{"steps", false, func(n *node, key string) {
			r.list(n, key, "["+examplePerc+"]", func(n *node, key string) { f.Steps = append(f.Steps, r.percStep(n, key)) })
		}},
		field{"between", false, choice(r, &f.Between, NextSlower, Interpolate)},
		field{"textures", false, func(n *node, key string) {
			r.list(n, key, "["+exampleTexture+"]", func(n *node, key string) { f.Textures = append(f.Textures, r.texture(n, key)) })
		}},
		field{"rate at 1 min/in", false, quantity(r, &f.Rate, unit.ParseLoading, "5 gal/day/sq ft")},
		field{"from", false, quantity(r, &f.From, unit.ParsePercolation, "1 min/in")},
		field{"unsuitable below", false, quantity(r, &f.TooFast, unit.ParsePercolation, "2 min/in")},
		field{"unsuitable above", false, quantity(r, &f.Unsuitable, unit.ParsePercolation, "60 min/in")},
		field{"least flow", false, quantity(r, &f.LeastFlow, unit.ParseFlow, "750 gal/day")},
		field{"most flow", false, quantity(r, &f.MostFlow, unit.ParseFlow, "7,500 gal/day")},
		field{"stone", false, func(n *node, key string) { f.Allowance = r.stone(n, key) }},
		field{"source", true, r.source(&f.Source)},
	)
	if ok { // else what is missing may follow from what could not be read
		r.whole(n, key, f)
	}
	return f
}

func (r *reader) percStep(n *node, key string) PercStep {
	var s PercStep
	r.object(n, key, examplePerc,
		field{"up to", true, quantity(r, &s.UpTo, unit.ParsePercolation, "15 min/in")},
		field{"texture", false, r.text(&s.Texture, "the soil texture that the row is for", `"fine sand"`)},
		field{"per bedroom", false, quantity(r, &s.PerBedroom, unit.ParseArea, "190 sq ft")},
		field{"loading", false, quantity(r, &s.Loading, unit.ParseLoading, "0.8 gal/day/sq ft")},
		field{"source", false, r.ownSource(&s.Source)},
	)
	return s
}

// notSuitable is written in place of a loading rate where no field may be.
const notSuitable = "not suitable"

func (r *reader) texture(n *node, key string) TextureStep {
	var s TextureStep
	r.object(n, key, exampleTexture,
		field{"texture", true, r.text(&s.Texture, `a soil texture, or any`, `"sandy loam"`)},
		field{"structure", false, r.text(&s.Structure, "a soil structure", `"massive"`)},
		field{"strength", false, r.text(&s.Strength, "the strength of the structure", `"moderate"`)},
		field{"loading", true, func(n *node, key string) {
			if n.kind != isText || n.text != notSuitable {
				quantity(r, &s.Loading, unit.ParseLoading, `0.6 gal/day/sq ft" or "`+notSuitable)(n, key)
			}
		}},
		field{"source", false, r.ownSource(&s.Source)},
	)
	return s
}

func (r *reader) stone(n *node, key string) *StoneAllowance {
	a := &StoneAllowance{}
	const example = `{"steps": [{"from": "12 in", "share": 0.8}], "source": ` + exampleSource + `}`
	ok := r.object(n, key, example,
		field{"formula", false, r.flag(&a.Formula)},
		field{"steps", false, func(n *node, key string) {
			r.list(n, key, `[{"from": "12 in", "share": 0.8}]`, func(n *node, key string) { r.stoneStep(n, key, a) })
		}},
		field{"source", true, r.source(&a.Source)},
	)
	if ok && a.Formula == (len(a.Steps) > 0) {
		r.wrong(n.at, key, "neither the formula nor steps are written, or both", "one of them", example)
	}
	return a
}

func (r *reader) stoneStep(n *node, key string, a *StoneAllowance) {
	var s StoneStep
	const example = `{"from": "12 in", "share": 0.8}`
	r.object(n, key, example,
		field{"from", true, quantity(r, &s.From, length, "12 in")},
		field{"share", true, r.number(&s.Share, 0.01, 1, "the share of the standard area that is needed, above 0 up to 1", "0.8")},
	)
	if last := len(a.Steps) - 1; last >= 0 && s.From <= a.Steps[last].From {
		r.wrong(n.at, key, "the depths do not rise", "steps by rising depth of stone", example)
	}
	a.Steps = append(a.Steps, s)
}

// whole checks that a field rule has what its method needs.
func (r *reader) whole(n *node, key string, f *FieldRule) {
	if f.Counts == CountBottom && (f.SideFeet > 0 || f.Ends) {
		r.wrong(n.at, key, "a sidewall is described and only the bottom counts", "counts to name the sidewall", `"counts": "bottom and sidewall"`)
	}
	if f.MostFlow > 0 && f.MostFlow < f.LeastFlow {
		r.wrong(n.at, key, "most flow is below least flow", "the larger flow as most flow", `"most flow": "7,500 gal/day"`)
	}
	switch f.Method {
	case RateFormula:
		if f.Rate == 0 {
			r.wrong(n.at, key, "the rate of the formula is missing", "rate at 1 min/in", `"rate at 1 min/in": "5 gal/day/sq ft"`)
		}
	case LoadingByTexture:
		if len(f.Textures) == 0 {
			r.wrong(n.at, key, "the textures are missing", "textures with a loading rate each", "["+exampleTexture+"]")
		}
	case AreaPerBedroom:
		r.rising(n, key, f, "per bedroom", exampleArea, func(s PercStep) bool { return s.PerBedroom > 0 })
	case LoadingByPerc:
		r.rising(n, key, f, "loading", examplePerc, func(s PercStep) bool { return s.Loading > 0 })
	}
}

// rising checks the rows by percolation time: there are some, each has the
// value that the method needs, and the times of one texture rise.
func (r *reader) rising(n *node, key string, f *FieldRule, value, example string, has func(PercStep) bool) {
	if len(f.Steps) == 0 {
		r.wrong(n.at, key, "the steps are missing", "steps with "+value+" each", "["+example+"]")
	}
	if f.Between == "" {
		r.wrong(n.at, key, "what holds between two steps is missing", "between: "+english.Or([]string{string(NextSlower), string(Interpolate)}), `"between": "the next slower step"`)
	}
	last := map[string]unit.Percolation{}
	for _, s := range f.Steps {
		if !has(s) {
			r.wrong(n.at, key, "a step has no "+value, value+" in every step", example)
		}
		if s.UpTo <= last[english.Plain(s.Texture)] {
			r.wrong(n.at, key, "the percolation times do not rise", "steps by rising time", "["+example+"]")
		}
		last[english.Plain(s.Texture)] = s.UpTo
	}
}

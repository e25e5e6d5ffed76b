package absorb

import (
	"fmt"
	"strings"

	"undersod/core/english"
	"undersod/core/rules"
	"undersod/core/unit"
)

// require reckons the area that the permit or the pack wants.
func require(q Question, rule *rules.FieldRule, flow Flow, ask *asked) Required {
	switch {
	case q.Loading > 0:
		r := Required{Method: PermitLoading, Loading: q.Loading, Source: permit}
		return byLoading(r, q, flow, "the permit's "+q.Say.FormatLoading(q.Loading), ask)
	case rule == nil:
		ask.add(askLoading)
		return Required{Words: "No rule for the field in this pack"}
	}
	r := Required{Method: rule.Method, Source: rule.Source}
	switch rule.Method {
	case rules.AreaPerBedroom:
		return byRooms(r, q, rule, ask)
	case rules.RateFormula:
		r = byFormula(r, q, rule, flow, ask)
	case rules.LoadingByPerc:
		r = byPercolation(r, q, rule, flow, ask)
	case rules.LoadingByTexture:
		r = byTexture(r, q, rule, flow, ask)
	default:
		r.Words = "The pack names no method that is known"
	}
	return covered(r, q, rule, flow)
}

// byLoading divides the daily flow by a loading rate: area = flow / rate.
func byLoading(r Required, q Question, flow Flow, at string, ask *asked) Required {
	if flow.ask != "" {
		ask.add(flow.ask)
	}
	if !flow.Known {
		r.Words = flow.Words
		return r
	}
	r.Area = unit.Area(float64(flow.Daily) / float64(r.Loading))
	r.Known = true
	r.Words = q.Say.FormatFlow(flow.Daily) + " at " + at
	return r
}

// byRooms multiplies the bedrooms with the area for each: no flow enters.
func byRooms(r Required, q Question, rule *rules.FieldRule, ask *asked) Required {
	if q.Bedrooms == 0 {
		ask.add(askBedrooms)
		r.Words = "The number of bedrooms is not known"
	}
	step, ok := soilStep(&r, q, rule, ask)
	if !ok || q.Bedrooms == 0 {
		return r
	}
	r.Area = unit.Area(q.Bedrooms) * step.PerBedroom
	r.Known = true
	r.Words = fmt.Sprintf("%s at %s each for %s", english.Count(q.Bedrooms, "bedroom"), q.Say.FormatArea(step.PerBedroom), q.Say.FormatPercolation(q.Percolation))
	return r
}

func byPercolation(r Required, q Question, rule *rules.FieldRule, flow Flow, ask *asked) Required {
	step, ok := soilStep(&r, q, rule, ask)
	if !ok {
		return r
	}
	r.Loading = step.Loading
	return byLoading(r, q, flow, q.Say.FormatLoading(step.Loading)+" for "+q.Say.FormatPercolation(q.Percolation), ask)
}

// byFormula uses A = Q sqrt(t) / 5, A in sq ft, Q in gal a day, t in min/in:
// the rate at 1 min/in divided by the square root of the time.
func byFormula(r Required, q Question, rule *rules.FieldRule, flow Flow, ask *asked) Required {
	if !testable(&r, q, rule, ask) {
		return r
	}
	rate, ok := rule.RateAt(q.Percolation)
	if !ok {
		r.Words = "The pack has no rate for the formula"
		return r
	}
	r.Loading = rate
	at := fmt.Sprintf("%s, %s divided by the square root of %s", q.Say.FormatLoading(rate), unit.Style{}.FormatLoading(rule.Rate), unit.Style{}.FormatPercolation(q.Percolation))
	return byLoading(r, q, flow, at, ask)
}

func byTexture(r Required, q Question, rule *rules.FieldRule, flow Flow, ask *asked) Required {
	if strings.TrimSpace(q.Texture) == "" {
		ask.add(askTexture)
		r.Words = "The texture of the soil is not known"
		return r
	}
	row, asks, ok := rule.Texture(q.Texture, q.Structure, q.Strength)
	if asks {
		ask.add(askStructure)
	}
	if !ok {
		r.Words = fmt.Sprintf("The pack has no rate for the soil “%s”; it knows %s", strings.TrimSpace(q.Texture), strings.Join(rule.TextureNames(), ", "))
		return r
	}
	if row.Source != nil {
		r.Source = *row.Source
	}
	soil := described(q)
	if row.Loading == 0 {
		r.Words = "By this rule " + soil + " is not suitable for a field: no area would do"
		return r
	}
	r.Loading = row.Loading
	at := q.Say.FormatLoading(row.Loading) + " for " + soil
	if asks {
		at += ", whose structure was not described"
	}
	return byLoading(r, q, flow, at, ask)
}

// described puts the words of a soil together: "silt loam, moderate blocky".
func described(q Question) string {
	structure := strings.TrimSpace(strings.TrimSpace(q.Strength) + " " + strings.TrimSpace(q.Structure))
	if structure == "" {
		return strings.TrimSpace(q.Texture)
	}
	return strings.TrimSpace(q.Texture) + ", " + structure
}

// testable tells whether the percolation time is known and within what the rule
// calls suitable, and else says so.
func testable(r *Required, q Question, rule *rules.FieldRule, ask *asked) bool {
	const rounding = 1e-9
	shown := q.Say.FormatPercolation(q.Percolation)
	switch {
	case q.Percolation == 0:
		ask.add(askPercolation)
		r.Words = "The percolation time is not known"
	case rule.Unsuitable > 0 && q.Percolation > rule.Unsuitable*(1+rounding):
		r.Words = "By this rule no trench is suitable above " + q.Say.FormatPercolation(rule.Unsuitable) + ", and the soil takes " + shown + ": no area would do"
	case rule.TooFast > 0 && q.Percolation < rule.TooFast*(1-rounding):
		r.Words = "By this rule no trench is suitable below " + q.Say.FormatPercolation(rule.TooFast) + ", and the soil takes " + shown + ": no area would do"
	default:
		return true
	}
	return false
}

// soilStep returns the row of the percolation time, and else says why there is
// none.
func soilStep(r *Required, q Question, rule *rules.FieldRule, ask *asked) (rules.PercStep, bool) {
	if !testable(r, q, rule, ask) {
		return rules.PercStep{}, false
	}
	step, ok := rule.Step(q.Percolation, q.Texture)
	switch {
	case !ok && rule.From > 0 && q.Percolation < rule.From:
		r.Words = "The pack has no row for " + q.Say.FormatPercolation(q.Percolation) + "; it starts at " + q.Say.FormatPercolation(rule.From)
	case !ok:
		r.Words = "The pack has no row for " + q.Say.FormatPercolation(q.Percolation) + ": its last one is for faster soil"
	case step.Source != nil:
		r.Source = *step.Source
	}
	return step, ok
}

// covered marks a requirement outside the flows that the rule is made for.
func covered(r Required, q Question, rule *rules.FieldRule, flow Flow) Required {
	const rounding = 1e-9
	switch {
	case !r.Known:
	case rule.LeastFlow > 0 && flow.Daily < rule.LeastFlow*(1-rounding):
		r.Guide = true
		r.Words += "; a guide only, as the rule holds from " + q.Say.FormatFlow(rule.LeastFlow) + " on"
	case rule.MostFlow > 0 && flow.Daily > rule.MostFlow*(1+rounding):
		r.Guide = true
		r.Words += "; a guide only, as the rule holds up to " + q.Say.FormatFlow(rule.MostFlow)
	}
	return r
}

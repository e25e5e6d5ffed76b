package absorb

import (
	"fmt"

	"undersod/core/english"
	"undersod/core/rules"
	"undersod/core/unit"
)

// permit is the source of what the permit states.
var permit = rules.Source{Title: "the permit", Status: rules.TheUser}

// designFlow returns the flow of a day that the field is judged by: the
// permit's, where it holds for so many bedrooms; else the pack's by bedrooms;
// else the pack's by persons; else the measured one. A measured flow never
// takes the place of another silently.
func designFlow(q Question, rule *rules.FlowRule) Flow {
	f := Flow{Measured: q.Measured, ask: askForFlow(q, rule)}
	byRooms, known := rule.Daily(q.Bedrooms)
	switch {
	case q.Permitted > 0 && (q.PermittedBedrooms == 0 || q.Bedrooms <= q.PermittedBedrooms):
		f.set(q.Permitted, ByPermit, "The permit states "+q.Say.FormatFlow(q.Permitted), permit)
	case known:
		f.set(byRooms, ByBedrooms, english.Count(q.Bedrooms, "bedroom")+": "+q.Say.FormatFlow(byRooms), rule.Source)
	case rule != nil && rule.PerPerson > 0 && q.Bedrooms == 0 && q.Persons > 0:
		flow := max(unit.Flow(q.Persons)*rule.PerPerson, rule.Least)
		f.set(flow, ByPersons, english.Count(q.Persons, "person")+": "+q.Say.FormatFlow(flow), rule.Source)
	case q.Measured > 0:
		f.set(q.Measured, ByMeter, "The measured flow of "+q.Say.FormatFlow(q.Measured)+" is used, as no design flow is known",
			rules.Source{Title: "measured at the house", Status: rules.TheUser})
		return f
	default:
		f.Words = whyNoFlow(q, rule)
		return f
	}
	f.ask = ""
	if q.Measured > 0 {
		f.Words += fmt.Sprintf("; measured %s, %s; the design flow is used", q.Say.FormatFlow(q.Measured), against(q.Measured, f.Daily))
	}
	return f
}

func (f *Flow) set(flow unit.Flow, basis Basis, words string, source rules.Source) {
	f.Daily, f.Basis, f.Words, f.Source, f.Known = flow, basis, words, source, true
}

// against says how a measured flow lies to the design flow.
func against(measured, design unit.Flow) string {
	switch {
	case measured > design*1.005:
		return fmt.Sprintf("which is %.0f %% of it, more than it was designed for", 100*float64(measured/design))
	case measured < design*0.995:
		return fmt.Sprintf("which is %.0f %% of it", 100*float64(measured/design))
	}
	return "which is the same"
}

func whyNoFlow(q Question, rule *rules.FlowRule) string {
	switch {
	case rule == nil:
		return "No rule for the daily flow in this pack"
	case q.Bedrooms > 0:
		return "No daily flow for " + english.Count(q.Bedrooms, "bedroom") + " in this pack"
	}
	return "The number of bedrooms is not known"
}

// askForFlow says what to enter where a design flow is needed and not known.
func askForFlow(q Question, rule *rules.FlowRule) string {
	if rule != nil && q.Bedrooms == 0 {
		return askBedrooms
	}
	if q.Measured > 0 {
		return askDesign
	}
	return askFlow
}

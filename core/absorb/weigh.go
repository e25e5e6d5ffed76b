package absorb

import (
	"fmt"
	"strings"

	"undersod/core/english"
	"undersod/core/rules"
	"undersod/core/unit"
)

// weigh compares what is there with what is required, and says by what.
func weigh(q Question, c Capacity, f field) (Verdict, string) {
	verdict, words := compare(q, c, f)
	if !c.Required.Known {
		return verdict, sentences(words, sourceWords(c.Required), Decides)
	}
	return verdict, sentences(words,
		"Method: "+string(c.Required.Method)+"; "+c.Required.Words,
		sourceWords(c.Required), flowWords(c), allowanceWords(f, q.Say), Decides)
}

func compare(q Question, c Capacity, f field) (Verdict, string) {
	r := c.Required
	margin := unit.Area(normal95) * f.sd
	has := has(q.Say, f)
	switch {
	case !r.Known:
		return CannotTell, "Cannot tell: " + lower(r.Words)
	case len(q.Trenches) == 0:
		return CannotTell, "Cannot tell: " + q.Say.FormatArea(r.Area) + " is required and no trench was entered"
	case f.inUse == 0:
		return Short, "Short: " + q.Say.FormatArea(r.Area) + " is required and every trench is out of use"
	case r.Guide:
		return CannotTell, fmt.Sprintf("Cannot tell: %s; %s would be required, and the rule does not cover this flow", has, q.Say.FormatArea(r.Area))
	case len(f.unknown) > 0 && f.present-margin < r.Area:
		return CannotTell, fmt.Sprintf("Cannot tell: %s is required and the area of %s is not known; %s without it", q.Say.FormatArea(r.Area), english.And(f.unknown), has)
	}
	return decide(q.Say, f, r.Area, margin, has)
}

// decide tells the verdict of two areas that are known.
func decide(say unit.Style, f field, required, margin unit.Area, has string) (Verdict, string) {
	over := f.present - required
	slack := required * 1e-9
	need := has + " and " + say.FormatArea(required) + " is required"
	switch {
	case over >= margin-slack:
		words := "Enough: " + need + ", " + say.FormatArea(max(over, 0)) + " to spare"
		if len(f.unknown) > 0 {
			words += ", without " + english.And(f.unknown) + ", whose area is not known"
		}
		return Enough, words
	case over <= -margin:
		return Short, fmt.Sprintf("Short by %s: %s, which is %.0f %%", say.FormatArea(-over), need, 100*float64(f.present/required))
	case over < 0:
		return TooCloseToCall, "Too close to call: " + need + "; it is " + say.FormatArea(-over) + " short, within the measurement's own uncertainty"
	}
	return TooCloseToCall, "Too close to call: " + need + "; it has " + say.FormatArea(over) + " to spare, within the measurement's own uncertainty"
}

// has says what area is there, and how surely.
func has(say unit.Style, f field) string {
	text := say.FormatArea(f.present)
	if f.sd > 0 {
		text += " (±" + say.FormatArea(unit.Area(normal95)*f.sd) + ", 95 %)"
	}
	if f.faces.sides {
		return text + " of " + f.faces.words() + " counts"
	}
	return text + " of trench bottom counts"
}

func sourceWords(r Required) string {
	if r.Source.Title == "" {
		return ""
	}
	words := "Source: " + r.Source.Words()
	if r.Source.Note != "" {
		words += "; " + r.Source.Note
	}
	return words
}

// flowWords names the flow where the method rests on one. Where it does not, a
// measured flow stands beside.
func flowWords(c Capacity) string {
	switch {
	case c.Required.Method != rules.AreaPerBedroom && (c.Flow.Basis == ByMeter || c.Flow.Basis == ByPermit):
		return c.Flow.Words
	case c.Required.Method != rules.AreaPerBedroom:
		return "Flow: " + c.Flow.Words + "; source: " + c.Flow.Source.Words()
	case c.Flow.Measured > 0:
		return "The area goes by bedrooms, not by flow: the measured flow changes nothing in it"
	}
	return ""
}

func allowanceWords(f field, say unit.Style) string {
	if !f.allowed || f.faces.allowance == nil {
		return ""
	}
	words := "Deeper stone counts for more by "
	if f.faces.allowance.Formula {
		words += "a formula that is good for " + say.Format(6*unit.Inch) + " to " + say.Format(42*unit.Inch) + " of stone, "
	}
	return words + f.faces.allowance.Source.Words()
}

// sentences joins what is not empty to sentences.
func sentences(parts ...string) string {
	var out []string
	for _, p := range parts {
		if p = strings.TrimSuffix(strings.TrimSpace(p), "."); p != "" {
			out = append(out, p+".")
		}
	}
	return strings.Join(out, " ")
}

// lower writes the first letter small, for the middle of a sentence.
func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

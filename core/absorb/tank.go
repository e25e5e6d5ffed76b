package absorb

import (
	"undersod/core/english"
	"undersod/core/rules"
	"undersod/core/unit"
)

// nominal is how far the capacities of two tanks may differ and be the same:
// they are named in round numbers, and a tank of 1,000 gal is one of 3,785 L.
const nominal = unit.Gallon

// judgeTank weighs the tank against the rule for so many bedrooms.
func judgeTank(q Question, rule *rules.TankRule, ask *asked) Tank {
	t := Tank{Present: q.Tank, Verdict: CannotTell}
	if q.Tank == 0 {
		ask.add(askTank)
	}
	if rule == nil {
		t.Words = sentences("Cannot tell: no rule for the tank in this pack", Decides)
		return t
	}
	t.Source = rule.Source
	need, known := rule.Capacity(q.Bedrooms)
	if known {
		t.Required = need
	}
	if q.Bedrooms == 0 && len(rule.Steps) > 0 {
		ask.add(askBedrooms)
	}
	var words string
	t.Verdict, words = tankVerdict(q, rule, need, known)
	t.Words = sentences(words, "Source: "+rule.Source.Words(), Decides)
	return t
}

func tankVerdict(q Question, rule *rules.TankRule, need unit.Volume, known bool) (Verdict, string) {
	has, rooms := q.Say.FormatVolume(q.Tank), english.Count(q.Bedrooms, "bedroom")
	least := q.Say.FormatVolume(rule.Least)
	switch {
	case q.Tank > 0 && rule.Least > 0 && q.Tank < rule.Least-nominal:
		return Short, "Short: the tank holds " + has + " and no tank may hold less than " + least
	case q.Bedrooms == 0 && len(rule.Steps) > 0:
		return CannotTell, "Cannot tell: the number of bedrooms is not known"
	case !known && rule.Least > 0 && q.Tank > 0:
		return CannotTell, "Cannot tell: the tank holds " + has + ", not less than the " + least + " of any tank, and the size for the house is not in this pack"
	case !known:
		return CannotTell, "Cannot tell: no tank size for " + rooms + " in this pack"
	case q.Tank == 0:
		return CannotTell, "Cannot tell: " + q.Say.FormatVolume(need) + " is required for " + rooms + " and the tank's capacity is not known"
	case q.Tank < need-nominal:
		return Short, "Short by " + q.Say.FormatVolume(need-q.Tank) + ": the tank holds " + has + " and " + q.Say.FormatVolume(need) + " is required for " + rooms
	}
	return Enough, "Enough: the tank holds " + has + " and " + q.Say.FormatVolume(need) + " is required for " + rooms
}

package absorb

import (
	"math"

	"undersod/core/rules"
	"undersod/core/unit"
)

// normal95 is how many standard deviations hold 95 % of a normal distribution.
const normal95 = 1.959964

// Judge weighs the field and the tank as built against what a pack asks for
// the household. The permit's own loading rate and daily flow win over the
// pack's. An area by bedrooms and a rate by flow are never derived from one
// another. A nil pack has no rules. What is below zero or no number counts as
// not known.
func Judge(q Question, pack *rules.Pack) Capacity {
	if pack == nil {
		pack = &rules.Pack{}
	}
	q = sane(q)
	ask := &asked{}
	c := Capacity{Pack: pack.Name}
	c.Flow = designFlow(q, pack.Flow)
	c.Required = require(q, pack.Field, c.Flow, ask)
	f := measure(q, pack.Field, ask)
	c.Trenches, c.Present, c.PresentSD = f.trenches, f.present, f.sd
	c.Field, c.FieldWords = weigh(q, c, f)
	c.Tank = judgeTank(q, pack.Tank, ask)
	c.Pumping = judgePumping(q, ask)
	c.Missing = ask.words
	return c
}

// asked collects what to enter, each once.
type asked struct{ words []string }

func (a *asked) add(words string) {
	for _, w := range a.words {
		if w == words {
			return
		}
	}
	a.words = append(a.words, words)
}

const (
	askBedrooms    = "how many bedrooms the house has: write household: {bedrooms: 3}"
	askPersons     = "how many persons live there: write household: {persons: 4}"
	askFlow        = "the daily flow, which this pack does not give: write record: {daily flow: 450 gpd} as permitted, or household: {daily flow: 300 gpd} as metered"
	askDesign      = "the design flow, as only a measured one is known: write record: {daily flow: 450 gpd}"
	askPercolation = "the percolation time of the soil: write soil: {percolation: 18 min/in}"
	askTexture     = "the texture of the soil: write soil: {texture: sandy loam}"
	askStructure   = "the structure of the soil and its strength, which change the rate by this rule: write soil: {structure: blocky, strength: moderate}"
	askLoading     = "the permit's own loading rate, as this pack has no rule for the field: write soil: {loading: 0.6 gpd/ft2}"
	askTank        = "the capacity of the tank: add capacity: \"1,000 gal\" to the tank under parts"
	askTrenches    = "the trenches: write lines: {Line 1: {kind: drain line, trench width: 3 ft}}"
)

func askLine(name, what, key, example string) string {
	return what + " of " + name + ": add " + key + ": " + example + " to " + name + " under lines"
}

// sane drops what cannot be.
func sane(q Question) Question {
	q.Bedrooms, q.Persons = max(q.Bedrooms, 0), max(q.Persons, 0)
	q.PermittedBedrooms = max(q.PermittedBedrooms, 0)
	q.Measured, q.Permitted = positive(q.Measured), positive(q.Permitted)
	q.Percolation, q.Loading, q.Tank = positive(q.Percolation), positive(q.Loading), positive(q.Tank)
	trenches := make([]Trench, len(q.Trenches))
	for i, t := range q.Trenches {
		t.Length, t.LengthSD = positive(t.Length), positive(t.LengthSD)
		t.Width, t.WidthSD, t.StoneBelow = positive(t.Width), positive(t.WidthSD), positive(t.StoneBelow)
		trenches[i] = t
	}
	q.Trenches = trenches
	return q
}

// positive returns 0 for what is no number above zero, or beyond any on earth.
func positive[T ~float64](v T) T {
	if !(v > 0 && v < 1e12) {
		return 0
	}
	return v
}

// hypot adds two areas in quadrature.
func hypot(a, b unit.Area) unit.Area { return unit.Area(math.Hypot(float64(a), float64(b))) }

package rules

import (
	"math"
	"strings"

	"undersod/core/english"
	"undersod/core/unit"
)

// rounding is the part by which two writings of one number may differ.
const rounding = 1e-9

// Words names a source in one line: title, section, year and how far it can be
// trusted.
func (s Source) Words() string {
	out := s.Title
	for _, part := range []string{s.Section, s.Year} {
		if part != "" {
			out += ", " + part
		}
	}
	status := ""
	switch s.Status {
	case Read:
		status = "read in a copy"
	case FromMemory:
		status = "from memory, not read in its source, so not law"
	case CommonPractice:
		status = "common practice, no source"
	case TheUser:
		status = "as entered"
	}
	if status == "" || strings.Contains(out, status) {
		return out
	}
	return out + " (" + status + ")"
}

// Daily returns the design flow of a dwelling with so many bedrooms, and false
// where the rule has no number for it.
func (f *FlowRule) Daily(bedrooms int) (unit.Flow, bool) {
	if f == nil || bedrooms < 1 {
		return 0, false
	}
	largest := 0
	for n := range f.ByBedrooms {
		largest = max(largest, n)
	}
	flow, ok := f.ByBedrooms[bedrooms]
	switch {
	case ok:
	case largest > 0 && bedrooms > largest && f.EachMore > 0:
		flow = f.ByBedrooms[largest] + unit.Flow(bedrooms-largest)*f.EachMore
	case f.PerBedroom > 0:
		flow = unit.Flow(bedrooms) * f.PerBedroom
	default:
		return 0, false
	}
	return max(flow, f.Least), true
}

// Capacity returns the least capacity of a tank for so many bedrooms, and false
// where the rule has no number for them.
func (t *TankRule) Capacity(bedrooms int) (unit.Volume, bool) {
	if t == nil || bedrooms < 1 || len(t.Steps) == 0 {
		return 0, false
	}
	for _, s := range t.Steps {
		if bedrooms <= s.UpToBedrooms {
			return max(s.Capacity, t.Least), true
		}
	}
	last := t.Steps[len(t.Steps)-1]
	if t.EachMore == 0 {
		return 0, false
	}
	return max(last.Capacity+unit.Volume(bedrooms-last.UpToBedrooms)*t.EachMore, t.Least), true
}

// Step returns the row for a percolation time, its values between two rows as
// the rule says, and false where the rule has no row: for faster soil than its
// first, for slower soil than its last. Rows of another texture are passed over.
func (f *FieldRule) Step(t unit.Percolation, texture string) (PercStep, bool) {
	if f == nil || !(t > 0) || f.From > 0 && t < f.From*(1-rounding) {
		return PercStep{}, false
	}
	steps := f.stepsFor(t, texture)
	for i, s := range steps {
		if t > s.UpTo*(1+rounding) {
			continue
		}
		if f.Between == Interpolate && i > 0 {
			return between(steps[i-1], s, t), true
		}
		return s, true
	}
	return PercStep{}, false
}

// stepsFor returns the rows that hold for a texture: its own where they reach
// the time, else those for any texture.
func (f *FieldRule) stepsFor(t unit.Percolation, texture string) []PercStep {
	var own, any []PercStep
	for _, s := range f.Steps {
		switch {
		case s.Texture == "":
			any = append(any, s)
		case english.Plain(s.Texture) == english.Plain(texture):
			own = append(own, s)
		}
	}
	if len(own) > 0 && t <= own[len(own)-1].UpTo*(1+rounding) {
		return own
	}
	return any
}

// between returns a row in proportion between two rows.
func between(a, b PercStep, t unit.Percolation) PercStep {
	share := float64((t - a.UpTo) / (b.UpTo - a.UpTo))
	share = math.Min(math.Max(share, 0), 1)
	out := b
	out.UpTo = t
	out.PerBedroom = a.PerBedroom + unit.Area(share)*(b.PerBedroom-a.PerBedroom)
	out.Loading = a.Loading + unit.Loading(share)*(b.Loading-a.Loading)
	if out.Source == nil {
		out.Source = a.Source
	}
	return out
}

// RateAt returns the application rate of the rate formula, rate at 1 min/in
// divided by the square root of the percolation time in min/in, and false where
// the rule has none.
func (f *FieldRule) RateAt(t unit.Percolation) (unit.Loading, bool) {
	if f == nil || f.Rate == 0 || !(t > 0) {
		return 0, false
	}
	return f.Rate / unit.Loading(math.Sqrt(float64(t/unit.MinutePerInch))), true
}

// Texture returns the first row that fits a described soil, and false when none
// does. A row that asks for a structure or a strength which was not described
// does not fit; asks tells that such a row was passed over.
func (f *FieldRule) Texture(texture, structure, strength string) (row TextureStep, asks, ok bool) {
	if f == nil || strings.TrimSpace(texture) == "" {
		return TextureStep{}, false, false
	}
	for _, s := range f.Textures {
		if english.Plain(s.Texture) != "any" && english.Plain(s.Texture) != english.Plain(strings.TrimSpace(texture)) {
			continue
		}
		byStructure, askedStructure := fits(s.Structure, structure)
		byStrength, askedStrength := fits(s.Strength, strength)
		if byStructure && byStrength {
			return s, asks, true
		}
		if (byStructure || askedStructure) && (byStrength || askedStrength) {
			asks = true
		}
	}
	return TextureStep{}, asks, false
}

// fits tells whether a row's word fits what was described, and whether it asks
// for what was not.
func fits(row, described string) (fit, asked bool) {
	described = strings.TrimSpace(described)
	switch {
	case row == "":
		return true, false
	case described == "":
		return false, true
	}
	return english.Plain(row) == english.Plain(described), false
}

// TextureNames lists the textures that the rule knows, each once, in its order.
func (f *FieldRule) TextureNames() []string {
	if f == nil {
		return nil
	}
	var out []string
	seen := map[string]bool{"any": true}
	for _, s := range f.Textures {
		if !seen[s.Texture] {
			seen[s.Texture] = true
			out = append(out, s.Texture)
		}
	}
	return out
}

// Life returns how long a thing of a material commonly lasts: Life("concrete",
// "septic tank") finds "concrete septic tank", "concrete tank", "septic tank"
// or "tank", in this order. It is false where the pack has none of them.
func (p *Pack) Life(material, thing string) (ServiceLife, bool) {
	if p == nil {
		return ServiceLife{}, false
	}
	short := thing[strings.LastIndexByte(thing, ' ')+1:]
	material = commonMaterial(material)
	for _, want := range []string{material + thing, material + short, thing, short} {
		for _, l := range p.Lives {
			if english.Plain(l.What) == english.Plain(want) {
				return l, true
			}
		}
	}
	return ServiceLife{}, false
}

// commonMaterial gives a material the name that the packs use.
func commonMaterial(m string) string {
	switch m = english.Plain(strings.TrimSpace(m)); m {
	case "fiberglass":
		return "fibreglass"
	case "polyethylene", "poly", "hdpe", "pvc":
		return "plastic"
	case "precast", "precastconcrete":
		return "concrete"
	}
	return m
}

// Look returns how often something is to be done, and false where the pack does
// not say.
func (p *Pack) Look(what string) (Interval, bool) {
	if p == nil {
		return Interval{}, false
	}
	for _, i := range p.Looks {
		if english.Plain(i.What) == english.Plain(what) {
			return i, true
		}
	}
	return Interval{}, false
}

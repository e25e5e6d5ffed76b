package absorb

import (
	"fmt"
	"strings"

	"undersod/core/rules"
	"undersod/core/unit"
)

// faces is which faces of a trench count and what deeper stone is worth.
type faces struct {
	bottom, sides, ends bool
	height              unit.Length // of the sidewall that counts; 0 for the stone below the pipe
	allowance           *rules.StoneAllowance
}

// facesOf returns how a rule counts. Without one the bottom counts. Where the
// permit's own loading rate is used, an allowance that belongs to a table by
// bedrooms is left aside: the two are not derived from one another.
func facesOf(q Question, rule *rules.FieldRule) faces {
	if rule == nil {
		return faces{bottom: true}
	}
	f := faces{
		bottom: rule.Counts != rules.CountSides, sides: rule.Counts == rules.CountSides || rule.Counts == rules.CountBoth,
		ends: rule.Ends, height: rule.SideFeet, allowance: rule.Allowance,
	}
	if q.Loading > 0 && rule.Method == rules.AreaPerBedroom {
		f.allowance = nil
	}
	return f
}

func (f faces) words() string {
	switch {
	case f.bottom && f.sides:
		return string(rules.CountBoth)
	case f.sides:
		return string(rules.CountSides)
	}
	return string(rules.CountBottom)
}

// field is the trenches as measured.
type field struct {
	trenches []TrenchArea
	present  unit.Area // of those that are known and in use
	sd       unit.Area
	inUse    int
	unknown  []string // names of trenches in use whose area is not known
	allowed  bool     // deeper stone counted for more
	faces    faces
}

// measure adds up the trenches in use. The lengths err each by themselves, in
// quadrature; the widths together, in sum.
func measure(q Question, rule *rules.FieldRule, ask *asked) field {
	f := field{faces: facesOf(q, rule)}
	var byLength, byWidth unit.Area
	for _, t := range q.Trenches {
		a, length, width := f.faces.area(t, q.Say, ask)
		f.trenches = append(f.trenches, a)
		switch {
		case t.OutOfUse:
			continue
		case !a.Known:
			f.unknown = append(f.unknown, t.Name)
		case a.Share != 1:
			f.allowed = true
		}
		f.inUse++
		f.present += a.Counted
		byLength = hypot(byLength, length)
		byWidth += width
	}
	if len(q.Trenches) == 0 {
		ask.add(askTrenches)
	}
	f.sd = hypot(byLength, byWidth)
	return f
}

// area returns the area of one trench and the standard deviations that its
// length and its width give it.
func (f faces) area(t Trench, say unit.Style, ask *asked) (a TrenchArea, byLength, byWidth unit.Area) {
	a = TrenchArea{Name: t.Name, Share: 1, Bottom: rectangle(t.Length, t.Width)}
	if t.OutOfUse {
		a.Known, a.Words = true, "out of use: it counts for nothing"
		return a, 0, 0
	}
	height := f.height
	if height == 0 {
		height = t.StoneBelow
	}
	if a.Words = f.lacks(t, height, ask); a.Words != "" {
		return a, 0, 0
	}
	var perLength, perWidth unit.Length // change of the counted area per length and per width
	if f.bottom {
		perLength, perWidth = t.Width, t.Length
		a.Counted = a.Bottom
	}
	if f.sides {
		a.Side = 2 * rectangle(t.Length, height)
		perLength += 2 * height
		if f.ends {
			a.Side += 2 * rectangle(t.Width, height)
			perWidth += 2 * height
		}
		a.Counted += a.Side
	}
	var words string
	a.Share, words = allow(f.allowance, t, say, ask)
	a.Counted /= unit.Area(a.Share)
	byLength = rectangle(perLength, t.LengthSD) / unit.Area(a.Share)
	byWidth = rectangle(perWidth, t.WidthSD) / unit.Area(a.Share)
	a.CountedSD, a.Known = hypot(byLength, byWidth), true
	a.Words = f.sum(a, t, say) + words
	return a, byLength, byWidth
}

func rectangle(a, b unit.Length) unit.Area { return unit.Area(a) * unit.Area(b) }

// lacks says what a trench lacks to have an area, and asks for it.
func (f faces) lacks(t Trench, height unit.Length, ask *asked) string {
	var lacks []string
	if t.Length == 0 {
		lacks = append(lacks, "its length was not measured")
		ask.add("the length of " + t.Name + ": take ties to both of its ends, or write footages: {" + t.Name + ": {its end: 54' 9\"}}")
	}
	if t.Width == 0 && (f.bottom || f.ends) {
		lacks = append(lacks, "its width is not known")
		ask.add(askLine(t.Name, "the trench width", "trench width", "3 ft"))
	}
	if height == 0 && f.sides {
		lacks = append(lacks, "the stone below its pipe is not known")
		ask.add(askLine(t.Name, "the stone below the pipe", "stone below", "12 in"))
	}
	return strings.Join(lacks, "; ")
}

func (f faces) sum(a TrenchArea, t Trench, say unit.Style) string {
	var parts []string
	if f.bottom {
		parts = append(parts, fmt.Sprintf("bottom %s × %s = %s", say.Format(t.Length), say.Format(t.Width), say.FormatArea(a.Bottom)))
	}
	if f.sides {
		parts = append(parts, "sidewall "+say.FormatArea(a.Side))
	}
	return strings.Join(parts, ", ")
}

// allow returns the share of the standard length that is enough with the stone
// below the pipe, with words behind the trench's own where it matters.
func allow(rule *rules.StoneAllowance, t Trench, say unit.Style, ask *asked) (float64, string) {
	switch {
	case rule == nil:
		return 1, ""
	case t.StoneBelow == 0:
		ask.add(askLine(t.Name, "the stone below the pipe, as deeper stone counts for more by this rule,", "stone below", "12 in"))
		return 1, "; the stone below the pipe is not known, so no allowance is taken for it"
	}
	share := 1.0
	if rule.Formula {
		share = FederalShare(t.Width, t.StoneBelow)
	}
	for _, s := range rule.Steps {
		if t.StoneBelow >= s.From*(1-1e-9) {
			share = s.Share
		}
	}
	if share == 1 {
		return 1, ""
	}
	return share, fmt.Sprintf("; with %s of stone below the pipe %.0f %% of the standard length is enough", say.Format(t.StoneBelow), 100*share)
}

// FederalShare returns the share of the standard trench length that is enough
// with deeper stone, by the old federal manual: (w + 2) / (w + 1 + 2 d), w the
// trench width and d the stone below the pipe, in feet (Manual of Septic-Tank
// Practice, Publication 526, 1967, Table 3, footnote; from memory). The
// standard depth is 6 in: below it the share is 1. The manual's table ends at
// 42 in of stone and runs from 1 to 5 ft of width; deeper stone counts as 42
// in, and for other widths the share is 1. For 24 in of stone and 3 ft of width
// it is 0.625.
func FederalShare(width, stone unit.Length) float64 {
	w, d := width.Feet(), min(stone.Feet(), 3.5)
	if !(w >= 1-1e-9 && w <= 5+1e-9 && d > 0.5) {
		return 1
	}
	return (w + 2) / (w + 1 + 2*d)
}

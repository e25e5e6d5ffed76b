package setback

import (
	"math"
	"strings"

	"undersod/core/absorb"
	"undersod/core/adjust"
	"undersod/core/bounds"
	"undersod/core/english"
	"undersod/core/phrase"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
)

// Bedrooms says what planned bedrooms ask of field, tank and reserve area: now
// and then are the capacities without and with them, by the same pack; then is
// nil where it was not reckoned. It is nil where no room is planned.
//
// The ground that a whole replacement field would take is of our own making, no
// rule's: its trenches, laid side by side, each with one strip of soil beside
// it,
//
//	ground = bottom / w · (w + s)
//
// with the bottom area of trench that the household needs [m²], the trench width
// w [m] and the soil between trenches s [m], the permit's spacing or the pack's
// limit. Where sidewalls or deeper stone count, bottom is the required area in
// the proportion of bottom to counted area of the trenches that are there.
// Worked: 660 sq ft required of bottom, w 3 ft, s 6 ft: 660 / 3 · 9 = 1,980 sq ft.
func Bedrooms(job *site.Job, plan *adjust.Plan, pack *rules.Pack, now absorb.Capacity, then *absorb.Capacity, rooms int) *Capacity {
	if rooms <= 0 {
		return nil
	}
	y := newYard(job, plan, pack)
	c := &Capacity{Rooms: rooms, Now: now, Reserve: absorb.CannotTell}
	if then == nil {
		c.Words = []string{phrase.Tell("What "+english.Count(rooms, "more bedroom")+" would ask of the system cannot be told: how many the house has now is not known. Write household: {bedrooms: 3}", absorb.Decides)}
		return c
	}
	c.Then = *then
	added := strings.TrimSuffix(absorb.AddedBedrooms(now, *then, rooms, y.say), absorb.Decides)
	c.Words = []string{strings.TrimSpace(added), phrase.Tell(y.reserve(c), absorb.Decides)}
	return c
}

// reserve fills in the reserve area and returns what holds in words.
func (y *yard) reserve(c *Capacity) string {
	names, sd, lost := y.reserveArea(c)
	needed, why := y.replacement(c)
	c.ReserveNeeded = needed
	have := english.And(names)
	switch {
	case lost != "":
		return phrase.Tell("The reserve area cannot be judged: " + lost)
	case len(names) == 0 && needed > 0:
		c.Reserve = absorb.CannotTell
		return phrase.Tell("A whole replacement field would take about " + y.say.FormatArea(needed) + " of ground; no reserve area is drawn: enter features: {Reserve: {kind: reserve area, area: [R1, R2, R3, R4]}}")
	case needed == 0:
		return phrase.Tell("What ground a replacement field would take cannot be told: " + why)
	}
	within := sd * bounds.Normal95
	short := needed - c.ReserveArea
	size := have + " has " + y.say.FormatArea(c.ReserveArea) + "; a whole replacement field would take about " + y.say.FormatArea(needed) + " of ground"
	switch {
	case short > within:
		c.Reserve = absorb.Short
		return phrase.Tell(size + ": short by " + y.say.FormatArea(short))
	case short <= -within:
		c.Reserve = absorb.Enough
		return phrase.Tell(size + ": enough in size, whatever its shape allows")
	}
	c.Reserve = absorb.TooCloseToCall
	return phrase.Tell(size + ": too close to call, ± " + y.say.FormatArea(within))
}

// reserveArea adds up the reserve areas by the shoelace formula. The area
// changes with corner i by half the step from its one neighbour to its other,
// turned a quarter, and the corners are taken jointly.
func (y *yard) reserveArea(c *Capacity) (names []string, sd unit.Area, lost string) {
	var variance float64
	for _, b := range y.parts {
		if b.Kind != string(site.ReserveArea) {
			continue
		}
		if b.lost != "" {
			return nil, 0, b.lost
		}
		if !b.shape.Closed {
			return nil, 0, string(b.Name) + " is not an area: write area: [R1, R2, R3, R4] with all its corners"
		}
		names = append(names, string(b.Name))
		c.ReserveArea += planar.Ring(b.shape.Points).Area()
		one := float64(y.areaSD(b))
		variance += one * one
	}
	return names, unit.Area(math.Sqrt(variance)), ""
}

// areaSD is the standard deviation of an area whose corners are known jointly.
func (y *yard) areaSD(b *body) unit.Area {
	p := b.shape.Points
	pulls, at := make([]adjust.Pull, 0, len(p)), make([]int, 0, len(p))
	for i := range p {
		step := p[(i+1)%len(p)].Minus(p[(i+len(p)-1)%len(p)]).Times(0.5)
		along := planar.Vec{East: step.North, North: -step.East}
		pulls = append(pulls, adjust.Pull{Point: y.plan.Points[b.carriers[i]].Name, Along: along})
		at = append(at, b.carriers[i])
	}
	sd, ok := y.joint.Deviation(pulls...)
	if !ok {
		sd = y.bound(pulls, at)
	}
	return unit.Area(sd)
}

// replacement is the ground that a whole replacement field would take; 0 with why
// where it cannot be told.
func (y *yard) replacement(c *Capacity) (unit.Area, string) {
	if !c.Then.Required.Known || !(c.Then.Required.Area > 0) {
		return 0, "the area required is not known"
	}
	width := y.usualWidth()
	if width == 0 {
		return 0, "the trench width is not known: write record: {trench width: 3 ft}, or add trench width: 3 ft to a line"
	}
	between := y.between(width)
	if between == 0 {
		return 0, "how far trenches lie apart is not known: write record: {spacing: 9 ft}, from middle to middle"
	}
	bottom := c.Then.Required.Area * unit.Area(bottomShare(c.Now.Trenches))
	return bottom / unit.Area(width) * unit.Area(width+between), ""
}

// bottomShare is how much bottom one unit of counted area takes, by the trenches
// that are there; 1 without any.
func bottomShare(trenches []absorb.TrenchArea) float64 {
	var bottom, counted unit.Area
	for _, t := range trenches {
		if t.Known && t.Counted > 0 {
			bottom, counted = bottom+t.Bottom, counted+t.Counted
		}
	}
	if !(bottom > 0 && counted > 0) {
		return 1
	}
	return float64(bottom / counted)
}

// usualWidth is the trench width of the permit, else of the first drain line
// that has one.
func (y *yard) usualWidth() unit.Length {
	if r := y.job.Site.Record; r != nil && r.TrenchWidth != nil && bounds.Sane(r.TrenchWidth.Length) > 0 {
		return r.TrenchWidth.Length
	}
	for _, b := range y.drains() {
		if w := bounds.Sane(b.line.TrenchWidth); w > 0 {
			return w
		}
	}
	return 0
}

// between is the soil between trenches: the permit's spacing less a width, else
// the pack's limit.
func (y *yard) between(width unit.Length) unit.Length {
	if r := y.job.Site.Record; r != nil && r.Spacing != nil {
		if s := bounds.Sane(r.Spacing.Length - width); s > 0 {
			return s
		}
	}
	if l, ok := y.pack.Limit(rules.OnSpacing); ok && bounds.Sane(l.Least) > 0 {
		return l.Least
	}
	if l, ok := y.pack.Limit(rules.OnCentres); ok {
		return bounds.Sane(l.Least - width)
	}
	return 0
}

// Join is the line that joins where something fits with what its bedrooms ask
// for; nothing where either is missing.
func Join(f *Fit, c *Capacity, say unit.Style) string {
	if f == nil || c == nil {
		return ""
	}
	field := "whether the field carries it cannot be told"
	switch c.Then.Field {
	case absorb.Enough:
		field = "the field is large enough for it"
	case absorb.Short:
		field = "the field would be short by " + say.FormatArea(c.Then.Required.Area-c.Then.Present)
	case absorb.TooCloseToCall:
		field = "whether the field is large enough is too close to call"
	}
	tank := "whether the tank is large enough cannot be told"
	switch c.Then.Tank.Verdict {
	case absorb.Enough:
		tank = "the tank is large enough"
	case absorb.Short:
		tank = "the tank would be too small: " + say.FormatVolume(c.Then.Tank.Required) + " required, " + say.FormatVolume(c.Then.Tank.Present) + " there"
	}
	return phrase.Tell(f.Question.Name+" "+f.stands()+"; with "+english.Count(c.Rooms, "more bedroom")+" "+field+", and "+tank, absorb.Decides)
}

// stands says in a few words how the placement came out.
func (f *Fit) stands() string {
	where := "fits"
	if f.Question.Stated != nil {
		where = "fits where it is to stand"
	}
	switch {
	case f.Question.Stated == nil && !f.Best.Fits:
		return "fits nowhere on the lot"
	case f.Verdict == Short:
		return "does not fit where it is to stand"
	case f.Verdict == TooClose:
		return where + ", but too close to call"
	}
	return where
}

package setback

import (
	"math"

	"undersod/core/bounds"
	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
)

// columnOfPart is the column that protects a kind of part, empty for none.
func columnOfPart(k site.PartKind) rules.Column {
	switch k {
	case site.SepticTank, site.PumpTank:
		return rules.ToTank
	case site.DistributionBox, site.DropBox:
		return rules.ToBox
	}
	return ""
}

func columnOfLine(k site.LineKind) rules.Column {
	switch k {
	case site.DrainLine:
		return rules.ToField
	case site.BuildingSewer:
		return rules.ToSewer
	case site.EffluentPipe, site.PressurePipe:
		return rules.ToPipe
	}
	return ""
}

// ownWord is the word of the rules for a part where another part is kept from
// it: a tank from the field.
func ownWord(c rules.Column) string {
	switch c {
	case rules.ToTank, rules.ToBox, rules.ToField:
		return string(c)
	}
	return ""
}

// gatherParts turns parts, lines and reserve areas into shapes.
func (y *yard) gatherParts() {
	s := &y.job.Site
	for i := range s.Parts {
		if c := columnOfPart(s.Parts[i].Kind); c != "" {
			y.parts = append(y.parts, y.part(&s.Parts[i], c))
		}
	}
	for i := range s.Lines {
		if c := columnOfLine(s.Lines[i].Kind); c != "" {
			y.parts = append(y.parts, y.line(&s.Lines[i], c))
		}
	}
	for i := range s.Features {
		if s.Features[i].Kind == site.ReserveArea {
			b := y.feature(&s.Features[i])
			b.column = rules.ToField
			y.parts = append(y.parts, b)
		}
	}
	for _, b := range y.parts {
		b.from = ownWord(b.column)
	}
}

// part is a part as its fitted outline, or as a disc about its point. A part of
// known size whose turn is not known is a disc of half its larger size: the true
// reach in any direction lies between half the smaller size and half the
// diagonal, and the disc's radius carries the standard deviation of a number
// that lies anywhere between the two, their difference over √12.
func (y *yard) part(p *site.Part, c rules.Column) *body {
	b := &body{Thing: Thing{Name: p.Name, Kind: string(p.Kind)}, column: c}
	if p.Outline != nil && y.fitted(b) {
		return b
	}
	y.run(b, []site.Name{p.Name}, false)
	w, l := bounds.Sane(p.Width), bounds.Sane(p.Length)
	b.shape.Radius = max(w, l) / 2
	b.inner = min(w, l) / 2
	if w > 0 && l > 0 {
		b.sizeSD = unit.Length((math.Hypot(float64(w), float64(l)) - float64(min(w, l))) / 2 / math.Sqrt(12))
	}
	switch {
	case b.lost != "":
	case b.shape.Radius == 0:
		y.asks.Add("the size of " + string(p.Name) + ": distances count from its point; add length and width to it under parts")
	case p.Outline != nil:
		y.asks.Add("the outline of " + string(p.Name) + ", which is not fitted: distances count from a round about its point")
	}
	return b
}

// fitted takes the outline of a part from its probe hits.
func (y *yard) fitted(b *body) bool {
	for i := range y.plan.Outlines {
		o := &y.plan.Outlines[i]
		if o.Part != b.Name || !o.Fitted {
			continue
		}
		for _, c := range o.Corners {
			if !finite(c) {
				return false
			}
		}
		b.outline = o
		b.shape = clearance.Shape{Points: o.Corners[:], Closed: true}
		return true
	}
	return false
}

// line is a line: a drain line as a strip as wide as its trench.
func (y *yard) line(l *site.Line, c rules.Column) *body {
	b := &body{Thing: Thing{Name: l.Name, Kind: string(l.Kind)}, column: c, line: l}
	y.run(b, l.Path, false)
	if c != rules.ToField || b.lost != "" {
		return b
	}
	width := y.trenchWidth(l)
	b.shape.HalfWidth = width / 2
	if width == 0 {
		y.asks.Add("the trench width of " + string(l.Name) + ": distances count from the middle of the trench; add trench width: 3 ft to it under lines")
	}
	if len(b.shape.Points) == 1 {
		b.shape.HalfWidth, b.shape.Radius = 0, width/2
	}
	return b
}

// trenchWidth is a trench's own width, else the record's, else 0.
func (y *yard) trenchWidth(l *site.Line) unit.Length {
	if w := bounds.Sane(l.TrenchWidth); w > 0 {
		return w
	}
	if r := y.job.Site.Record; r != nil && r.TrenchWidth != nil {
		return bounds.Sane(r.TrenchWidth.Length)
	}
	return 0
}

// gatherThings turns buildings and features into shapes.
func (y *yard) gatherThings() {
	s := &y.job.Site
	for i := range s.Buildings {
		h := &s.Buildings[i]
		b := &body{Thing: Thing{Name: h.Name, Kind: wordBuilding, Class: h.Class}, from: wordBuilding}
		y.run(b, h.Corners, false)
		b.shape.Closed = len(b.shape.Points) > 2
		y.things = append(y.things, b)
	}
	for i := range s.Features {
		if f := &s.Features[i]; f.Kind != site.ReserveArea && f.Kind != "" {
			y.things = append(y.things, y.feature(f))
		}
	}
}

// wordBuilding is the rules' word for a building and for a structure.
const wordBuilding = "building"

// wordOf is the rules' word for a feature.
func wordOf(k site.FeatureKind) string {
	if k == site.Structure {
		return wordBuilding
	}
	return string(k)
}

// feature is a feature: a tree by its trunk, a well by its middle, another
// single point by its radius.
func (y *yard) feature(f *site.Feature) *body {
	b := &body{Thing: Thing{Name: f.Name, Kind: string(f.Kind), Class: f.Class}, from: wordOf(f.Kind)}
	names := f.Points
	if len(names) == 0 {
		names = []site.Name{f.Name}
	}
	edge := f.Closed && !isArea(f.Kind)
	y.run(b, names, edge)
	b.shape.Closed = f.Closed && !edge && len(names) > 2
	if len(names) == 1 {
		switch f.Kind {
		case site.Tree:
			b.shape.Radius = bounds.Sane(f.Trunk) / 2
		case site.Well:
		default:
			b.shape.Radius = bounds.Sane(f.Radius)
		}
	}
	if f.Kind == site.PropertyLine && f.Closed && len(names) > 2 && b.lost == "" {
		b.lot = planar.Ring(b.shape.Points[:len(names)])
	}
	return b
}

// isArea tells whether the inside of such a feature counts; of the others only
// the edge does.
func isArea(k site.FeatureKind) bool {
	switch k {
	case site.PropertyLine, site.Fence, site.WaterLine, site.UtilityLine, site.StormPipe:
		return false
	}
	return true
}

// dropCrossed leaves out every area whose outline makes no sense, as one that
// crosses itself: no distance from it would mean anything.
func (y *yard) dropCrossed() {
	for _, list := range [][]*body{y.parts, y.things} {
		for _, b := range list {
			s := b.shape
			if b.lot != nil {
				s = clearance.Shape{Points: b.lot, Closed: true}
			}
			if b.lost != "" || !s.Closed {
				continue
			}
			if err := s.Check(string(b.Name)); err != nil {
				b.lost, b.crossed, b.lot = err.Error(), true, nil
				y.asks.Add(b.lost)
			}
		}
	}
}

// chooseLot takes as the lot the outline that holds the most of the site; the
// outlines of neighbours are edges alone.
func (y *yard) chooseLot() {
	most := -1
	for _, b := range y.things {
		if b.lot == nil {
			continue
		}
		if n := y.inside(b.lot); n > most {
			most, y.lot = n, b
		}
	}
	for _, b := range y.things {
		if b != y.lot {
			b.lot = nil
		}
	}
}

// inside counts how many points of parts and buildings lie in an area.
func (y *yard) inside(r planar.Ring) int {
	n := 0
	count := func(list []*body) {
		for _, b := range list {
			if b.lost != "" || b.column == "" && b.from != wordBuilding {
				continue
			}
			for _, v := range b.shape.Points {
				if r.Contains(v) {
					n++
				}
			}
		}
	}
	count(y.parts)
	count(y.things)
	return n
}

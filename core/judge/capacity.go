package judge

import (
	"undersod/core/absorb"
	"undersod/core/site"
	"undersod/core/unit"
)

// widthDeviation is how well a trench's width is known where a tape was laid
// across it; common practice, no source.
const widthDeviation = 1 * unit.Inch

// capacity judges the field and the tank, as they are and with the bedrooms
// that are planned.
func (w *work) capacity() {
	q := w.question()
	w.out.Capacity = absorb.Judge(q, w.pack)
	for _, m := range w.out.Capacity.Missing {
		w.miss(m)
	}
	w.areas = map[site.Name]absorb.TrenchArea{}
	for _, a := range w.out.Capacity.Trenches {
		w.areas[site.Name(a.Name)] = a
	}
	if more := w.job.Site.PlannedBedrooms(); more > 0 && q.Bedrooms > 0 {
		q.Bedrooms += more
		added := absorb.Judge(q, w.pack)
		w.out.Added, w.out.AddedRooms = &added, more
		w.out.AddedWords = absorb.AddedBedrooms(w.out.Capacity, added, more, w.say)
	}
}

// question gathers what the job knows of household, soil, trenches and tank.
func (w *work) question() absorb.Question {
	h, soil := w.job.Site.Household, w.job.Site.Soil
	q := absorb.Question{
		Bedrooms: h.Bedrooms, Persons: h.Persons, Measured: h.DailyFlow, Grinder: h.Grinder,
		Percolation: soil.Percolation, Texture: soil.Texture, Structure: soil.Structure, Strength: soil.StructureBy,
		Loading: soil.Loading, Tank: w.tank(), Say: w.say,
	}
	if r := w.job.Site.Record; r != nil {
		q.Permitted, q.PermittedBedrooms = r.DailyFlow, r.Bedrooms
		if q.Bedrooms == 0 {
			q.Bedrooms = r.Bedrooms
		}
	}
	for _, l := range w.drains() {
		q.Trenches = append(q.Trenches, w.trench(l))
	}
	return q
}

func (w *work) trench(l site.Line) absorb.Trench {
	t := absorb.Trench{Name: string(l.Name), OutOfUse: l.OutOfUse, Width: l.TrenchWidth, WidthSD: widthDeviation}
	if m, ok := w.measured(l.Name); ok {
		t.Length, t.LengthSD = m.Length, m.SD
	}
	if l.StoneBelow != nil {
		t.StoneBelow = l.StoneBelow.Length
	}
	if r := w.job.Site.Record; r != nil {
		if t.Width == 0 && r.TrenchWidth != nil {
			t.Width, t.WidthSD = r.TrenchWidth.Length, 0
		}
		if t.StoneBelow == 0 && r.StoneBelow != nil {
			t.StoneBelow = r.StoneBelow.Length
		}
	}
	return t
}

// tank is the capacity of all septic tanks together, 0 where one is not known.
func (w *work) tank() unit.Volume {
	var sum unit.Volume
	for _, p := range w.job.Site.Parts {
		if p.Kind != site.SepticTank {
			continue
		}
		if p.Capacity == 0 {
			return 0
		}
		sum += p.Capacity
	}
	return sum
}

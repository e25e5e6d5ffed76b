// Package overlay turns setbacks, and where something may be built, into what a
// sheet draws of them: bands, the allowed ground, the footprint and dimensions.
package overlay

import (
	"slices"

	"undersod/core/clearance"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
)

// Drawn so that a sheet stays readable.
const (
	// TightestClear is how many distances that are clear are drawn of a table:
	// those with the smallest margins.
	TightestClear = 3
	// NearestParts is how many parts of the system that are clear get a dimension
	// from a footprint.
	NearestParts = 3
	// SmallestMargins is how many of the smallest margins of a footprint get a
	// dimension, whatever they are to.
	SmallestMargins = 3
	// BandTolerance is how far the chords of a band may miss its arcs.
	BandTolerance = 20 * unit.Millimetre
)

// OfTable returns the ground that the parts keep free of buildings, and the
// dimensions of every distance that is short or too close to call and of the
// tightest that are clear. What is not located has none.
func OfTable(job *site.Job, t *setback.Table) *sheet.Clear {
	out := &sheet.Clear{}
	if t == nil {
		return out
	}
	say, left := style(job), TightestClear
	out.Bands = bands(t.Kept, say)
	out.Proposed = proposals(t.Proposed)
	if len(out.Proposed) > 0 {
		out.Title = "Septic system, with what is proposed"
	}
	for _, r := range t.Rows {
		if !r.Known {
			continue
		}
		d := dimension(r.Gap, r.Measured, r.Required, r.Verdict, say)
		if r.Verdict == setback.Clear {
			if left == 0 {
				break
			}
			if drawn(out.Distances, d) {
				continue
			}
			left--
		}
		out.Distances = append(out.Distances, d)
	}
	for _, r := range t.Rows {
		out.Sources = named(out.Sources, r.Source)
	}
	return out
}

// named adds a source of a required distance, each once.
func named(list []string, s rules.Source) []string {
	words := s.Words()
	if words == "" || slices.Contains(list, words) {
		return list
	}
	return append(list, words)
}

// dimension is one distance with its words: 21' 3", 20' required.
func dimension(gap clearance.Gap, measured, required unit.Length, v setback.Verdict, say unit.Style) sheet.Distance {
	d := sheet.Distance{From: gap.From.At, To: gap.To.At, Grade: grade(v)}
	switch {
	case measured < 0:
		d.Words = say.Format(-measured) + " too far"
	case measured == 0:
		d.Words = "touches"
	default:
		d.Words = say.Format(measured)
	}
	if required > 0 {
		d.Words += ", " + say.Format(required) + " required"
	}
	return d
}

// alike is how near both ends of two dimensions must be for one to do for both,
// where what they tell is clear: lines that leave a box begin at one place.
const alike = 2 * unit.Foot

// drawn tells whether a dimension would lie upon one that is drawn.
func drawn(list []sheet.Distance, d sheet.Distance) bool {
	for _, e := range list {
		if e.From.Minus(d.From).Length() < alike && e.To.Minus(d.To).Length() < alike {
			return true
		}
	}
	return false
}

// grade is a verdict in the grades of a sheet.
func grade(v setback.Verdict) site.Grade {
	switch v {
	case setback.Short:
		return site.Act
	case setback.TooClose:
		return site.Watch
	}
	return site.Note
}

// style is how a job prints lengths; the default without one.
func style(job *site.Job) unit.Style {
	if job == nil {
		return site.Show{}.Style()
	}
	return job.Show.Style()
}

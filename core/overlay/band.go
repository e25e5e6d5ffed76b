package overlay

import (
	"slices"

	"undersod/core/clearance"
	"undersod/core/english"
	"undersod/core/setback"
	"undersod/core/sheet"
	"undersod/core/unit"
)

// bands is the ground that each kind of part keeps free, in the order of the
// job: one band for all parts of a kind with one distance. A band that falls
// apart is several of the same words.
func bands(kept []setback.Kept, say unit.Style) []sheet.Band {
	var out []sheet.Band
	for len(kept) > 0 {
		first := kept[0]
		var shapes []clearance.Shape
		var names []string
		kept = slices.DeleteFunc(slices.Clone(kept), func(k setback.Kept) bool {
			same := k.Part.Kind == first.Part.Kind && k.By == first.By
			if same {
				shapes, names = append(shapes, k.Shape), append(names, string(k.Part.Name))
			}
			return same
		})
		r, err := clearance.Band(shapes, first.By, BandTolerance)
		if err != nil {
			continue // a shape that cannot be drawn has no band
		}
		what := english.And(names)
		if len(names) > 1 {
			what = "the " + first.Part.Kind + "s"
		}
		for _, p := range r.Pieces {
			out = append(out, sheet.Band{Area: sheet.Patch(p), Words: say.Format(first.By) + " from " + what})
		}
	}
	return out
}

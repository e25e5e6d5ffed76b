package clearance

import (
	"undersod/core/planar"
	"undersod/core/unit"
)

// mostStraight bounds how many corners in a row are left out as lying on a
// straight line.
const mostStraight = 16

// tidyAll leaves out corners that are none, and starts each ring at its
// southernmost corner so that the same outline is always written the same way.
// What it moves is less than the hair by which everything was grown.
func tidyAll(rings []planar.Ring, hair unit.Length) []planar.Ring {
	out := rings[:0]
	for _, r := range rings {
		if r = tidy(r, hair/2); len(r) > 2 {
			out = append(out, r)
		}
	}
	return out
}

func tidy(r planar.Ring, within unit.Length) planar.Ring {
	first := planar.Southernmost(r)
	turned := append(append(make(planar.Ring, 0, len(r)), r[first:]...), r[:first]...)
	kept := make(planar.Ring, 1, len(r))
	kept[0] = turned[0]
	last := 0
	for i := 1; i < len(turned); i++ {
		next := turned[(i+1)%len(turned)]
		if i-last > mostStraight || !straight(turned[last], turned[last+1:i+1], next, within) {
			kept = append(kept, turned[i])
			last = i
		}
	}
	return kept
}

// straight tells whether some places lie within a distance of the straight line
// from a to b.
func straight(a planar.Vec, between []planar.Vec, b planar.Vec, within unit.Length) bool {
	for _, v := range between {
		if v.ToSegment(a, b) > within {
			return false
		}
	}
	return true
}

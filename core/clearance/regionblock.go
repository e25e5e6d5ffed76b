package clearance

import (
	"undersod/core/planar"
	"undersod/core/unit"
)

// block is a convex piece that the footprint must keep away from.
type block struct {
	corners []planar.Vec   // convex, counterclockwise
	beside  [][]planar.Vec // for each corner the outward normals of the sides that its shape has there
	radius  unit.Length    // its own and the setback
	bare    bool           // the footprint's size does not count: the edge of a box
}

// blocksOf are the pieces of one shape about an origin. Each corner remembers
// the sides that the whole shape has there: the chords about it then take the
// direction of a neighbour's side too, and no chord's corner stands out like a
// tooth beside that side.
func blocksOf(cut []convex, setback unit.Length, origin planar.Vec) []block {
	out := make([]block, 0, len(cut))
	for _, c := range cut {
		moved := make([]planar.Vec, len(c.corners))
		for i, v := range c.corners {
			moved[i] = v.Minus(origin)
		}
		out = append(out, block{corners: moved, radius: c.radius + setback})
	}
	if len(out) > 1 {
		markSides(out, setback)
	}
	return out
}

// directed is a side from one corner to the next.
type directed struct{ from, to planar.Vec }

func markSides(blocks []block, setback unit.Length) {
	at := outerNormals(blocks)
	for k := range blocks {
		b := &blocks[k]
		b.beside = make([][]planar.Vec, len(b.corners))
		for i, v := range b.corners {
			b.beside[i] = at[v]
		}
		if len(b.corners) == 1 && b.radius > setback {
			b.beside[0] = touchingSides(blocks[max(0, k-4):k], b.corners[0], b.radius-setback)
		}
	}
}

// outerNormals are the outward normals of the sides at each corner, those left
// out at which two pieces meet.
func outerNormals(blocks []block) map[planar.Vec][]planar.Vec {
	inner := map[directed]bool{}
	for _, b := range blocks {
		for i, v := range b.corners {
			if len(b.corners) > 2 {
				inner[directed{b.corners[(i+1)%len(b.corners)], v}] = true
			}
		}
	}
	at := map[planar.Vec][]planar.Vec{}
	for _, b := range blocks {
		for i, v := range b.corners {
			next := b.corners[(i+1)%len(b.corners)]
			if normal, ok := next.Minus(v).Right().Unit(); ok && !inner[directed{v, next}] {
				at[v], at[next] = append(at[v], normal), append(at[next], normal)
			}
		}
	}
	return at
}

// touchingSides are the normals of those sides that touch a disc with an end: the
// sides of a strip at its bend.
func touchingSides(blocks []block, centre planar.Vec, radius unit.Length) []planar.Vec {
	var out []planar.Vec
	for _, b := range blocks {
		for i, v := range b.corners {
			next := b.corners[(i+1)%len(b.corners)]
			normal, ok := next.Minus(v).Right().Unit()
			foot := centre.Plus(normal.Times(float64(radius)))
			if ok && min(foot.Minus(v).Length(), foot.Minus(next).Length()) <= touching {
				out = append(out, normal)
			}
		}
	}
	return out
}

package level

import (
	"math"
	"slices"

	"undersod/core/site"
	"undersod/core/unit"
)

// DownDeviation is the standard deviation of a height read down from a level
// line in an opened box where none is stated: a sixteenth of an inch for the
// rule's foot and for the eye at the line (common practice, no source).
const DownDeviation = unit.Inch / 16

// The slots of a box beside its outlets, which count from 0.
const (
	slotInlet = -1
	slotFloor = -2
	slotLid   = -3
	slotWater = -4
	slotRim   = -5 // less the wall
)

// opened is the net with what was measured down from the level lines of boxes:
// each level line is one more line of sight, so a box whose openings are known
// partly by the rod and partly by the level line comes out as one whole.
type opened struct {
	*Net
	boxes   []site.Box
	flagged []int // nodes on which a reading in doubt stood
}

// open adjusts the net together with boxes. The net given does not change.
func open(n *Net, boxes []site.Box) *opened {
	o := &opened{Net: &Net{index: map[node]int{}}, boxes: boxes}
	if n != nil {
		for _, k := range n.nodes {
			o.at(k)
		}
		o.edges = append(o.edges, n.edges...)
		for i, r := range n.readings {
			if r.Flagged {
				o.flagged = append(o.flagged, n.edges[n.of[i]].under)
			}
		}
	}
	for i := range boxes {
		o.openBox(i)
	}
	o.solve()
	o.judge()
	return o
}

func (o *opened) openBox(i int) {
	b := &o.boxes[i]
	for k := range b.Outlets {
		o.down(i, o.openingNode(i, k), b.Outlets[k].Down, b.Outlets[k].SD)
	}
	if b.Inlet != nil {
		o.down(i, o.openingNode(i, slotInlet), b.Inlet.Down, b.Inlet.SD)
	}
	o.down(i, slot(i, slotFloor), b.Floor, nil)
	o.down(i, slot(i, slotLid), b.Lid, nil)
	o.down(i, slot(i, slotWater), b.Water, nil)
	for _, wall := range walls {
		if w, ok := b.Rim[wall]; ok {
			o.down(i, slot(i, slotRim-int(wall)), &w, nil)
		}
	}
}

// walls in the order in which they are told, clockwise.
var walls = [...]site.Edge{site.EdgeNear, site.EdgeRight, site.EdgeFar, site.EdgeLeft}

func slot(box, s int) node { return node{kind: inBox, box: box, slot: s} }

// openingNode is the height of an opening's invert: that of its level point
// where the rod may have read it.
func (o *opened) openingNode(box, s int) node {
	if p := o.opening(box, s); p.Rod != "" {
		return node{key: Key{p.Rod, site.OnInvert}}
	}
	return slot(box, s)
}

func (o *opened) opening(box, s int) site.Opening {
	if s == slotInlet {
		return *o.boxes[box].Inlet
	}
	return o.boxes[box].Outlets[s]
}

// down adds one reading down from the level line of a box, if it can be used.
func (o *opened) down(box int, to node, read *unit.Written, sd *unit.Length) {
	if read == nil || !(read.Length.Abs() < farthest) {
		return
	}
	s := DownDeviation
	if sd != nil && usableSD(*sd) {
		s = *sd
	}
	o.add(node{kind: ofBox, box: box}, to, read.Length, s)
}

// find returns the number of a node whose height is known.
func (o *opened) find(k node) (int, bool) {
	i, ok := o.index[k]
	return i, ok && o.solution != nil
}

// doubted tells whether a reading in doubt joins heights of a node's group.
func (o *opened) doubted(i int) bool {
	return slices.ContainsFunc(o.flagged, func(f int) bool { return o.group[f] == o.group[i] })
}

// contradicted returns the largest standardized residual among the readings
// down from the level line of a box.
func (o *opened) contradicted(box int) float64 {
	largest := 0.0
	for k, e := range o.edges {
		if e.reading < 0 && o.solution != nil && o.nodes[e.over] == (node{kind: ofBox, box: box}) {
			largest = math.Max(largest, standard(o.solution, k))
		}
	}
	return largest
}

package adjust

import (
	"math"

	"undersod/core/least"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// addBuilding adds the sides of a building as readings and its right angles as
// conditions. A right angle at the last corner follows from the others, so it
// adds nothing and is left out; otherwise it would count as a check that
// checks nothing.
func (n *network) addBuilding(b *site.Building) {
	corners, ok := n.find(b.Corners...)
	if !ok || len(corners) < 4 || len(b.Turns) != len(corners) {
		return // validation has told the user
	}
	n.addSides(b, corners)
	sd := float64(SquareDeviation)
	if b.Square != nil {
		sd = float64(*b.Square)
	}
	last := len(corners) - 1
	for k := range last {
		a, c, d := corners[(k+last)%len(corners)], corners[k], corners[k+1]
		n.begin(site.Taken{ID: site.ReadingID("square " + string(b.Name) + " at " + string(b.Corners[k])), Place: b.Place},
			"90°", "right angle of "+string(b.Name)+" at "+string(b.Corners[k]), b.Corners[k])
		n.readings[len(n.readings)-1].Source = FromSquare
		n.put("angle", squareModel{a, c, d}, float64(b.Turns[k])*math.Pi/2, sd, []int{a, c, d})
	}
	if ideal, ok := idealFigure(b); ok {
		n.building = append(n.building, outline{corners, ideal})
	}
}

func (n *network) addSides(b *site.Building, corners []int) {
	for k, s := range b.Sides {
		if s.Text == "" && s.Length == 0 {
			continue
		}
		i, j := k%len(corners), (k+1)%len(corners)
		from, to := b.Corners[i], b.Corners[j]
		n.begin(site.Taken{ID: site.ReadingID("side " + string(from) + "-" + string(to)), Place: b.Place},
			s.Text, "side of "+string(b.Name)+" from "+string(from)+" to "+string(to), from, to)
		n.readings[len(n.readings)-1].Source = FromSide
		if !usableLength(float64(s.Length)) {
			n.refuse("a side must be longer than nothing and shorter than 10 km")
			continue
		}
		pts := []int{corners[i], corners[j]}
		eq := n.put("distance", distanceModel{a: pts[0], b: pts[1]}, float64(s.Length), stated(b.SideSD, SideDeviation), pts)
		if eq != nil {
			eq.radius = float64(s.Length)
		}
	}
}

// idealFigure lays a building out in its own coordinates from the sides that
// were measured, the first side toward east. Two sides that were not measured
// follow from the closing of the figure where they lie square to each other or
// one is missing along each direction.
func idealFigure(b *site.Building) ([]planar.Vec, bool) {
	count := len(b.Corners)
	heading := 0 // quarter turns clockwise from east
	dir := make([]planar.Vec, count)
	for k := range count {
		dir[k] = [4]planar.Vec{{East: 1}, {North: -1}, {East: -1}, {North: 1}}[((heading%4)+4)%4]
		heading += int(b.Turns[(k+1)%count])
	}
	sides := make([]float64, count)
	var missing []int
	var sum planar.Vec
	for k := range count {
		if k < len(b.Sides) && usableLength(float64(b.Sides[k].Length)) {
			sides[k] = float64(b.Sides[k].Length)
			sum = sum.Plus(dir[k].Times(sides[k]))
		} else {
			missing = append(missing, k)
		}
	}
	if !closeFigure(dir, sides, missing, sum) {
		return nil, false
	}
	out := make([]planar.Vec, count)
	for k := 1; k < count; k++ {
		out[k] = out[k-1].Plus(dir[k-1].Times(sides[k-1]))
	}
	return out, true
}

// closeFigure finds the missing sides, at most one along each direction.
func closeFigure(dir []planar.Vec, sides []float64, missing []int, sum planar.Vec) bool {
	var along [2]bool
	for _, k := range missing {
		axis := 0
		gap := -float64(sum.Dot(dir[k]))
		if dir[k].East == 0 {
			axis = 1
		}
		if along[axis] || gap <= 0 {
			return false
		}
		along[axis] = true
		sides[k] = gap
	}
	return true
}

// outsideSign tells on which side of the wall from a to b the lawn lies:
// +1 for the right, -1 for the left, 0 where a-b is no wall of any building.
// A building walked clockwise has its lawn on the left.
func (n *network) outsideSign(a, b int) int {
	for _, o := range n.building {
		for k, c := range o.corners {
			d := o.corners[(k+1)%len(o.corners)]
			if c == a && d == b {
				return -clockwiseSign(o.ideal)
			}
			if c == b && d == a {
				return clockwiseSign(o.ideal)
			}
		}
	}
	return 0
}

// clockwiseSign is +1 for a figure walked clockwise and -1 otherwise.
func clockwiseSign(figure []planar.Vec) int {
	var twice unit.Area
	for k, v := range figure {
		twice += v.Cross(figure[(k+1)%len(figure)])
	}
	if twice < 0 {
		return 1
	}
	return -1
}

var _ least.Observation = squareModel{}

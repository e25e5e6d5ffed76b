package clearance

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"undersod/core/planar"
	"undersod/core/unit"
)

// far is how far from the origin a place of a site may lie: beyond it somebody
// wrote a number wrong.
const far unit.Length = 1e6

// Check tells what is wrong with the ground, in words that say what to mend: a
// lot that crosses itself, has fewer than three corners, no area, or a corner
// twice; what is no number or lies more than 1,000 km off; and a negative
// setback.
func (g Ground) Check() error {
	if err := checkSetback(g.Setback, LotName); err != nil {
		return err
	}
	if len(g.Lot) > 0 {
		if err := checkRing(g.Lot, "the lot"); err != nil {
			return err
		}
	}
	for i, o := range g.Obstacles {
		if err := checkObstacle(o, i); err != nil {
			return err
		}
	}
	return nil
}

// Check tells what is wrong with a shape of that name alone, as Ground.Check does.
func (s Shape) Check(name string) error { return checkObstacle(Obstacle{Name: name, Shape: s}, 0) }

func checkObstacle(o Obstacle, i int) error {
	name := cmp.Or(o.Name, fmt.Sprintf("obstacle %d", i+1))
	if err := checkSetback(o.Setback, name); err != nil {
		return err
	}
	s := o.Shape
	switch {
	case len(s.Points) == 0:
		return fmt.Errorf("%s has no place: give its points, or leave it out", name)
	case wrongSize(s.Radius):
		return fmt.Errorf("the radius of %s is %v m: give 0 or more, for example 1 ft for a tree", name, float64(s.Radius))
	case wrongSize(s.HalfWidth):
		return fmt.Errorf("half the width of %s is %v m: give 0 or more, for example 1.5 ft for a trench of 3 ft", name, float64(s.HalfWidth))
	case s.Closed:
		return checkRing(s.Points, name)
	}
	return checkPlaces(s.Points, name)
}

func wrongSize(l unit.Length) bool { return !(l >= 0 && l <= far) }

func checkSetback(l unit.Length, from string) error {
	if wrongSize(l) {
		return fmt.Errorf("the setback from %s is %v m: give a distance of 0 or more, for example 10 ft", from, float64(l))
	}
	return nil
}

func checkPlaces(points []planar.Vec, of string) error {
	for i, p := range points {
		if !(math.Abs(float64(p.East)) <= float64(far) && math.Abs(float64(p.North)) <= float64(far)) {
			return fmt.Errorf("corner %d of %s is at %v m east and %v m north: give numbers within 1,000 km", i+1, of, float64(p.East), float64(p.North))
		}
	}
	return nil
}

// checkRing tells what is wrong with a closed outline.
func checkRing(ring []planar.Vec, of string) error {
	if err := checkPlaces(ring, of); err != nil {
		return err
	}
	if len(ring) < 3 {
		return fmt.Errorf("%s has %s: an outline needs at least 3, in order around it", of, corners(len(ring)))
	}
	for i, p := range ring {
		k := (i + 1) % len(ring)
		if ring[k].Minus(p).Length() <= touching {
			return fmt.Errorf("corners %d and %d of %s are one place: leave one of them out", i+1, k+1, of)
		}
	}
	if len(outline(ring)) < 3 {
		return fmt.Errorf("%s has no area: its corners lie on one line", of)
	}
	if i, k, ok := crossing(ring); ok {
		return fmt.Errorf("%s crosses itself: its side from corner %s meets the one from corner %s; give the corners in order around it",
			of, sideWords(i, len(ring)), sideWords(k, len(ring)))
	}
	return nil
}

func corners(n int) string {
	if n == 1 {
		return "1 corner"
	}
	return fmt.Sprintf("%d corners", n)
}

func sideWords(i, n int) string { return fmt.Sprintf("%d to corner %d", i+1, (i+1)%n+1) }

// crossing finds the first two sides of a ring that cross, touch or fold back on
// one another. It goes through the sides from west to east, so that only those
// are compared that lie over one another.
func crossing(ring []planar.Vec) (int, int, bool) {
	n := len(ring)
	west := func(i int) unit.Length { return min(ring[i].East, ring[(i+1)%n].East) }
	east := func(i int) unit.Length { return max(ring[i].East, ring[(i+1)%n].East) }
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, k int) int { return cmp.Or(cmp.Compare(west(i), west(k)), i-k) })
	first := [2]int{n, n}
	for at, i := range order {
		for _, k := range order[at+1:] {
			if west(k) > east(i)+touching {
				break
			}
			if found := [2]int{min(i, k), max(i, k)}; slices.Compare(found[:], first[:]) < 0 && meet(ring, found[0], found[1]) {
				first = found
			}
		}
	}
	return first[0], first[1], first[0] < n
}

// meet tells whether two sides of a ring meet elsewhere than at a corner that
// they share.
func meet(ring []planar.Vec, i, k int) bool {
	n := len(ring)
	a, b, c, d := ring[i], ring[(i+1)%n], ring[k], ring[(k+1)%n]
	switch {
	case (i+1)%n == k:
		return foldsBack(a, b, d)
	case (k+1)%n == i:
		return foldsBack(c, d, b)
	}
	return planar.Cross(a, b, c, d) || min(a.ToSegment(c, d), b.ToSegment(c, d), c.ToSegment(a, b), d.ToSegment(a, b)) <= touching
}

// foldsBack tells whether the way from a over b to c turns back on itself.
func foldsBack(a, b, c planar.Vec) bool {
	return a.Minus(b).Dot(c.Minus(b)) > 0 && min(c.ToSegment(a, b), a.ToSegment(b, c)) <= touching
}

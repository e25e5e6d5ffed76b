package grid_test

import (
	"math/rand/v2"
	"testing"

	"undersod/core/grid"
)

type cm float64

func some(r *rand.Rand) grid.Rect[cm] {
	x, y := cm(r.Float64()*44-2), cm(r.Float64()*44-2) // a few lie outside the area
	return grid.Rect[cm]{X0: x, Y0: y, X1: x + cm(r.Float64()*9), Y1: y + cm(r.Float64()*9)}
}

func meet(a, b grid.Rect[cm]) bool {
	return a.X0 < b.X1 && b.X0 < a.X1 && a.Y0 < b.Y1 && b.Y0 < a.Y1
}

func TestGridFindsWhatAFullSearchFinds(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	g := grid.New(grid.Rect[cm]{X1: 40, Y1: 40}, 5)
	var all []grid.Rect[cm]
	for i := range 300 {
		q := some(r)
		all = append(all, q)
		g.Insert(int32(i), q)
	}
	for i := 0; i < 300; i += 3 {
		g.Remove(int32(i), all[i])
	}
	for range 200 {
		q := some(r)
		found := map[int32]int{}
		for _, id := range g.Near(q, nil) {
			found[id]++
		}
		for i := range all {
			n := found[int32(i)]
			if i%3 == 0 && n != 0 || n > 1 {
				t.Fatalf("entry %d is found %d times", i, n)
			}
			if i%3 != 0 && meet(all[i], q) && n != 1 {
				t.Fatalf("entry %d meets the search and is not found", i)
			}
		}
	}
}

func TestNearLooksAtFewOfMany(t *testing.T) {
	g := grid.New(grid.Rect[cm]{X1: 100, Y1: 100}, 5)
	for i := range int32(2500) {
		x, y := cm(i%50*2), cm(i/50*2)
		g.Insert(i, grid.Rect[cm]{X0: x, Y0: y, X1: x + 1, Y1: y + 1})
	}
	if n := len(g.Near(grid.Rect[cm]{X0: 50, Y0: 50, X1: 51, Y1: 51}, nil)); n == 0 || n > 30 {
		t.Errorf("%d of 2500 rectangles are looked at, expected a few", n)
	}
}

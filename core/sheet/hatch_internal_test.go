package sheet

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestHatchStaysInsideItsArea(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 7))
	for range 200 {
		b := randomBox(r)
		b.HW, b.HH = b.HW+2, b.HH+2
		area := []Pos{b.place(-b.HW, -b.HH), b.place(b.HW, -b.HH), b.place(b.HW, b.HH), b.place(-b.HW, b.HH)}
		lines := across([][]Pos{area}, rising, hatchEvery)
		var whole MM
		for _, s := range lines {
			whole += distance(s[0], s[1])
			if !b.grown(1e-6).holds(s[0]) || !b.grown(1e-6).holds(s[1]) {
				t.Fatalf("a line from %v to %v leaves the box %v", s[0], s[1], b)
			}
		}
		// lines one apart fill the area: their length times the distance is its size
		if size := 4 * b.HW * b.HH; math.Abs(float64(whole*hatchEvery-size)) > 0.15*float64(size)+2 {
			t.Fatalf("lines of %.1f mm hatch %.1f square mm", whole, size)
		}
	}
}

func TestHatchKeepsClearOfLabels(t *testing.T) {
	area := []Pos{{0, 0}, {12, 0}, {12, 8}, {0, 8}}
	label := upright(rect{3, 3, 9, 5})
	p, ok := hatch(lookTank, [][]Pos{area}, []box{label}, "Tank")
	if !ok {
		t.Fatal("a tank is not hatched")
	}
	for _, run := range p.Runs {
		if label.grown(-0.001).meetsSegment(run.Start, run.Pieces[0].To) {
			t.Errorf("the line from %v to %v crosses the label", run.Start, run.Pieces[0].To)
		}
	}
	if _, ok := hatch(lookHouse, [][]Pos{area}, nil, "House"); ok {
		t.Error("a building is hatched")
	}
}

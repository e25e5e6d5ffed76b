// Package grid finds the rectangles near a place without looking at all of
// them, by sorting them into square cells.
package grid

// Rect is an upright rectangle in any one unit of length.
type Rect[T ~float64] struct{ X0, Y0, X1, Y1 T }

// Grid holds rectangles by number. It is not safe for use by several
// goroutines at once.
type Grid[T ~float64] struct {
	area   Rect[T]
	cell   T
	nx, ny int
	cells  [][]int32
	seen   []uint32 // per number, the last search that met it
	search uint32
}

// New returns an empty grid over an area with square cells of a width above
// zero. Rectangles outside the area are held too, and found more slowly.
func New[T ~float64](area Rect[T], cell T) *Grid[T] {
	g := &Grid[T]{area: area, cell: cell}
	g.nx = int((area.X1-area.X0)/cell) + 1
	g.ny = int((area.Y1-area.Y0)/cell) + 1
	g.cells = make([][]int32, g.nx*g.ny)
	return g
}

// each calls do for the cells that r touches; what lies outside the area
// counts to the cells at its edge.
func (g *Grid[T]) each(r Rect[T], do func(cell int)) {
	clamp := func(v T, n int) int { return int(min(max(v/g.cell, 0), T(n-1))) }
	x0, y0 := clamp(r.X0-g.area.X0, g.nx), clamp(r.Y0-g.area.Y0, g.ny)
	x1, y1 := clamp(r.X1-g.area.X0, g.nx), clamp(r.Y1-g.area.Y0, g.ny)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			do(y*g.nx + x)
		}
	}
}

// Insert adds a rectangle under a number from 0 on.
func (g *Grid[T]) Insert(id int32, r Rect[T]) {
	for int(id) >= len(g.seen) {
		g.seen = append(g.seen, 0)
	}
	g.each(r, func(cell int) { g.cells[cell] = append(g.cells[cell], id) })
}

// Remove takes out what was inserted under a number with this very rectangle.
func (g *Grid[T]) Remove(id int32, r Rect[T]) {
	g.each(r, func(cell int) {
		for i, v := range g.cells[cell] {
			if v == id {
				g.cells[cell] = append(g.cells[cell][:i], g.cells[cell][i+1:]...)
				return
			}
		}
	})
}

// Near appends to found the numbers whose cells r touches, each once. Every
// rectangle that meets r is among them, and some that only lie near.
func (g *Grid[T]) Near(r Rect[T], found []int32) []int32 {
	g.search++
	g.each(r, func(cell int) {
		for _, id := range g.cells[cell] {
			if g.seen[id] != g.search {
				g.seen[id] = g.search
				found = append(found, id)
			}
		}
	})
	return found
}

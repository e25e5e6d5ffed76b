package sheet

// grid finds the rectangles near a place, by square cells of the paper.
type grid struct {
	area   rect
	cell   MM
	nx, ny int
	cells  [][]int32
	seen   []uint32 // per id, the last search that met it
	search uint32
}

func newGrid(area rect, cell MM) *grid {
	g := &grid{area: area, cell: cell}
	g.nx = int(area.width()/cell) + 1
	g.ny = int(area.height()/cell) + 1
	g.cells = make([][]int32, g.nx*g.ny)
	return g
}

// span returns the cells that r touches; what lies outside the area counts to
// the cells at its edge.
func (g *grid) span(r rect) (x0, y0, x1, y1 int) {
	clamp := func(v MM, n int) int { return int(min(max(v, 0), MM(n-1))) }
	return clamp((r.X0-g.area.X0)/g.cell, g.nx), clamp((r.Y0-g.area.Y0)/g.cell, g.ny),
		clamp((r.X1-g.area.X0)/g.cell, g.nx), clamp((r.Y1-g.area.Y0)/g.cell, g.ny)
}

func (g *grid) insert(id int32, r rect) {
	for int(id) >= len(g.seen) {
		g.seen = append(g.seen, 0)
	}
	x0, y0, x1, y1 := g.span(r)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			g.cells[y*g.nx+x] = append(g.cells[y*g.nx+x], id)
		}
	}
}

func (g *grid) remove(id int32, r rect) {
	x0, y0, x1, y1 := g.span(r)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			g.drop(y*g.nx+x, id)
		}
	}
}

func (g *grid) drop(cell int, id int32) {
	list := g.cells[cell]
	for i, v := range list {
		if v == id {
			g.cells[cell] = append(list[:i], list[i+1:]...)
			return
		}
	}
}

// near appends to found the ids whose cells r touches, each once.
func (g *grid) near(r rect, found []int32) []int32 {
	g.search++
	x0, y0, x1, y1 := g.span(r)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			for _, id := range g.cells[y*g.nx+x] {
				if g.seen[id] != g.search {
					g.seen[id] = g.search
					found = append(found, id)
				}
			}
		}
	}
	return found
}

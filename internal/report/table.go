package report

import (
	"strings"

	"undersod/core/sheet"
)

// column is one column of a table.
type column struct {
	title string
	right bool // its cells end at the right
	bold  bool
	alarm string // a cell of this text is set off
}

// table is rows of cells under titles. A row of one cell spans the table as a
// title of what follows.
type table struct {
	columns []column
	rows    [][]string
}

func (t *table) row(cells ...string) { t.rows = append(t.rows, cells) }

// gutter is the room between two columns.
const gutter sheet.MM = 3

// table sets a table; its titles are set again on each page that it reaches,
// and no row is cut. It sets nothing where there is no row.
func (f *flow) table(t table) {
	if len(t.rows) == 0 {
		return
	}
	g := f.grid(t)
	head := g.titles()
	head.before, head.keep = 0.8*f.text.size, true
	f.add(head)
	for i, cells := range t.rows {
		rows := g.row(cells, i > 0)
		for k := range rows {
			rows[k].head = &head
			rows[k].keep = len(cells) == 1 || k < len(rows)-1 && len(rows) == 2
		}
		if i == len(t.rows)-2 && len(t.rows) > 2 && len(rows) == 1 {
			rows[0].keep = true // no last row alone on a page
		}
		f.add(rows...)
	}
}

// grid is where the columns of a table stand.
type grid struct {
	f       *flow
	columns []column
	left    []sheet.MM
	width   []sheet.MM
	all     sheet.MM
}

// face of the cells of a column.
func (f *flow) face(c column) face {
	if c.bold {
		return f.cell.bold()
	}
	return f.cell
}

// grid measures the columns: each as wide as its widest cell where all fit;
// otherwise none narrower than its longest word, the rest shared by need.
func (f *flow) grid(t table) *grid {
	g := &grid{f: f, columns: t.columns}
	n := len(t.columns)
	want, need, whole := make([]sheet.MM, n), make([]sheet.MM, n), make([]sheet.MM, n)
	for i, c := range t.columns {
		f.ask(c.title, f.small.bold(), &want[i], &need[i])
		for _, cells := range t.rows {
			if i < len(cells) && len(cells) > 1 {
				f.ask(tidy(cells[i]), f.face(c), &want[i], &need[i])
			}
		}
		need[i] = min(need[i], 0.3*f.width)
		want[i] = max(want[i], need[i])
		whole[i] = max(need[i], min(want[i], shortCell))
	}
	room := f.width - gutter*sheet.MM(n-1)
	if total(whole) <= room { // dates and numbers stay on one line where they can
		need = whole
	}
	g.width = share(room, want, need)
	x := sheet.MM(0)
	for _, w := range g.width {
		g.left = append(g.left, x)
		x += w + gutter
	}
	g.all = f.width
	return g
}

// shortCell is the width up to which a cell should not be broken.
const shortCell sheet.MM = 26

func total(all []sheet.MM) sheet.MM {
	sum := sheet.MM(0)
	for _, v := range all {
		sum += v
	}
	return sum
}

func (f *flow) ask(text string, t face, want, need *sheet.MM) {
	*want = max(*want, f.m.width(text, t)+0.01)
	for _, word := range strings.Fields(text) {
		*need = max(*need, f.m.width(word, t)+0.01)
	}
}

// share divides room among columns.
func share(room sheet.MM, want, need []sheet.MM) []sheet.MM {
	wants, needs := total(want), total(need)
	out := make([]sheet.MM, len(want))
	for i := range want {
		switch {
		case wants <= room: // spread what is left, but do not pull a small table apart
			out[i] = want[i] + min((room-wants)/sheet.MM(len(want)), 8)
		case needs <= room:
			out[i] = need[i] + (room-needs)*(want[i]-need[i])/(wants-needs)
		default:
			out[i] = room * need[i] / needs
		}
	}
	return out
}

// titles is the row of titles.
func (g *grid) titles() item {
	t := g.f.small.bold().in(stone)
	cells := make([][]string, len(g.columns))
	deep := 1
	for i, c := range g.columns {
		cells[i] = g.f.m.wrap(c.title, t, g.width[i])
		deep = max(deep, len(cells[i]))
	}
	h := sheet.MM(deep)*g.f.m.lead(t) + 1.2
	return item{height: h, draw: func(l *page, at sheet.Pos) {
		for i, lines := range cells {
			g.cell(l, sheet.Pos{X: at.X, Y: at.Y + sheet.MM(deep-len(lines))*g.f.m.lead(t)}, i, lines, t)
		}
		l.rule(sheet.Pos{X: at.X, Y: at.Y + h - 0.6}, sheet.Pos{X: at.X + g.all, Y: at.Y + h - 0.6}, 0.3, soil)
	}}
}

// cell writes the lines of one cell.
func (g *grid) cell(l *page, at sheet.Pos, i int, lines []string, t face) {
	x, align := at.X+g.left[i], sheet.AlignLeft
	if g.columns[i].right {
		x, align = x+g.width[i], sheet.AlignRight
	}
	for k, line := range lines {
		l.write(sheet.Pos{X: x, Y: at.Y + g.f.m.rise(t) + sheet.MM(k)*g.f.m.lead(t)}, line, t, align)
	}
}

// row makes the items of one row: one, or several where its cells are so long
// that a page would be left half empty before it.
func (g *grid) row(cells []string, ruled bool) []item {
	if len(cells) == 1 {
		return []item{g.band(cells[0])}
	}
	lines := make([][]string, len(g.columns))
	deep := 1
	for i := range g.columns {
		if i < len(cells) {
			lines[i] = g.f.m.wrap(tidy(cells[i]), g.f.face(g.columns[i]), g.width[i])
			deep = max(deep, len(lines[i]))
		}
	}
	most := max(int(0.25*g.f.room/g.f.m.lead(g.f.cell)), 4)
	var out []item
	for from := 0; from < deep; from += most {
		out = append(out, g.piece(lines, from, min(from+most, deep), ruled && from == 0))
	}
	return out
}

// piece is some of the lines of a row.
func (g *grid) piece(lines [][]string, from, to int, ruled bool) item {
	const air sheet.MM = 0.5
	return item{height: sheet.MM(to-from)*g.f.m.lead(g.f.cell) + 2*air, draw: func(l *page, at sheet.Pos) {
		if ruled {
			l.rule(at, sheet.Pos{X: at.X + g.all, Y: at.Y}, 0.12, hair)
		}
		for i, all := range lines {
			if from < len(all) {
				t := g.f.face(g.columns[i])
				if a := g.columns[i].alarm; a != "" && len(all) == 1 && all[0] == a {
					t = t.bold().in(clay)
				}
				g.cell(l, sheet.Pos{X: at.X, Y: at.Y + air}, i, all[from:min(to, len(all))], t)
			}
		}
	}}
}

// band is a row that spans the table.
func (g *grid) band(text string) item {
	t := g.f.cell.bold().in(soil)
	lines := g.f.m.wrap(tidy(text), t, g.all-2)
	h := sheet.MM(max(len(lines), 1))*g.f.m.lead(t) + 1
	return item{height: h, before: 0.6, draw: func(l *page, at sheet.Pos) {
		l.box(at, g.all, h, &sand, nil)
		for k, line := range lines {
			l.write(sheet.Pos{X: at.X + 1, Y: at.Y + 0.5 + g.f.m.rise(t) + sheet.MM(k)*g.f.m.lead(t)}, line, t, sheet.AlignLeft)
		}
	}}
}

// bare sets a table without titles, as of names and what they are.
func (f *flow) bare(t table) {
	g := f.grid(t)
	first := len(f.items)
	for i, cells := range t.rows {
		f.add(g.row(cells, i > 0)...)
	}
	if len(f.items) > first {
		f.items[first].before = 0.8 * f.text.size
	}
}

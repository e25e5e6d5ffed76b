package flow

import (
	"strings"

	"undersod/core/sheet"
)

// Column is one column of a table.
type Column struct {
	Title string
	Right bool // its cells end at the right
	Bold  bool
	Alarm string // a cell of this text is set off
	Warn  string // a cell of this text is set off less
}

// Table is rows of cells under titles. A row of one cell spans the table as a
// title of what follows.
type Table struct {
	Columns []Column
	Rows    [][]string
}

// Row adds a row.
func (t *Table) Row(cells ...string) { t.Rows = append(t.Rows, cells) }

// gutter is the room between two columns.
const gutter sheet.MM = 3

// Table sets a table; its titles are set again on each page that it reaches,
// and no row is cut. It sets nothing where there is no row.
func (f *Flow) Table(t Table) {
	if len(t.Rows) == 0 {
		return
	}
	g := f.grid(t)
	head := g.titles()
	head.Before, head.Keep = 0.8*f.Text.Size, true
	f.Add(head)
	for i, cells := range t.Rows {
		rows := g.row(cells, i > 0)
		for k := range rows {
			rows[k].Head = &head
			rows[k].Keep = len(cells) == 1 || k < len(rows)-1 && len(rows) == 2
		}
		if (i == 0 || i == len(t.Rows)-2) && len(t.Rows) > 2 && len(rows) == 1 {
			rows[0].Keep = true // neither the first row alone on a page nor the last
		}
		f.Add(rows...)
	}
}

// grid is where the columns of a table stand.
type grid struct {
	f       *Flow
	columns []Column
	left    []sheet.MM
	width   []sheet.MM
	all     sheet.MM
}

// face of the cells of a column.
func (f *Flow) face(c Column) Face {
	if c.Bold {
		return f.Cell.InBold()
	}
	return f.Cell
}

// grid measures the columns: each as wide as its widest cell where all fit;
// otherwise none narrower than its longest word, the rest shared by need.
func (f *Flow) grid(t Table) *grid {
	g := &grid{f: f, columns: t.Columns}
	n := len(t.Columns)
	want, need, whole := make([]sheet.MM, n), make([]sheet.MM, n), make([]sheet.MM, n)
	for i, c := range t.Columns {
		f.ask(c.Title, f.Small.InBold(), &want[i], &need[i])
		for _, cells := range t.Rows {
			if i < len(cells) && len(cells) > 1 {
				f.ask(Tidy(cells[i]), f.face(c), &want[i], &need[i])
			}
		}
		need[i] = min(need[i], 0.3*f.Width)
		want[i] = max(want[i], need[i])
		whole[i] = max(need[i], min(want[i], shortCell))
	}
	room := f.Width - gutter*sheet.MM(n-1)
	if total(whole) <= room { // dates and numbers stay on one line where they can
		need = whole
	}
	g.width = share(room, want, need)
	x := sheet.MM(0)
	for _, w := range g.width {
		g.left = append(g.left, x)
		x += w + gutter
	}
	g.all = f.Width
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

func (f *Flow) ask(text string, t Face, want, need *sheet.MM) {
	*want = max(*want, f.M.Wide(text, t)+0.01)
	for _, word := range strings.Fields(text) {
		*need = max(*need, f.M.Wide(word, t)+0.01)
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
func (g *grid) titles() Item {
	t := g.f.Small.InBold().In(Stone)
	cells := make([][]string, len(g.columns))
	deep := 1
	for i, c := range g.columns {
		cells[i] = g.f.M.Wrap(c.Title, t, g.width[i])
		deep = max(deep, len(cells[i]))
	}
	h := sheet.MM(deep)*g.f.M.Lead(t) + 1.2
	return Item{Height: h, Draw: func(l *Page, at sheet.Pos) {
		for i, lines := range cells {
			g.cell(l, sheet.Pos{X: at.X, Y: at.Y + sheet.MM(deep-len(lines))*g.f.M.Lead(t)}, i, lines, t)
		}
		l.Rule(sheet.Pos{X: at.X, Y: at.Y + h - 0.6}, sheet.Pos{X: at.X + g.all, Y: at.Y + h - 0.6}, 0.3, Soil)
	}}
}

// cell writes the lines of one cell.
func (g *grid) cell(l *Page, at sheet.Pos, i int, lines []string, t Face) {
	x, align := at.X+g.left[i], sheet.AlignLeft
	if g.columns[i].Right {
		x, align = x+g.width[i], sheet.AlignRight
	}
	for k, line := range lines {
		l.Write(sheet.Pos{X: x, Y: at.Y + g.f.M.Rise(t) + sheet.MM(k)*g.f.M.Lead(t)}, line, t, align)
	}
}

// row makes the items of one row: one, or several where its cells are so long
// that a page would be left half empty before it.
func (g *grid) row(cells []string, ruled bool) []Item {
	if len(cells) == 1 {
		return []Item{g.band(cells[0])}
	}
	lines := make([][]string, len(g.columns))
	deep := 1
	for i := range g.columns {
		if i < len(cells) {
			lines[i] = g.f.M.Wrap(Tidy(cells[i]), g.f.face(g.columns[i]), g.width[i])
			deep = max(deep, len(lines[i]))
		}
	}
	most := max(int(0.25*g.f.Room/g.f.M.Lead(g.f.Cell)), 4)
	var out []Item
	for from := 0; from < deep; from += most {
		out = append(out, g.piece(lines, from, min(from+most, deep), ruled && from == 0))
	}
	return out
}

// piece is some of the lines of a row.
func (g *grid) piece(lines [][]string, from, to int, ruled bool) Item {
	const air sheet.MM = 0.5
	return Item{Height: sheet.MM(to-from)*g.f.M.Lead(g.f.Cell) + 2*air, Draw: func(l *Page, at sheet.Pos) {
		if ruled {
			l.Rule(at, sheet.Pos{X: at.X + g.all, Y: at.Y}, 0.12, Hair)
		}
		for i, all := range lines {
			if from < len(all) {
				t := g.f.face(g.columns[i])
				switch text := strings.Join(all, " "); {
				case text == "":
				case text == g.columns[i].Alarm:
					t = t.InBold().In(Clay)
				case text == g.columns[i].Warn:
					t = t.InBold().In(Ochre)
				}
				g.cell(l, sheet.Pos{X: at.X, Y: at.Y + air}, i, all[from:min(to, len(all))], t)
			}
		}
	}}
}

// band is a row that spans the table.
func (g *grid) band(text string) Item {
	t := g.f.Cell.InBold().In(Soil)
	lines := g.f.M.Wrap(Tidy(text), t, g.all-2)
	h := sheet.MM(max(len(lines), 1))*g.f.M.Lead(t) + 1
	return Item{Height: h, Before: 0.6, Draw: func(l *Page, at sheet.Pos) {
		l.Box(at, g.all, h, &Sand, nil)
		for k, line := range lines {
			l.Write(sheet.Pos{X: at.X + 1, Y: at.Y + 0.5 + g.f.M.Rise(t) + sheet.MM(k)*g.f.M.Lead(t)}, line, t, sheet.AlignLeft)
		}
	}}
}

// Bare sets a table without titles, as of names and what they are.
func (f *Flow) Bare(t Table) {
	g := f.grid(t)
	first := len(f.Items)
	for i, cells := range t.Rows {
		f.Add(g.row(cells, i > 0)...)
	}
	if len(f.Items) > first {
		f.Items[first].Before = 0.8 * f.Text.Size
	}
}

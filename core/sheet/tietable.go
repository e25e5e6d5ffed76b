package sheet

import "undersod/core/ties"

// tieTable lays the table out for a column.
func (f *facts) tieTable(width MM) block {
	rows := f.table.Rows
	made, more := within(len(rows))
	rows = rows[:made]
	t := f.columns(rows, width)
	b := block{head: "Where the parts lie", noun: "row", more: more, top: []row{t.titles()}}
	for i := range rows {
		b.rows = append(b.rows, t.row(rows[i], i))
	}
	for _, note := range f.table.Notes {
		b.rows = append(b.rows, paragraph(f.m, note, Regular, sizeFine, width, soil))
	}
	return b
}

// tieColumns is where the columns of the table stand.
type tieColumns struct {
	m          *measure
	name, sure MM // widths
	cell       MM // width of one reading
	room       MM // all readings of a line
	per        int
	x          MM // where the readings begin
}

const columnGap MM = 2

// longCell is the width over which a reading takes a line of its own.
const longCell MM = 25

func (f *facts) columns(rows []ties.Row, width MM) tieColumns {
	t := tieColumns{m: f.m, sure: f.m.width("95 % ±", Bold, sizeFine)}
	for _, r := range rows {
		t.name = max(t.name, f.m.width(r.Name, Bold, sizeTable))
		t.sure = max(t.sure, f.m.width(r.Sure, Regular, sizeTable))
		for _, c := range r.Cells[r.Alone:] {
			if w := f.m.width(c, Regular, sizeTable); w <= longCell {
				t.cell = max(t.cell, w)
			}
		}
	}
	t.name = min(t.name, 0.34*width)
	t.sure = min(t.sure, 0.2*width)
	t.x = t.name + columnGap
	room := width - t.x - t.sure - columnGap
	t.per = min(max(int((room+columnGap)/(t.cell+columnGap)), 1), 4)
	t.room = room
	t.cell = min(room, (room+columnGap)/MM(t.per)-columnGap)
	return t
}

// titles is the row of column titles.
func (t tieColumns) titles() row {
	return row{t.m.lead(Bold, sizeFine) + 0.6, func(k *furniture, in rect) {
		k.write(in.X0, in.Y0, "part", Bold, sizeFine, stone)
		k.write(in.X0+t.x, in.Y0, "from mark", Bold, sizeFine, stone)
		k.write(in.X1-t.sure, in.Y0, "95 % ±", Bold, sizeFine, stone)
	}}
}

// set is a text broken into lines at a place of a row.
type set struct {
	x      MM
	lines  []string
	weight Weight
}

// row is one part of the table.
func (t tieColumns) row(r ties.Row, n int) row {
	lead := t.m.lead(Regular, sizeTable)
	var cells []set
	high := 1
	high = max(high, t.add(&cells, 0, r.Name, Bold, t.name, 0))
	high = max(high, t.readings(&cells, r))
	side := []set{}
	high = max(high, t.add(&side, -t.sure, r.Sure, Regular, t.sure, 0))
	return row{MM(high)*lead + 0.7, func(k *furniture, in rect) {
		if n > 0 {
			k.line(Pos{in.X0, in.Y0}, Pos{in.X1, in.Y0}, 0.1, rule)
		}
		t.draw(k, cells, in.X0, in.Y0+0.3)
		t.draw(k, side, in.X1, in.Y0+0.3)
	}}
}

// readings sets the readings side by side, the long ones on lines of their own,
// and returns how many lines they take.
func (t tieColumns) readings(to *[]set, r ties.Row) int {
	line, col, deepest := 0, 0, 0
	feed := func() {
		line, col, deepest = line+deepest, 0, 0
	}
	for i, text := range r.Cells {
		x, width := t.x+MM(col)*(t.cell+columnGap), t.cell
		long := i < r.Alone || t.m.width(text, Regular, sizeTable) > t.cell+0.001
		if long {
			feed()
			x, width = t.x, t.room
		}
		deepest = max(deepest, t.add(to, x, text, Regular, width, line))
		if col++; long || col >= t.per {
			feed()
		}
	}
	feed()
	return line
}

// add wraps a text into a cell that begins at a line of the row, and returns
// how many lines it takes.
func (t tieColumns) add(to *[]set, x MM, text string, w Weight, width MM, line int) int {
	lines := t.m.wrap(text, w, sizeTable, width)
	pad := make([]string, line, line+len(lines))
	*to = append(*to, set{x, append(pad, lines...), w})
	return len(lines)
}

func (t tieColumns) draw(k *furniture, cells []set, x, y MM) {
	lead := t.m.lead(Regular, sizeTable)
	for _, c := range cells {
		for i, l := range c.lines {
			k.write(x+c.x, y+MM(i)*lead, l, c.weight, sizeTable, ink)
		}
	}
}

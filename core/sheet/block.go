package sheet

// row is one piece of furniture that is never torn: its height, and how it is
// drawn into a strip of the column.
type row struct {
	height MM
	draw   func(k *furniture, in rect)
}

// block is a heading and its rows, set into a column of the panel.
type block struct {
	head  string
	top   []row // behind the heading, repeated where the block goes on in the next column
	rows  []row
	whole bool   // never torn between columns
	more  int    // rows beyond those that any paper holds
	noun  string // of a row that may be left to the check where paper runs out; empty for never
}

// furniture collects the shapes round the drawing.
type furniture struct {
	m      *measure
	facts  *facts
	shapes []Shape
}

func (k *furniture) put(s ...Shape) { k.shapes = append(k.shapes, s...) }

// write sets one line of text with its top at y.
func (k *furniture) write(x, y MM, text string, w Weight, size MM, c Colour) {
	if text != "" {
		k.put(Text{At: Pos{x, y + k.m.Ascent(w, size)}, Text: text, Size: size, Weight: w, Colour: c})
	}
}

func (k *furniture) line(a, b Pos, width MM, c Colour) {
	k.put(Path{Runs: []Run{straight([]Pos{a, b}, false)}, Stroke: &Stroke{Width: width, Colour: c}})
}

func (k *furniture) frame(r rect, width MM, c Colour) {
	k.put(Path{Runs: []Run{straight([]Pos{{r.X0, r.Y0}, {r.X1, r.Y0}, {r.X1, r.Y1}, {r.X0, r.Y1}}, true)}, Stroke: &Stroke{Width: width, Colour: c}})
}

// gapAfter is the room below a block.
const gapAfter MM = 3.2

// headHeight is the height of a block's heading with the rule under it.
const headHeight MM = 4.6

func heading(text string) row {
	return row{headHeight, func(k *furniture, in rect) {
		k.write(in.X0, in.Y0, text, Bold, sizeHead, soil)
		k.line(Pos{in.X0, in.Y1 - 0.8}, Pos{in.X1, in.Y1 - 0.8}, 0.2, rule)
	}}
}

// paragraph makes a row of wrapped text.
func paragraph(m *measure, text string, weight Weight, size, width MM, c Colour) row {
	lines := m.wrap(text, weight, size, width)
	lead := m.lead(weight, size)
	return row{MM(len(lines))*lead + 0.8, func(k *furniture, in rect) {
		for i, l := range lines {
			k.write(in.X0, in.Y0+MM(i)*lead, l, weight, size, c)
		}
	}}
}

// opening returns the rows that open a block or its continuation.
func (b *block) opening(again bool) []row {
	var out []row
	if b.head != "" {
		text := b.head
		if again {
			text += " (continued)"
		}
		out = append(out, heading(text))
	}
	return append(out, b.top...)
}

// mostRows is more rows than the largest paper holds.
const mostRows = 800

// within returns how many of n rows are made, and how many are left out.
func within(n int) (made, more int) {
	return min(n, mostRows), max(n-mostRows, 0)
}

func heightOf(rows []row) MM {
	var h MM
	for _, r := range rows {
		h += r.height
	}
	return h
}

// setRow is a row in its place.
type setRow struct {
	row
	in rect
}

// flow sets blocks into columns, and counts the rows that found no room; it is
// bad where those are of a block that may not lose any.
type flow struct {
	cols []rect
	col  int
	y    MM
	set  []setRow
	lost int
	bad  bool
}

func newFlow(cols []rect) *flow {
	return &flow{cols: cols, y: cols[0].Y0}
}

func (f *flow) left() MM { return f.cols[f.col].Y1 - f.y }

func (f *flow) put(rows []row) {
	c := f.cols[f.col]
	for _, r := range rows {
		f.set = append(f.set, setRow{r, rect{c.X0, f.y, c.X1, f.y + r.height}})
		f.y += r.height
	}
}

// next moves to the next column, if there is one.
func (f *flow) next() bool {
	if f.col+1 >= len(f.cols) {
		return false
	}
	f.col++
	f.y = f.cols[f.col].Y0
	return true
}

// block sets one block.
func (f *flow) block(b block) {
	if len(b.rows) == 0 {
		return
	}
	f.lost += b.more
	need := heightOf(b.opening(false)) + b.rows[0].height
	if b.whole {
		need += heightOf(b.rows[1:])
	}
	for need > f.left() {
		if !f.next() {
			f.lost, f.bad = f.lost+len(b.rows), f.bad || b.noun == ""
			return
		}
	}
	f.put(b.opening(false))
	for i, r := range b.rows {
		if r.height > f.left() {
			if !f.next() || r.height+heightOf(b.opening(true)) > f.left() {
				f.lost, f.bad = f.lost+len(b.rows)-i, f.bad || b.noun == ""
				return
			}
			f.put(b.opening(true))
		}
		f.put([]row{r})
	}
	f.y += gapAfter
}

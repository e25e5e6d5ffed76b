package sheet

// The margins of the sheet.
const (
	pageMargin  MM = 9
	panelInset  MM = 3
	columnSpace MM = 4.5
)

// page is one way to divide a paper into the drawing and its panel.
type page struct {
	paper         Paper
	width, height MM
	frame         rect
	area          rect // of the drawing
	set           []setRow
	cut           bool // rows may be left out
	lost          int  // rows that found no room
	scale         Scale
	unusual       bool
}

// split is how the panel lies on the sheet.
type split struct {
	right   bool // at the right; otherwise along the bottom
	columns int
	width   MM // of one column, for a panel at the right
}

// splits are the divisions that are tried.
var splits = []split{
	{true, 1, 64}, {true, 1, 72}, {true, 1, 80}, {true, 1, 90}, {true, 1, 104}, {true, 2, 62}, {true, 2, 72}, {true, 3, 66},
	{false, 1, 0}, {false, 2, 0}, {false, 3, 0}, {false, 4, 0}, {false, 5, 0},
}

// narrowest is the least width of a column.
const narrowest MM = 60

// divide lays the panel out in one way and chooses the scale for what is left;
// false where the blocks do not fit.
func (f *facts) divide(p Paper, o Orientation, s split, cut bool) (page, bool) {
	w, h, _ := p.Size()
	if o == Landscape {
		w, h = h, w
	}
	pg := page{paper: p, width: w, height: h, frame: rect{pageMargin, pageMargin, w - pageMargin, h - pageMargin}}
	if s.right {
		return f.divideRight(pg, s, cut)
	}
	return f.divideBottom(pg, s, cut)
}

func (f *facts) divideRight(pg page, s split, cut bool) (page, bool) {
	wide := MM(s.columns)*s.width + MM(s.columns-1)*columnSpace + 2*panelInset
	if wide > 0.56*pg.frame.width() {
		return pg, false
	}
	pg.area = pg.frame
	pg.area.X1 -= wide
	panel := rect{pg.area.X1, pg.frame.Y0, pg.frame.X1, pg.frame.Y1}
	return f.fill(pg, panel, s.columns, cut)
}

// divideBottom finds the lowest panel along the bottom that holds the blocks.
func (f *facts) divideBottom(pg page, s split, cut bool) (page, bool) {
	each := (pg.frame.width() - 2*panelInset - columnSpace*MM(s.columns-1)) / MM(s.columns)
	if each < narrowest || each > 130 {
		return pg, false
	}
	highest := 0.56 * pg.frame.height()
	for h := MM(50); ; h += 4 {
		if h > highest {
			h = highest
		}
		try := pg
		try.area = pg.frame
		try.area.Y1 -= h
		panel := rect{pg.frame.X0, try.area.Y1, pg.frame.X1, pg.frame.Y1}
		if done, ok := f.fill(try, panel, s.columns, cut && h >= highest); ok {
			return done, true
		}
		if h >= highest {
			return pg, false
		}
	}
}

// columns divides a panel.
func columns(panel rect, n int) []rect {
	in := panel.grown(-panelInset)
	each := (in.width() - columnSpace*MM(n-1)) / MM(n)
	out := make([]rect, n)
	for i := range out {
		x := in.X0 + MM(i)*(each+columnSpace)
		out[i] = rect{x, in.Y0, x + each, in.Y1}
	}
	return out
}

// fill sets the blocks into the panel: the title block at the foot of the last
// column, the others before it. Where cut, long tables may lose their ends.
func (f *facts) fill(pg page, panel rect, n int, cut bool) (page, bool) {
	cols := columns(panel, n)
	last := &cols[n-1]
	width := last.width()
	width = MM(int(width*16)) / 16 // the same width for the same paper, so that blocks are made once
	title := f.titleRow(width)
	if title.height > last.height() {
		return pg, false
	}
	foot := rect{last.X0, last.Y1 - title.height, last.X0 + width, last.Y1}
	last.Y1 -= title.height + gapAfter
	fl := newFlow(cols)
	if cut {
		f.flowCut(fl, width)
	} else {
		for _, b := range f.blocksFor(width) {
			fl.block(b)
		}
	}
	if fl.bad || fl.lost > 0 && !cut {
		return pg, false
	}
	pg.cut = cut
	pg.set, pg.lost = append(fl.set, setRow{title, foot}), fl.lost
	return pg, true
}

// flowCut sets what may not be left out first, then the tables as far as they go.
func (f *facts) flowCut(fl *flow, width MM) {
	note := paragraph(f.m, continued(1_000_000), Bold, sizeFine, width, clay)
	end := &fl.cols[len(fl.cols)-1]
	end.Y1 -= note.height
	at := rect{end.X0, end.Y1, end.X0 + width, end.Y1 + note.height}
	blocks := f.blocksFor(width)
	for _, must := range [...]bool{true, false} {
		for _, b := range blocks {
			if (b.noun == "") == must {
				fl.block(b)
			}
		}
	}
	if fl.lost > 0 {
		fl.set = append(fl.set, setRow{paragraph(f.m, continued(fl.lost), Bold, sizeFine, width, clay), at})
	}
}

// best returns the division of a paper that gives the largest drawing,
// among those the one with most room round it, and then the smallest panel.
func (f *facts) best(p Paper, o Options, e extent, cut bool) (page, bool) {
	var found page
	ok := false
	for _, way := range o.ways() {
		for _, s := range splits {
			pg, fits := f.divide(p, way, s, cut)
			if !fits {
				continue
			}
			pg.scale, pg.unusual = f.say.choose(e, pg.area)
			if o.Scale > 0 {
				if pg.scale, pg.unusual = o.Scale, false; !e.fits(pg.area, o.Scale) {
					continue
				}
			}
			if !ok || pg.better(found, e) {
				found, ok = pg, true
			}
		}
	}
	return found, ok
}

func (pg *page) better(than page, e extent) bool {
	if pg.lost != than.lost {
		return pg.lost < than.lost
	}
	if pg.scale != than.scale {
		return pg.scale < than.scale
	}
	more := e.slack(pg.area, pg.scale) - e.slack(than.area, than.scale)
	if more > 0.01 || more < -0.01 {
		return more > 0
	}
	return pg.area.width()*pg.area.height() > than.area.width()*than.area.height()+1
}

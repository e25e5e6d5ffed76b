package report

import "undersod/core/sheet"

// flow gathers the items of a report in reading order.
type flow struct {
	m     *measure
	width sheet.MM // of the text
	room  sheet.MM // height of a page's text
	text  face     // of the running text
	small face     // of notes and captions
	cell  face     // of tables
	items []item
	gap   sheet.MM // wanted above the next item
}

func (f *flow) add(items ...item) {
	if len(items) > 0 {
		items[0].before, f.gap = max(items[0].before, f.gap), 0
	}
	f.items = append(f.items, items...)
}

// keepLast binds the last item to what follows.
func (f *flow) keepLast() {
	if n := len(f.items); n > 0 {
		f.items[n-1].keep = true
	}
}

// lines sets the lines of a text with an indent. Two lines at least stay
// together at each end, so that none stands alone on a page.
func (f *flow) lines(text string, t face, indent, before sheet.MM) int {
	lines := f.m.wrap(tidy(text), t, f.width-indent)
	for i, line := range lines {
		it := item{height: f.m.lead(t), draw: func(l *page, at sheet.Pos) {
			l.write(sheet.Pos{X: at.X + indent, Y: at.Y + f.m.rise(t)}, line, t, sheet.AlignLeft)
		}}
		if i == 0 {
			it.before = before
		}
		it.keep = i < len(lines)-1 && (i == 0 || i == len(lines)-2)
		f.add(it)
	}
	return len(lines)
}

// para sets a paragraph of running text.
func (f *flow) para(text string) { f.lines(text, f.text, 0, 0.45*f.text.size) }

// note sets a paragraph of small type.
func (f *flow) note(text string) { f.lines(text, f.small, 0, 0.4*f.small.size) }

// title sets the title of the whole report.
func (f *flow) title(text string) {
	f.lines(text, face{2.1 * f.text.size, sheet.Bold, soil}, 0, 0)
	f.bind()
}

// bind keeps all lines of the last paragraph together and with what follows.
func (f *flow) bind() {
	for i := len(f.items) - 1; i >= 0; i-- {
		f.items[i].keep = true
		if f.items[i].before > 0 {
			return
		}
	}
}

// heading begins a part of the report. It never stands at the foot of a page.
func (f *flow) heading(text string) {
	t := face{1.4 * f.text.size, sheet.Bold, soil}
	lines := f.m.wrap(tidy(text), t, f.width)
	for i, line := range lines {
		last := i == len(lines)-1
		it := item{height: f.m.lead(t), keep: true, draw: func(l *page, at sheet.Pos) {
			l.write(sheet.Pos{X: at.X, Y: at.Y + f.m.rise(t)}, line, t, sheet.AlignLeft)
			if y := at.Y + f.m.lead(t) + 0.4; last {
				l.rule(sheet.Pos{X: at.X, Y: y}, sheet.Pos{X: at.X + f.width, Y: y}, 0.3, soil)
			}
		}}
		if i == 0 {
			it.before = 1.5 * f.text.size
		}
		if last {
			it.height += 1
		}
		f.add(it)
	}
}

// sub begins a smaller part.
func (f *flow) sub(text string) {
	f.lines(text, f.text.bold().in(soil), 0, f.text.size)
	f.bind()
}

// bullet sets one point of a list: a bold lead, a line in the point's colour,
// then the rest. Any of them may be empty.
func (f *flow) bullet(lead, when, rest string, c sheet.Colour) {
	indent, first := 1.25*f.text.size, len(f.items)
	gap := 0.5 * f.text.size
	for _, s := range []said{{lead, f.text.bold()}, {when, f.small.bold().in(c)}, {rest, f.text}} {
		if f.lines(s.text, s.face, indent, gap) > 0 {
			f.keepLast()
			gap = 0
		}
	}
	if len(f.items) > first {
		f.items[len(f.items)-1].keep = false
		f.mark(&f.items[first], c)
	}
}

// mark sets the dot of a list before an item's line.
func (f *flow) mark(it *item, c sheet.Colour) {
	draw, r := it.draw, 0.22*f.text.size
	y := f.m.rise(f.text) - 0.34*f.text.size
	it.draw = func(l *page, at sheet.Pos) {
		centre := sheet.Pos{X: at.X + 0.45*f.text.size, Y: at.Y + y}
		l.put(sheet.Path{Fill: &c, Runs: []sheet.Run{disc(centre, r)}})
		draw(l, at)
	}
}

// disc is a full circle as two half arcs.
func disc(c sheet.Pos, r sheet.MM) sheet.Run {
	a, b := sheet.Pos{X: c.X - r, Y: c.Y}, sheet.Pos{X: c.X + r, Y: c.Y}
	return sheet.Run{Start: a, Closed: true, Pieces: []sheet.Piece{
		{To: b, Arc: true, Centre: c, Clockwise: true}, {To: a, Arc: true, Centre: c, Clockwise: true},
	}}
}

// said is one paragraph of a callout.
type said struct {
	text string
	face face
}

// callout sets paragraphs on a tinted ground with a bar at its left.
func (f *flow) callout(ground, bar sheet.Colour, all ...said) {
	const pad sheet.MM = 3
	var rows []item
	strip := func(h sheet.MM, draw func(l *page, at sheet.Pos)) {
		rows = append(rows, item{height: h, draw: func(l *page, at sheet.Pos) {
			l.box(at, f.width, h, &ground, nil)
			l.box(at, 1.2, h, &bar, nil)
			if draw != nil {
				draw(l, at)
			}
		}})
	}
	strip(0.75*pad, nil)
	for k, s := range all {
		for i, line := range f.m.wrap(tidy(s.text), s.face, f.width-2.4*pad) {
			gap := sheet.MM(0)
			if i == 0 && k > 0 {
				gap = 0.3 * s.face.size
			}
			strip(f.m.lead(s.face)+gap, func(l *page, at sheet.Pos) {
				l.write(sheet.Pos{X: at.X + 1.4*pad, Y: at.Y + gap + f.m.rise(s.face)}, line, s.face, sheet.AlignLeft)
			})
		}
	}
	strip(0.75*pad, nil)
	for i := range rows[:len(rows)-1] {
		rows[i].keep = true
	}
	rows[0].before = 1.1 * f.text.size
	f.add(rows...)
	f.space(0.6 * f.text.size)
}

// space leaves room, which is lost at the top of a page.
func (f *flow) space(h sheet.MM) { f.gap = h }

// figure sets a finished scene scaled to the width of the text, or smaller
// where it would be taller than two thirds of a page, with words below it.
func (f *flow) figure(s sheet.Scene, words string) {
	if !(s.Width > 0 && s.Height > 0) {
		return
	}
	scale := min(f.width/s.Width, 0.66*f.room/s.Height)
	left := (f.width - s.Width*scale) / 2
	f.add(item{height: s.Height * scale, before: 0.8 * f.text.size, keep: tidy(words) != "", draw: func(l *page, at sheet.Pos) {
		inset(l, &s, sheet.Pos{X: at.X + left, Y: at.Y}, scale)
	}})
	f.note(words)
}

// sheetPage sets a finished sheet as a page of its own.
func (f *flow) sheetPage(s sheet.Scene) { f.add(item{whole: &s}) }

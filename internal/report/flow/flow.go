package flow

import "undersod/core/sheet"

// Flow gathers the items of a report in reading order.
type Flow struct {
	M     *Measure
	Width sheet.MM // of the text
	Room  sheet.MM // height of a page's text
	Text  Face     // of the running text
	Small Face     // of notes and captions
	Cell  Face     // of tables
	Items []Item
	Gap   sheet.MM // wanted above the next item
}

// Add puts items at the end.
func (f *Flow) Add(items ...Item) {
	if len(items) > 0 {
		items[0].Before, f.Gap = max(items[0].Before, f.Gap), 0
	}
	f.Items = append(f.Items, items...)
}

// KeepLast binds the last item to what follows.
func (f *Flow) KeepLast() {
	if n := len(f.Items); n > 0 {
		f.Items[n-1].Keep = true
	}
}

// Lines sets the lines of a text with an indent. Two lines at least stay
// together at each end, so that none stands alone on a page.
func (f *Flow) Lines(text string, t Face, indent, before sheet.MM) int {
	lines := f.M.Wrap(Tidy(text), t, f.Width-indent)
	for i, line := range lines {
		it := Item{Height: f.M.Lead(t), Draw: func(l *Page, at sheet.Pos) {
			l.Write(sheet.Pos{X: at.X + indent, Y: at.Y + f.M.Rise(t)}, line, t, sheet.AlignLeft)
		}}
		if i == 0 {
			it.Before = before
		}
		it.Keep = i < len(lines)-1 && (i == 0 || i == len(lines)-2)
		f.Add(it)
	}
	return len(lines)
}

// Para sets a paragraph of running text.
func (f *Flow) Para(text string) { f.Lines(text, f.Text, 0, 0.45*f.Text.Size) }

// Note sets a paragraph of small type.
func (f *Flow) Note(text string) { f.Lines(text, f.Small, 0, 0.4*f.Small.Size) }

// Title sets the title of the whole report.
func (f *Flow) Title(text string) {
	f.Lines(text, Face{2.1 * f.Text.Size, sheet.Bold, Soil}, 0, 0)
	f.bind()
}

// bind keeps all lines of the last paragraph together and with what follows.
func (f *Flow) bind() {
	for i := len(f.Items) - 1; i >= 0; i-- {
		f.Items[i].Keep = true
		if f.Items[i].Before > 0 {
			return
		}
	}
}

// Heading begins a part of the report. It never stands at the foot of a page.
func (f *Flow) Heading(text string) {
	t := Face{1.4 * f.Text.Size, sheet.Bold, Soil}
	lines := f.M.Wrap(Tidy(text), t, f.Width)
	for i, line := range lines {
		last := i == len(lines)-1
		it := Item{Height: f.M.Lead(t), Keep: true, Draw: func(l *Page, at sheet.Pos) {
			l.Write(sheet.Pos{X: at.X, Y: at.Y + f.M.Rise(t)}, line, t, sheet.AlignLeft)
			if y := at.Y + f.M.Lead(t) + 0.4; last {
				l.Rule(sheet.Pos{X: at.X, Y: y}, sheet.Pos{X: at.X + f.Width, Y: y}, 0.3, Soil)
			}
		}}
		if i == 0 {
			it.Before = 1.5 * f.Text.Size
		}
		if last {
			it.Height += 1
		}
		f.Add(it)
	}
}

// Sub begins a smaller part.
func (f *Flow) Sub(text string) {
	f.Lines(text, f.Text.InBold().In(Soil), 0, f.Text.Size)
	f.bind()
}

// Bullet sets one point of a list: a bold lead, a line in the point's colour,
// then the rest. Any of them may be empty.
func (f *Flow) Bullet(lead, when, rest string, c sheet.Colour) {
	indent, first := 1.25*f.Text.Size, len(f.Items)
	gap := 0.5 * f.Text.Size
	for _, s := range []Said{{lead, f.Text.InBold()}, {when, f.Small.InBold().In(c)}, {rest, f.Text}} {
		if f.Lines(s.Text, s.Face, indent, gap) > 0 {
			f.KeepLast()
			gap = 0
		}
	}
	if len(f.Items) > first {
		f.Items[len(f.Items)-1].Keep = false
		f.mark(&f.Items[first], c)
	}
}

// mark sets the dot of a list before an item's line.
func (f *Flow) mark(it *Item, c sheet.Colour) {
	draw, r := it.Draw, 0.22*f.Text.Size
	y := f.M.Rise(f.Text) - 0.34*f.Text.Size
	it.Draw = func(l *Page, at sheet.Pos) {
		centre := sheet.Pos{X: at.X + 0.45*f.Text.Size, Y: at.Y + y}
		l.Put(sheet.Path{Fill: &c, Runs: []sheet.Run{Disc(centre, r)}})
		draw(l, at)
	}
}

// Disc is a full circle as two half arcs.
func Disc(c sheet.Pos, r sheet.MM) sheet.Run {
	a, b := sheet.Pos{X: c.X - r, Y: c.Y}, sheet.Pos{X: c.X + r, Y: c.Y}
	return sheet.Run{Start: a, Closed: true, Pieces: []sheet.Piece{
		{To: b, Arc: true, Centre: c, Clockwise: true}, {To: a, Arc: true, Centre: c, Clockwise: true},
	}}
}

// Said is one paragraph of a callout.
type Said struct {
	Text string
	Face Face
}

// Say is a paragraph of a callout in a face.
func Say(text string, f Face) Said { return Said{text, f} }

// Callout sets paragraphs on a tinted ground with a bar at its left.
func (f *Flow) Callout(ground, bar sheet.Colour, all ...Said) {
	const pad sheet.MM = 3
	var rows []Item
	strip := func(h sheet.MM, draw func(l *Page, at sheet.Pos)) {
		rows = append(rows, Item{Height: h, Draw: func(l *Page, at sheet.Pos) {
			l.Box(at, f.Width, h, &ground, nil)
			l.Box(at, 1.2, h, &bar, nil)
			if draw != nil {
				draw(l, at)
			}
		}})
	}
	strip(0.75*pad, nil)
	for k, s := range all {
		for i, line := range f.M.Wrap(Tidy(s.Text), s.Face, f.Width-2.4*pad) {
			gap := sheet.MM(0)
			if i == 0 && k > 0 {
				gap = 0.3 * s.Face.Size
			}
			strip(f.M.Lead(s.Face)+gap, func(l *Page, at sheet.Pos) {
				l.Write(sheet.Pos{X: at.X + 1.4*pad, Y: at.Y + gap + f.M.Rise(s.Face)}, line, s.Face, sheet.AlignLeft)
			})
		}
	}
	strip(0.75*pad, nil)
	together := f.Room/2 >= tallOf(rows) // a long one breaks, but not near its ends
	for i := range rows[:len(rows)-1] {
		rows[i].Keep = together || i < 2 || i >= len(rows)-3
	}
	rows[0].Before = 1.1 * f.Text.Size
	f.Add(rows...)
	f.Space(0.6 * f.Text.Size)
}

func tallOf(items []Item) sheet.MM {
	h := sheet.MM(0)
	for _, it := range items {
		h += it.Height
	}
	return h
}

// Space leaves room, which is lost at the top of a page.
func (f *Flow) Space(h sheet.MM) { f.Gap = h }

// Figure sets a finished scene scaled to the width of the text, or smaller
// where it would be taller than two thirds of a page, with words below it.
func (f *Flow) Figure(s sheet.Scene, words string) {
	if !(s.Width > 0 && s.Height > 0) {
		f.Note(words)
		return
	}
	scale := min(f.Width/s.Width, 0.66*f.Room/s.Height)
	left := (f.Width - s.Width*scale) / 2
	f.Add(Item{Height: s.Height * scale, Before: 0.8 * f.Text.Size, Keep: Tidy(words) != "", Draw: func(l *Page, at sheet.Pos) {
		inset(l, &s, sheet.Pos{X: at.X + left, Y: at.Y}, scale)
	}})
	f.Note(words)
}

// SheetPage sets a finished sheet as a page of its own.
func (f *Flow) SheetPage(s sheet.Scene) { f.Add(Item{Whole: &s}) }

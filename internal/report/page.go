package report

import "undersod/core/sheet"

// page collects what is drawn on one page.
type page struct{ shapes []sheet.Shape }

func (l *page) put(s sheet.Shape) { l.shapes = append(l.shapes, s) }

// write sets one line of text with its baseline at a place.
func (l *page) write(at sheet.Pos, text string, f face, a sheet.Align) {
	if text != "" {
		l.put(sheet.Text{At: at, Text: text, Size: f.size, Weight: f.weight, Colour: f.colour, Align: a})
	}
}

// rule draws a straight line.
func (l *page) rule(a, b sheet.Pos, width sheet.MM, c sheet.Colour) {
	l.put(sheet.Path{Runs: []sheet.Run{{Start: a, Pieces: []sheet.Piece{{To: b}}}}, Stroke: &sheet.Stroke{Width: width, Colour: c}})
}

// box fills or frames a rectangle.
func (l *page) box(at sheet.Pos, width, height sheet.MM, fill *sheet.Colour, stroke *sheet.Stroke) {
	l.put(sheet.Path{Runs: []sheet.Run{{Start: at, Closed: true, Pieces: []sheet.Piece{
		{To: sheet.Pos{X: at.X + width, Y: at.Y}}, {To: sheet.Pos{X: at.X + width, Y: at.Y + height}}, {To: sheet.Pos{X: at.X, Y: at.Y + height}},
	}}}, Fill: fill, Stroke: stroke})
}

// item is what never breaks across pages: a line of text, a row of a table, a
// figure.
type item struct {
	height sheet.MM
	before sheet.MM // room above it, none at the top of a page
	keep   bool     // stays on one page with the item after it
	head   *item    // set again above it where a page begins with it
	whole  *sheet.Scene
	draw   func(l *page, at sheet.Pos)
}

// format is the paper of a report and its margins.
type format struct {
	width, height sheet.MM
	side          sheet.MM // margin at the left and right
	top, bottom   sheet.MM
	foot          sheet.MM // of the footer's baseline, from the lower edge; 0 for none
}

func (f format) room() sheet.MM  { return f.height - f.top - f.bottom }
func (f format) inner() sheet.MM { return f.width - 2*f.side }

// pager fills pages with items.
type pager struct {
	format
	pages []*page
	whole map[int]*sheet.Scene // pages that are a finished sheet
	y     sheet.MM             // where the next item begins; top means the page is empty
}

// paginate sets the items on pages: greedily, never between an item and the one
// it is kept with, unless all of them together are taller than a page.
func paginate(f format, items []item) *pager {
	p := &pager{format: f, whole: map[int]*sheet.Scene{}, y: f.height}
	for i := 0; i < len(items); {
		if items[i].whole != nil {
			p.whole[len(p.pages)] = items[i].whole
			p.pages = append(p.pages, &page{})
			p.y = f.height
			i++
			continue
		}
		j := i + 1
		for j < len(items) && items[j-1].keep && items[j].whole == nil {
			j++
		}
		p.chain(items[i:j])
		i = j
	}
	return p
}

// chain sets items that belong together.
func (p *pager) chain(items []item) {
	if !p.fits(items) {
		p.feed()
	}
	for k := range items {
		if !p.fits(items[k : k+1]) {
			p.feed()
		}
		p.set(&items[k])
	}
}

// fits tells whether items fit below what is on the page.
func (p *pager) fits(items []item) bool {
	if len(p.pages) == 0 || p.y >= p.height {
		return false
	}
	return p.y+p.tall(items) <= p.height-p.bottom+1e-6
}

func (p *pager) tall(items []item) sheet.MM {
	h := sheet.MM(0)
	for k := range items {
		if k > 0 || p.y > p.top {
			h += items[k].before
		}
		h += items[k].height
	}
	if p.y <= p.top && items[0].head != nil {
		h += items[0].head.height
	}
	return h
}

// feed begins a page, unless the one that is open is empty.
func (p *pager) feed() {
	if len(p.pages) > 0 && p.y <= p.top {
		return
	}
	p.pages = append(p.pages, &page{})
	p.y = p.top
}

func (p *pager) set(it *item) {
	l := p.pages[len(p.pages)-1]
	if p.y <= p.top && it.head != nil {
		it.head.draw(l, sheet.Pos{X: p.side, Y: p.y})
		p.y += it.head.height
	} else if p.y > p.top {
		p.y += it.before
	}
	it.draw(l, sheet.Pos{X: p.side, Y: p.y})
	p.y += it.height
}

// inset draws a finished scene smaller or larger within a page.
func inset(l *page, s *sheet.Scene, at sheet.Pos, scale sheet.MM) {
	move := func(p sheet.Pos) sheet.Pos { return sheet.Pos{X: at.X + p.X*scale, Y: at.Y + p.Y*scale} }
	for _, layer := range s.Layers {
		for _, shape := range layer.Shapes {
			switch v := shape.(type) {
			case sheet.Path:
				l.put(scaledPath(v, move, scale))
			case sheet.Text:
				v.At, v.Size = move(v.At), v.Size*scale
				l.put(v)
			case sheet.Image:
				v.At, v.Width, v.Height = move(v.At), v.Width*scale, v.Height*scale
				l.put(v)
			}
		}
	}
}

func scaledPath(p sheet.Path, move func(sheet.Pos) sheet.Pos, scale sheet.MM) sheet.Path {
	runs := make([]sheet.Run, len(p.Runs))
	for i, r := range p.Runs {
		runs[i] = sheet.Run{Start: move(r.Start), Closed: r.Closed, Pieces: make([]sheet.Piece, len(r.Pieces))}
		for k, q := range r.Pieces {
			q.To = move(q.To)
			if q.Arc {
				q.Centre = move(q.Centre)
			}
			runs[i].Pieces[k] = q
		}
	}
	p.Runs = runs
	if p.Stroke != nil {
		s := *p.Stroke
		s.Width *= scale
		s.Dash = nil
		for _, d := range p.Stroke.Dash {
			s.Dash = append(s.Dash, d*scale)
		}
		p.Stroke = &s
	}
	return p
}

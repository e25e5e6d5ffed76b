package flow

import "undersod/core/sheet"

// Page collects what is drawn on one page.
type Page struct {
	Shapes []sheet.Shape
	Whole  *sheet.Scene // a finished sheet that is the page; Shapes is then empty
}

// Put draws a shape over what is there.
func (l *Page) Put(s sheet.Shape) { l.Shapes = append(l.Shapes, s) }

// Write sets one line of text with its baseline at a place.
func (l *Page) Write(at sheet.Pos, text string, f Face, a sheet.Align) {
	if text != "" {
		l.Put(sheet.Text{At: at, Text: text, Size: f.Size, Weight: f.Weight, Colour: f.Colour, Align: a})
	}
}

// Rule draws a straight line.
func (l *Page) Rule(a, b sheet.Pos, width sheet.MM, c sheet.Colour) {
	l.Put(sheet.Path{Runs: []sheet.Run{{Start: a, Pieces: []sheet.Piece{{To: b}}}}, Stroke: &sheet.Stroke{Width: width, Colour: c}})
}

// Box fills or frames a rectangle.
func (l *Page) Box(at sheet.Pos, width, height sheet.MM, fill *sheet.Colour, stroke *sheet.Stroke) {
	l.Put(sheet.Path{Runs: []sheet.Run{{Start: at, Closed: true, Pieces: []sheet.Piece{
		{To: sheet.Pos{X: at.X + width, Y: at.Y}}, {To: sheet.Pos{X: at.X + width, Y: at.Y + height}}, {To: sheet.Pos{X: at.X, Y: at.Y + height}},
	}}}, Fill: fill, Stroke: stroke})
}

// Item is what never breaks across pages: a line of text, a row of a table, a
// figure.
type Item struct {
	Height sheet.MM
	Before sheet.MM // room above it, none at the top of a page
	Keep   bool     // stays on one page with the item after it
	Head   *Item    // set again above it where a page begins with it
	Whole  *sheet.Scene
	Draw   func(l *Page, at sheet.Pos)
}

// Format is the paper of a report and its margins.
type Format struct {
	Width, Height sheet.MM
	Side          sheet.MM // margin at the left and right
	Top, Bottom   sheet.MM
	Foot          sheet.MM // of the footer's baseline, from the lower edge; 0 for none
}

// Room is how high the text of a page may be.
func (f Format) Room() sheet.MM { return f.Height - f.Top - f.Bottom }

// Inner is how wide the text of a page is.
func (f Format) Inner() sheet.MM { return f.Width - 2*f.Side }

// pager fills pages with items.
type pager struct {
	Format
	pages []*Page
	y     sheet.MM // where the next item begins; top means the page is empty
}

// Paginate sets the items on pages: greedily, never between an item and the one
// it is kept with, unless all of them together are taller than a page.
func Paginate(f Format, items []Item) []*Page {
	p := &pager{Format: f, y: f.Height}
	for i := 0; i < len(items); {
		if items[i].Whole != nil {
			p.pages = append(p.pages, &Page{Whole: items[i].Whole})
			p.y = f.Height
			i++
			continue
		}
		j := i + 1
		for j < len(items) && items[j-1].Keep && items[j].Whole == nil {
			j++
		}
		p.chain(items[i:j])
		i = j
	}
	return p.pages
}

// chain sets items that belong together. Where all of them are taller than a
// page, an item still goes with the one that it is kept with.
func (p *pager) chain(items []Item) {
	if !p.fits(items) {
		p.feed()
	}
	whole := p.fits(items)
	for k := range items {
		with := items[k : k+1]
		if !whole && k+1 < len(items) {
			with = items[k : k+2]
		}
		if !p.fits(with) {
			p.feed()
		}
		p.set(&items[k])
	}
}

// fits tells whether items fit below what is on the page.
func (p *pager) fits(items []Item) bool {
	if len(p.pages) == 0 || p.y >= p.Height {
		return false
	}
	return p.y+p.tall(items) <= p.Height-p.Bottom+1e-6
}

func (p *pager) tall(items []Item) sheet.MM {
	h := sheet.MM(0)
	for k := range items {
		if k > 0 || p.y > p.Top {
			h += items[k].Before
		}
		h += items[k].Height
	}
	if p.y <= p.Top && items[0].Head != nil {
		h += items[0].Head.Height
	}
	return h
}

// feed begins a page, unless the one that is open is empty.
func (p *pager) feed() {
	if len(p.pages) > 0 && p.y <= p.Top {
		return
	}
	p.pages = append(p.pages, &Page{})
	p.y = p.Top
}

func (p *pager) set(it *Item) {
	l := p.pages[len(p.pages)-1]
	if p.y <= p.Top && it.Head != nil {
		it.Head.Draw(l, sheet.Pos{X: p.Side, Y: p.y})
		p.y += it.Head.Height
	} else if p.y > p.Top {
		p.y += it.Before
	}
	it.Draw(l, sheet.Pos{X: p.Side, Y: p.y})
	p.y += it.Height
}

// inset draws a finished scene smaller or larger within a page.
func inset(l *Page, s *sheet.Scene, at sheet.Pos, scale sheet.MM) {
	move := func(p sheet.Pos) sheet.Pos { return sheet.Pos{X: at.X + p.X*scale, Y: at.Y + p.Y*scale} }
	for _, layer := range s.Layers {
		for _, shape := range layer.Shapes {
			switch v := shape.(type) {
			case sheet.Path:
				l.Put(scaledPath(v, move, scale))
			case sheet.Text:
				v.At, v.Size = move(v.At), v.Size*scale
				l.Put(v)
			case sheet.Image:
				v.At, v.Width, v.Height = move(v.At), v.Width*scale, v.Height*scale
				l.Put(v)
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

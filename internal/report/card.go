package report

import (
	"errors"

	"undersod/core/card"
	"undersod/core/sheet"
)

// cardFormats are the papers of a card, smallest first: half of letter and
// letter, or A6, A5 and A4.
func cardFormats(p sheet.Paper) []format {
	if p == sheet.A4 {
		return []format{{width: 105, height: 148, side: 7, top: 7, bottom: 7}, {width: 148, height: 210, side: 9, top: 9, bottom: 9}, {width: 210, height: 297, side: 12, top: 12, bottom: 12}}
	}
	return []format{{width: 139.7, height: 215.9, side: 9, top: 9, bottom: 9}, {width: 215.9, height: 279.4, side: 12, top: 12, bottom: 12}}
}

// Card sets a tie card: how to find one part again, in large type, with a
// sketch and a code that holds the same in short. It is half of letter paper or
// A6, and a larger page only where the words need it. It fails where Metrics is
// nil or the card names no part.
func Card(in Input, c card.Card) (sheet.Scene, error) {
	r, err := begin(in)
	if err != nil {
		return sheet.Scene{}, err
	}
	if tidy(string(c.Part)) == "" {
		return sheet.Scene{}, errors.New("a tie card must name a part, as D-box")
	}
	r.title = "Tie card: " + tidy(string(c.Part)) + ", " + r.siteName()
	var last *tieCard
	for _, f := range cardFormats(paperOf(r.in.Job.Show)) {
		for _, scale := range []sheet.MM{1, 0.9, 0.8} {
			last = r.setCard(c, f, scale*f.width/139.7)
			if last.height() <= f.height {
				return last.scene(), nil
			}
		}
	}
	last.format.height = last.height()
	return last.scene(), nil
}

// tieCard is a card laid out at one size.
type tieCard struct {
	*report
	format
	scale       sheet.MM
	upper       *flow // over the whole width
	beside      *flow // left of the code
	code        code
	coded       bool
	sketch      *sketch
	sketchTall  sheet.MM
	upperHeight sheet.MM
}

// setCard lays a card out with all sizes scaled.
func (r *report) setCard(c card.Card, f format, scale sheet.MM) *tieCard {
	k := &tieCard{report: r, format: f, scale: scale}
	k.code, k.coded = newCode(c.Text, 0.36*f.inner())
	k.upper = k.newFlow(f.inner())
	k.cardHead(c)
	k.sketch = r.newSketch(c)
	if k.sketch != nil {
		k.sketchTall = min(0.29*f.height, 0.62*f.inner())
	}
	lower := f.inner()
	if k.coded {
		lower = max(lower-k.code.side-4, 0.3*f.inner())
	}
	k.beside = k.newFlow(lower)
	k.cardWords(c)
	k.upperHeight = stack(k.upper.items)
	return k
}

func (k *tieCard) newFlow(width sheet.MM) *flow {
	// No type of a card is smaller than 2.3 mm, whatever its size.
	size := func(v sheet.MM) sheet.MM { return max(v*k.scale, 2.3) }
	return &flow{m: k.m, width: width, room: k.format.room(), text: face{size(3.7), sheet.Regular, ink}, small: face{size(3), sheet.Regular, stone}, cell: face{size(3.4), sheet.Regular, ink}}
}

// stack is how tall items are, one below the other.
func stack(items []item) sheet.MM {
	h := sheet.MM(0)
	for i, it := range items {
		if i > 0 {
			h += it.before
		}
		h += it.height
	}
	return h
}

// cardHead sets the name and the ties.
func (k *tieCard) cardHead(c card.Card) {
	u := k.upper
	u.lines(string(c.Part), face{max(7*k.scale, 4), sheet.Bold, soil}, 0, 0)
	words := joinedComma(c.Kind, k.siteName())
	u.lines(words, u.text, 0, 0.5)
	if d := visitDay(k.in.Job); d != "" {
		u.lines("Measured "+d+either(tidy(k.in.Job.Visit.By) != "", " by "+tidy(k.in.Job.Visit.By), ""), u.small, 0, 0)
	}
	if c.InDoubt {
		u.callout(pale, clay, said{"Readings about this part disagree. Probe before you dig; do not trust this card alone.", u.text.bold()})
	}
	u.gap = 2.5 * k.scale
	for _, t := range c.Ties {
		u.add(k.tie(t))
	}
	if len(c.Ties) == 0 {
		u.para("No mark that can be seen fixes this part by tape.")
	}
}

// tie is one distance in large type, with what it is measured from.
func (k *tieCard) tie(t card.Tie) item {
	u := k.upper
	big := face{max(8.2*k.scale, 5), sheet.Bold, ink}
	number := k.say.Format(t.Distance)
	wide := k.m.width(number, big) + 4
	words := tidy(t.Words)
	if words == "" {
		words = tidy(string(t.From))
	}
	lines := k.m.wrap("from "+words, u.text.bold(), max(u.width-wide, 0.3*u.width))
	lines = append(lines, k.m.wrap("95 % within "+within(k.say, t.Within), u.small, max(u.width-wide, 0.3*u.width))...)
	h := max(k.m.lead(big), sheet.MM(len(lines))*k.m.lead(u.text)) + 1.6*k.scale
	return item{height: h, draw: func(l *page, at sheet.Pos) {
		l.rule(at, sheet.Pos{X: at.X + u.width, Y: at.Y}, 0.2, hair)
		y := at.Y + 0.8*k.scale
		l.write(sheet.Pos{X: at.X, Y: y + k.m.rise(big)}, number, big, sheet.AlignLeft)
		for i, line := range lines {
			f := u.text.bold()
			if i >= len(lines)-1 {
				f = u.small
			}
			l.write(sheet.Pos{X: at.X + wide, Y: y + k.m.rise(u.text) + sheet.MM(i)*k.m.lead(u.text)}, line, f, sheet.AlignLeft)
		}
	}}
}

// onCard is the caution of every card. Common practice, no source.
const onCard = "Have buried cables marked before you dig. Keep the lid closed; never lean into a tank or enter it."

// cardWords sets depth, error, side, the steps and the caution.
func (k *tieCard) cardWords(c card.Card) {
	b := k.beside
	if c.Depth != nil {
		b.lines("Depth "+k.say.Format(*c.Depth), face{1.35 * b.text.size, sheet.Bold, ink}, 0, 0)
	} else {
		b.lines("Depth not measured", b.text.bold(), 0, 0)
	}
	if c.Expected > 0 {
		b.lines("Where the tapes cross, the part lies within "+within(k.say, c.Expected)+" (95 %).", b.text, 0, 1)
	}
	if s := tidy(c.Side); s != "" {
		b.lines("It lies "+s+".", b.text.bold(), 0, 1)
	}
	for _, w := range c.Words {
		b.lines(sentence(w), b.text, 0, 1)
	}
	b.lines(onCard, b.small.in(clay), 0, 1.5)
}

// codeNote is said below the code.
const codeNote = "the same, for a phone"

func (k *tieCard) height() sheet.MM {
	h := k.upperHeight + k.sketchTall + 6*k.scale
	lower := stack(k.beside.items)
	if k.coded {
		lower = max(lower, k.code.side+k.m.lead(k.beside.small))
	}
	return h + lower + k.format.top + k.format.bottom
}

// scene draws the card: the name and ties on top, the sketch below them, the
// words and the code at the foot.
func (k *tieCard) scene() sheet.Scene {
	l := &page{}
	l.box(sheet.Pos{X: 3, Y: 3}, k.format.width-6, k.format.height-6, nil, &sheet.Stroke{Width: 0.3, Colour: soil})
	y := place(l, k.upper.items, sheet.Pos{X: k.format.side, Y: k.format.top})
	if k.sketch != nil {
		y += 3 * k.scale
		spare := k.format.height - k.height() // the sketch takes what is left
		tall := k.sketchTall + min(spare, 0.4*k.sketchTall)
		k.sketch.draw(l, sheet.Pos{X: k.format.side, Y: y}, k.format.inner(), tall, k)
		y += tall
	}
	y += 3 * k.scale
	place(l, k.beside.items, sheet.Pos{X: k.format.side, Y: y})
	if k.coded {
		at := sheet.Pos{X: k.format.width - k.format.side - k.code.side, Y: y}
		k.code.draw(l, at)
		l.write(sheet.Pos{X: at.X + k.code.side/2, Y: y + k.code.side + k.m.rise(k.beside.small)}, codeNote, k.beside.small, sheet.AlignMiddle)
	}
	return sheet.Scene{Title: k.title, Date: k.in.Job.Visit.Date, Width: k.format.width, Height: k.format.height, Layers: []sheet.Layer{{Name: "card", Shapes: l.shapes}}}
}

// place draws items one below the other and returns where they end.
func place(l *page, items []item, at sheet.Pos) sheet.MM {
	for i := range items {
		if i > 0 {
			at.Y += items[i].before
		}
		items[i].draw(l, at)
		at.Y += items[i].height
	}
	return at.Y
}

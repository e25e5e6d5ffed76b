package report

import (
	"errors"

	"undersod/core/card"
	"undersod/core/sheet"
	"undersod/internal/report/flow"
	"undersod/internal/report/sketch"
)

// cardFormats are the papers of a card, smallest first: half of letter and
// letter, or A6, A5 and A4.
func cardFormats(p sheet.Paper) []flow.Format {
	if p == sheet.A4 {
		return []flow.Format{{Width: 105, Height: 148, Side: 7, Top: 7, Bottom: 7}, {Width: 148, Height: 210, Side: 9, Top: 9, Bottom: 9}, {Width: 210, Height: 297, Side: 12, Top: 12, Bottom: 12}}
	}
	return []flow.Format{{Width: 139.7, Height: 215.9, Side: 9, Top: 9, Bottom: 9}, {Width: 215.9, Height: 279.4, Side: 12, Top: 12, Bottom: 12}}
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
		for _, try := range [][2]sheet.MM{{1, 0.29}, {0.92, 0.26}, {0.85, 0.23}, {0.78, 0.2}} {
			last = r.setCard(c, f, try[0]*min(f.Width/139.7, 1), try[1])
			if last.height() <= f.Height {
				return last.scene(), nil
			}
		}
	}
	last.Format.Height = last.height()
	return last.scene(), nil
}

// tieCard is a card laid out at one size.
type tieCard struct {
	*report
	flow.Format
	scale       sheet.MM
	upper       *flow.Flow // over the whole width
	beside      *flow.Flow // left of the code
	code        flow.Code
	coded       bool
	sketch      *sketch.Sketch
	sketchTall  sheet.MM
	upperHeight sheet.MM
}

// setCard lays a card out with all sizes scaled, and its sketch as tall as a
// share of the height.
func (r *report) setCard(c card.Card, f flow.Format, scale, tall sheet.MM) *tieCard {
	k := &tieCard{report: r, Format: f, scale: scale}
	k.code, k.coded = flow.NewCode(c.Text, 0.36*f.Inner())
	k.upper = k.newFlow(f.Inner())
	k.cardHead(c)
	k.sketch = sketch.New(r.in.Job, r.in.Plan, c)
	if k.sketch != nil {
		k.sketchTall = min(tall*f.Height, 0.62*f.Inner())
	}
	lower := f.Inner()
	if k.coded {
		lower = max(lower-k.code.Side-4, 0.3*f.Inner())
	}
	k.beside = k.newFlow(lower)
	k.cardWords(c)
	k.upperHeight = stack(k.upper.Items)
	return k
}

func (k *tieCard) newFlow(width sheet.MM) *flow.Flow {
	// No type of a card is smaller than 2.3 mm, whatever its size.
	size := func(v sheet.MM) sheet.MM { return max(v*k.scale, 2.3) }
	return &flow.Flow{M: k.M, Width: width, Room: k.Format.Room(), Text: flow.Type(size(3.7), sheet.Regular, ink), Small: flow.Type(size(3), sheet.Regular, stone), Cell: flow.Type(size(3.4), sheet.Regular, ink)}
}

// stack is how tall items are, one below the other.
func stack(items []flow.Item) sheet.MM {
	h := sheet.MM(0)
	for i, it := range items {
		if i > 0 {
			h += it.Before
		}
		h += it.Height
	}
	return h
}

// cardHead sets the name and the ties.
func (k *tieCard) cardHead(c card.Card) {
	u := k.upper
	u.Lines(string(c.Part), flow.Type(max(7*k.scale, 4), sheet.Bold, soil), 0, 0)
	words := joinedComma(c.Kind, k.siteName())
	u.Lines(words, u.Text, 0, 0.5)
	if d := visitDay(k.in.Job); d != "" {
		u.Lines("Measured "+d+either(tidy(k.in.Job.Visit.By) != "", " by "+tidy(k.in.Job.Visit.By), ""), u.Small, 0, 0)
	}
	if c.InDoubt {
		u.Callout(pale, clay, flow.Say("Readings about this part disagree. Probe before you dig; do not trust this card alone.", u.Text.InBold()))
	}
	u.Gap = 2.5 * k.scale
	for _, t := range c.Ties {
		u.Add(k.tie(t))
	}
	if len(c.Ties) == 0 {
		u.Para("No mark that can be seen fixes this part by tape.")
	}
}

// tie is one distance in large type, with what it is measured from.
func (k *tieCard) tie(t card.Tie) flow.Item {
	u := k.upper
	big := flow.Type(max(8.2*k.scale, 5), sheet.Bold, ink)
	number := k.say.Format(t.Distance)
	wide := k.M.Wide(number, big) + 4
	words := tidy(t.Words)
	if words == "" {
		words = tidy(string(t.From))
	}
	lines := k.M.Wrap("from "+words, u.Text.InBold(), max(u.Width-wide, 0.3*u.Width))
	lines = append(lines, k.M.Wrap("95 % within "+within(k.say, t.Within), u.Small, max(u.Width-wide, 0.3*u.Width))...)
	h := max(k.M.Lead(big), sheet.MM(len(lines))*k.M.Lead(u.Text)) + 1.6*k.scale
	return flow.Item{Height: h, Draw: func(l *flow.Page, at sheet.Pos) {
		l.Rule(at, sheet.Pos{X: at.X + u.Width, Y: at.Y}, 0.2, hair)
		y := at.Y + 0.8*k.scale
		l.Write(sheet.Pos{X: at.X, Y: y + k.M.Rise(big)}, number, big, sheet.AlignLeft)
		for i, line := range lines {
			f := u.Text.InBold()
			if i >= len(lines)-1 {
				f = u.Small
			}
			l.Write(sheet.Pos{X: at.X + wide, Y: y + k.M.Rise(u.Text) + sheet.MM(i)*k.M.Lead(u.Text)}, line, f, sheet.AlignLeft)
		}
	}}
}

// onCard is the caution of every card. Common practice, no source.
const onCard = "Have buried cables marked before you dig. Keep the lid closed; never lean into a tank or enter it."

// cardWords sets depth, error, side, the steps and the caution.
func (k *tieCard) cardWords(c card.Card) {
	b := k.beside
	if c.Depth != nil {
		b.Lines("Depth "+k.say.Format(*c.Depth), flow.Type(1.35*b.Text.Size, sheet.Bold, ink), 0, 0)
	} else {
		b.Lines("Depth not measured", b.Text.InBold(), 0, 0)
	}
	if len(c.Words) == 0 && c.Expected > 0 { // the steps say it otherwise
		b.Lines("Where the tapes cross, the part lies within "+within(k.say, c.Expected)+" (95 %).", b.Text, 0, 1)
	}
	if s := tidy(c.Side); s != "" && len(c.Words) == 0 {
		b.Lines("It lies "+s+".", b.Text.InBold(), 0, 1)
	}
	for _, w := range c.Words {
		b.Lines(sentence(w), b.Text, 0, 1)
	}
	for _, w := range k.openingWords(c.Part) {
		b.Lines(w, b.Small.In(clay), 0, 1.5)
	}
	b.Lines(onCard, b.Small.In(clay), 0, 1.5)
}

// codeNote is said below the code.
const codeNote = "the same, for a phone"

func (k *tieCard) height() sheet.MM {
	h := k.upperHeight + k.sketchTall + 6*k.scale
	lower := stack(k.beside.Items)
	if k.coded {
		lower = max(lower, k.code.Side+k.M.Lead(k.beside.Small))
	}
	return h + lower + k.Format.Top + k.Format.Bottom
}

// scene draws the card: the name and ties on top, the sketch below them, the
// words and the code at the foot.
func (k *tieCard) scene() sheet.Scene {
	l := &flow.Page{}
	l.Box(sheet.Pos{X: 3, Y: 3}, k.Format.Width-6, k.Format.Height-6, nil, &sheet.Stroke{Width: 0.3, Colour: soil})
	y := place(l, k.upper.Items, sheet.Pos{X: k.Format.Side, Y: k.Format.Top})
	if k.sketch != nil {
		y += 3 * k.scale
		spare := k.Format.Height - k.height() // the sketch takes what is left
		tall := k.sketchTall + min(spare, 0.4*k.sketchTall)
		k.sketch.Draw(l, sheet.Pos{X: k.Format.Side, Y: y}, k.Format.Inner(), tall, k.scale, k.M)
		y += tall
	}
	y += 3 * k.scale
	place(l, k.beside.Items, sheet.Pos{X: k.Format.Side, Y: y})
	if k.coded {
		at := sheet.Pos{X: k.Format.Width - k.Format.Side - k.code.Side, Y: y}
		k.code.Draw(l, at)
		l.Write(sheet.Pos{X: at.X + k.code.Side/2, Y: y + k.code.Side + k.M.Rise(k.beside.Small)}, codeNote, k.beside.Small, sheet.AlignMiddle)
	}
	return sheet.Scene{Title: k.title, Date: k.in.Job.Visit.Date, Width: k.Format.Width, Height: k.Format.Height, Layers: []sheet.Layer{{Name: "card", Shapes: l.Shapes}}}
}

// place draws items one below the other and returns where they end.
func place(l *flow.Page, items []flow.Item, at sheet.Pos) sheet.MM {
	for i := range items {
		if i > 0 {
			at.Y += items[i].Before
		}
		items[i].Draw(l, at)
		at.Y += items[i].Height
	}
	return at.Y
}

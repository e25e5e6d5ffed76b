package flow_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"undersod/core/sheet"
	"undersod/internal/report/flow"
)

// even is a font whose letters are all half as wide as high.
type even struct{}

func (even) Advance(text string, _ sheet.Weight, size sheet.MM) sheet.MM {
	return sheet.MM(len([]rune(text))) * size / 2
}
func (even) Ascent(_ sheet.Weight, size sheet.MM) sheet.MM  { return 0.8 * size }
func (even) Descent(_ sheet.Weight, size sheet.MM) sheet.MM { return 0.2 * size }

var paper = flow.Format{Width: 120, Height: 100, Side: 10, Top: 10, Bottom: 10}

func begin() *flow.Flow {
	return &flow.Flow{M: flow.NewMeasure(even{}), Width: paper.Inner(), Room: paper.Room(),
		Text: flow.Type(4, sheet.Regular, flow.Ink), Small: flow.Type(3, sheet.Regular, flow.Stone), Cell: flow.Type(3, sheet.Regular, flow.Ink)}
}

func texts(p *flow.Page) []sheet.Text {
	var out []sheet.Text
	for _, s := range p.Shapes {
		if t, ok := s.(sheet.Text); ok {
			out = append(out, t)
		}
	}
	return out
}

func TestTitlesOfATableAreSetOnEveryPage(t *testing.T) {
	f := begin()
	f.Heading("Rows")
	table := flow.Table{Columns: []flow.Column{{Title: "Number"}, {Title: "Words", Right: true}}}
	for i := range 60 {
		table.Row(fmt.Sprint(i), "some words")
	}
	f.Table(table)
	pages := flow.Paginate(paper, f.Items)
	if len(pages) < 3 {
		t.Fatalf("%d pages, expected at least 3", len(pages))
	}
	seen := 0
	for i, p := range pages {
		titles := 0
		for _, x := range texts(p) {
			switch x.Text {
			case "Number":
				titles++
			case "some words":
				seen++
			}
		}
		if titles != 1 {
			t.Errorf("page %d has %d titles, expected 1", i+1, titles)
		}
	}
	if seen != 60 {
		t.Errorf("%d of 60 rows are set", seen)
	}
}

// A cell is set off also where its words are broken.
func TestCellsAreSetOff(t *testing.T) {
	f := begin()
	table := flow.Table{Columns: []flow.Column{{Title: "Verdict", Alarm: "short", Warn: "too close to call"}, {Title: "Words"}}}
	for _, v := range []string{"short", "too close to call", "clear", ""} {
		table.Row(v, strings.Repeat("words ", 30))
	}
	f.Table(table)
	got := map[string]sheet.Colour{}
	for _, p := range flow.Paginate(paper, f.Items) {
		for _, x := range texts(p) {
			got[x.Text] = x.Colour
		}
	}
	warned := got["too close to call"]
	if warned == (sheet.Colour{}) {
		warned = got["too close"]
	}
	if got["short"] != flow.Clay || warned != flow.Ochre || got["clear"] != flow.Ink {
		t.Errorf("short %v, too close to call %v, clear %v", got["short"], warned, got["clear"])
	}
}

// TestAnyFlow sets many random flows and holds each page to what the package
// promises.
func TestAnyFlow(t *testing.T) {
	for seed := range uint64(150) {
		r := rand.New(rand.NewPCG(seed, 1))
		f := begin()
		want := map[string]int{}
		some := func(n int) string {
			var all []string
			for range r.IntN(n) + 1 {
				w := fmt.Sprintf("w%d", r.IntN(1000)) + strings.Repeat("x", r.IntN(4)*r.IntN(30))
				all = append(all, w)
			}
			for _, c := range strings.Join(all, "") {
				want[string(c)]++
			}
			return strings.Join(all, " ")
		}
		for range r.IntN(30) {
			random(f, r, some)
		}
		check(t, seed, flow.Paginate(paper, f.Items), want)
	}
}

func random(f *flow.Flow, r *rand.Rand, some func(int) string) {
	if r.IntN(6) == 0 {
		f.Heading("Head")
		defer f.Para(some(3)) // so that the report ends with no heading
	}
	switch r.IntN(7) {
	case 1:
		f.Bullet(some(10), some(4), some(40), flow.Clay)
	case 2:
		f.Callout(flow.Pale, flow.Clay, flow.Say(some(30), f.Text.InBold()), flow.Say(some(60), f.Text))
	case 3:
		table := flow.Table{Columns: make([]flow.Column, 4)}
		for range r.IntN(12) {
			table.Row(some(2), some(3), some(30), some(1))
		}
		f.Bare(table)
	case 4:
		f.Figure(sheet.Scene{Width: 50, Height: sheet.MM(r.IntN(200))}, some(9))
	case 5:
		f.Pictures([]flow.Picture{{Picture: &sheet.Picture{Wide: 4, High: 1 + r.IntN(9), JPEG: []byte{1}}, Words: some(5)}}, 1+r.IntN(3))
	case 6:
		f.Space(sheet.MM(r.IntN(30)))
	default:
		f.Para(some(120))
	}
}

// check holds pages to: nothing dropped, nothing outside the text area, no
// empty page, no heading at the foot.
func check(t *testing.T, seed uint64, pages []*flow.Page, want map[string]int) {
	t.Helper()
	for i, p := range pages {
		all := texts(p)
		if len(p.Shapes) == 0 {
			t.Errorf("seed %d: page %d is empty", seed, i+1)
		}
		for _, x := range all {
			end := x.At.X + even{}.Advance(x.Text, x.Weight, x.Size)
			if x.At.X < paper.Side-1e-6 || end > paper.Width-paper.Side+1e-6 || x.At.Y > paper.Height-paper.Bottom || x.At.Y < paper.Top {
				t.Errorf("seed %d, page %d: %q ends at %v, %v", seed, i+1, x.Text, end, x.At.Y)
			}
			for _, c := range strings.ReplaceAll(x.Text, " ", "") {
				want[string(c)]--
			}
		}
		if n := len(all); n > 0 && i < len(pages)-1 && all[n-1].Size > 5 {
			t.Errorf("seed %d: the heading %q stands at the foot of page %d", seed, all[n-1].Text, i+1)
		}
	}
	for c, n := range want {
		if n != 0 && !strings.Contains("Head", c) {
			t.Errorf("seed %d: %d of the letter %q are lost or doubled", seed, n, c)
		}
	}
}

func TestLengthsAreNotBroken(t *testing.T) {
	m := flow.NewMeasure(even{})
	f := flow.Type(4, sheet.Regular, flow.Ink)
	for width := sheet.MM(28); width < 80; width++ {
		for _, line := range m.Wrap(`tape from D reads 20' 1 1/2" and from F 39' 4 3/4" within 6 ft of it`, f, width) {
			for _, torn := range []string{`20'`, ` 1`, `39'`, ` 4`, ` 6`} {
				if strings.HasSuffix(" "+line, torn) {
					t.Errorf("at %v the line %q tears a length", width, line)
				}
			}
		}
	}
}

func TestSheetsAreWholePages(t *testing.T) {
	f := begin()
	f.Para("before")
	f.SheetPage(sheet.Scene{Title: "the sheet"})
	f.Para("behind")
	pages := flow.Paginate(paper, f.Items)
	if len(pages) != 3 || pages[1].Whole == nil || pages[1].Whole.Title != "the sheet" || pages[0].Whole != nil || pages[2].Whole != nil {
		t.Errorf("%d pages; expected text, the sheet, text", len(pages))
	}
}

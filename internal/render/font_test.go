package render_test

import (
	"math"
	"strings"
	"sync"
	"testing"

	"undersod/core/sheet"
	"undersod/internal/render"
)

// The Go fonts are as wide as Helvetica: 556 thousandths of an em for a digit,
// 278 for a space (Adobe's Helvetica metrics, from memory), which in units of
// 2048 to the em are 1139 and 569.
func TestAdvanceIsTheSumOfTheFontsOwnAdvances(t *testing.T) {
	m := render.Metrics()
	for _, c := range []struct {
		text   string
		weight sheet.Weight
		want   float64 // mm at an em of 10 mm
	}{
		{"", sheet.Regular, 0},
		{"0", sheet.Regular, 1139 * 10 / 2048.0},
		{"0123456789", sheet.Regular, 11390 * 10 / 2048.0},
		{"0123456789", sheet.Bold, 11390 * 10 / 2048.0},
		{" ", sheet.Regular, 569 * 10 / 2048.0},
	} {
		got := float64(m.Advance(c.text, c.weight, 10))
		if math.Abs(got-c.want) > 1e-9 {
			t.Errorf("Advance(%q, weight %d) = %.6f mm, want %.6f mm", c.text, c.weight, got, c.want)
		}
	}
}

func TestEveryTradeCharacterIsInBothFonts(t *testing.T) {
	const trade = "0123456789 ABCXYZabcxyz °′″'\"½¼¾⅛⅜⅝⅞±×–—’‘“”…≤≥≈²³µ•−·Øéñ#&/()[]%@§√∆←↑→↓"
	for _, w := range []sheet.Weight{sheet.Regular, sheet.Bold} {
		if got := render.Spelled(trade, w); got != trade {
			t.Errorf("weight %d draws %q, want %q", w, got, trade)
		}
	}
}

func TestWhatTheFontLacksIsReplacedVisibly(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"a\nb\tc\u2028d", "a b c d"},
		{"na\u0308ive e\u0301", "näive é"},
		{"2\u201011 \u2300100", "2-11 Ø100"},
		{"soft\u00ADhyphen \u202Emarks\u200D", "softhyphen marks"},
		{"井 שלום", "\uFFFD \uFFFD\uFFFD\uFFFD\uFFFD"},
		{"bell\a\x00", "bell\uFFFD\uFFFD"},
		{"bad \xff utf", "bad \uFFFD utf"},
		{"tree 🌳", "tree \uFFFD"},
	} {
		if got := render.Spelled(c.in, sheet.Regular); got != c.want {
			t.Errorf("%q is drawn as %q, want %q", c.in, got, c.want)
		}
		m := render.Metrics()
		if got, want := m.Advance(c.in, sheet.Regular, 3), m.Advance(c.want, sheet.Regular, 3); got != want {
			t.Errorf("%q is measured %v mm wide, but drawn %v mm wide", c.in, got, want)
		}
	}
}

func TestLettersStayWithinAscentAndDescent(t *testing.T) {
	m := render.Metrics()
	for _, w := range []sheet.Weight{sheet.Regular, sheet.Bold} {
		up, down := m.Ascent(w, 1), m.Descent(w, 1)
		if up < 0.7 || up > 1.1 || down < 0.15 || down > 0.35 {
			t.Errorf("weight %d: ascent %.3f and descent %.3f of an em are not those of a text face", w, up, down)
		}
		if got := m.Ascent(w, 4); math.Abs(float64(got-4*up)) > 1e-12 {
			t.Errorf("weight %d: ascent at 4 mm is %v, want %v", w, got, 4*up)
		}
	}
}

func TestMetricsMayBeSharedByGoroutines(t *testing.T) {
	m := render.Metrics()
	want := m.Advance(strings.Repeat("wide ", 40), sheet.Bold, 3)
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			if got := m.Advance(strings.Repeat("wide ", 40), sheet.Bold, 3); got != want {
				t.Errorf("a second goroutine measured %v mm, want %v mm", got, want)
			}
		})
	}
	all.Wait()
}

func BenchmarkAdvance(b *testing.B) {
	m := render.Metrics()
	for b.Loop() {
		m.Advance("distribution box 23′ 4½″", sheet.Regular, 2.5)
	}
}

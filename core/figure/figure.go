// Package figure draws what was judged: a line as a strip of footages, an
// opened box in section with the water in it and the shares of its outlets, a
// day of a field as curves. Each figure is a scene of a given width that a page
// sets among its text, or a file holds alone.
package figure

import (
	"undersod/core/sheet"
	"undersod/core/unit"
)

// Say is how a figure is printed.
type Say struct {
	Style   unit.Style
	Metrics sheet.Metrics
	Width   sheet.MM // of the whole figure; held between 90 and 400 mm, 180 mm where it is no number
	// Bore is the inside diameter of the line that a strip shows; 0 draws the
	// pipe as one of 4 in (100 mm) and says so.
	Bore unit.Length
}

// The widths that a figure may have.
const (
	narrowest sheet.MM = 90
	usual     sheet.MM = 180
	widest    sheet.MM = 400
)

// width returns the width that the figure is drawn with.
func (s Say) width() sheet.MM {
	if !(s.Width > 0) { // zero, below it, or no number
		return usual
	}
	return min(max(s.Width, narrowest), widest)
}

// guess measures text where nobody gave a font: wider than most are.
type guess struct{}

func (guess) Advance(text string, _ sheet.Weight, size sheet.MM) sheet.MM {
	return sheet.MM(len([]rune(text))) * 0.7 * size
}
func (guess) Ascent(_ sheet.Weight, size sheet.MM) sheet.MM  { return size }
func (guess) Descent(_ sheet.Weight, size sheet.MM) sheet.MM { return 0.3 * size }

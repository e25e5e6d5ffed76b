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
	Width   sheet.MM // of the whole figure
}

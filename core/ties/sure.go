package ties

import (
	"math"

	"undersod/core/adjust"
	"undersod/core/unit"
)

// The marks of the table's footnotes.
const (
	markFlagged   = "*"
	markUnused    = "‡"
	markUnchecked = "†"
)

// footnotes explain the marks that the table uses, in this order.
var footnotes = [...]struct{ mark, words string }{
	{markFlagged, "as written; it disagrees with the others"},
	{markUnused, "as written; it is not used"},
	{markUnchecked, "nothing checks this place"},
}

// noted returns a mark and notes that its footnote is needed.
func (f *finder) noted(mark string) string {
	f.notesUsed[mark] = true
	return mark
}

// unchecked is how far a slip moves, unnoticed, what nothing checks.
var unchecked = unit.Length(math.Inf(1))

// InDoubt stands for a 95 % radius that the readings do not allow to be told.
const InDoubt = "in doubt"

// sure says how sure a place is: its 95 % radius, or that it is in doubt,
// marked where no reading checks it.
func (f *finder) sure(p adjust.Point) string {
	words := "?"
	switch {
	case f.x.Moved(p):
		words = InDoubt
	case p.State == adjust.Determined && p.Ellipse.Radius > 0:
		words = f.say.Small(p.Ellipse.Radius)
	}
	if p.Hidden == unchecked {
		words += f.noted(markUnchecked)
	}
	return words
}

package text

import (
	"io"
	"strings"

	"undersod/core/adjust"
	"undersod/core/card"
)

// Card prints how to find a part again.
func Card(w io.Writer, of Of, c card.Card) {
	t := of.teller(w)
	t.head()
	t.title(string(c.Part))
	for _, words := range c.Words {
		t.wrapped("- ", words)
	}
	if c.InDoubt {
		t.print("%s\n", t.paint(red, strings.TrimSpace("Readings disagree about this part: run check, and clear them up before you trust the card.")))
	}
	if t.plan.Verdict.Fill == adjust.FillNo && !c.InDoubt {
		t.wrapped("", "Something else in the job is not settled; run check.")
	}
}

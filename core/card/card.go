// Package card chooses how to find a buried part again: the two or three
// visible marks whose tape distances fix it best, and how far off one will be.
package card

import (
	"undersod/core/site"
	"undersod/core/unit"
)

// Card is how to find one part again.
type Card struct {
	Part     site.Name
	Kind     string
	Ties     []Tie        // two or three, best pair first
	Depth    *unit.Length // below the ground where it was measured
	Expected unit.Length  // 95 %: how far from the part the crossing of the tapes lies, at most
	Side     string       // which of the two crossings: "on the lawn side of A-B"
	InDoubt  bool         // the plan has readings that disagree about it
	Words    []string     // step by step, plain
	Text     string       // for the QR code: the same in short, plain ASCII, at most 600 bytes
}

// Tie is one tape distance of a card.
type Tie struct {
	From     site.Name
	Words    string // "House corner A", "iron pin Pin 1"
	Distance unit.Length
	Within   unit.Length // 95 % of what a tape will read there: tape, mark and part together
}

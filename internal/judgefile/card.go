package judgefile

import "undersod/core/card"

// Card is what card --json prints.
type Card struct {
	Undersod int       `json:"undersod"` // version of this shape
	Kind     string    `json:"kind"`     // "card"
	Part     string    `json:"part"`
	PartKind string    `json:"part_kind"`
	Ties     []CardTie `json:"ties"`
	Depth    *float64  `json:"depth_m,omitempty"`
	Expected float64   `json:"expected95_m"`
	Side     string    `json:"side"`
	InDoubt  bool      `json:"in_doubt"`
	Words    []string  `json:"words"`
	Text     string    `json:"text"`
}

// CardTie is one tape distance.
type CardTie struct {
	From     string  `json:"from"`
	Words    string  `json:"words"`
	Distance float64 `json:"distance_m"`
	Within   float64 `json:"within95_m"`
}

// MakeCard returns the document of a tie card.
func MakeCard(c card.Card) Card {
	out := Card{Undersod: 1, Kind: "card", Part: string(c.Part), PartKind: c.Kind, Expected: metres(c.Expected), Side: c.Side,
		InDoubt: c.InDoubt, Words: list(c.Words), Text: c.Text,
		Ties: each(c.Ties, func(t card.Tie) CardTie {
			return CardTie{string(t.From), t.Words, metres(t.Distance), metres(t.Within)}
		})}
	if c.Depth != nil {
		out.Depth = some(true, float64(*c.Depth))
	}
	return out
}

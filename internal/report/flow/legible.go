package flow

import (
	"fmt"
	"strings"

	"undersod/core/sheet"
)

// Legible is how much of a drawing can be read.
type Legible struct {
	Whole bool // nothing is left out or named by a number only
	Ratio int  // how many times smaller than the ground; 0 where it is not told
}

// Better tells whether a drawing is the one to show: a whole one first, then the
// one at the larger scale.
func (l Legible) Better(o Legible) bool {
	if l.Whole != o.Whole {
		return l.Whole
	}
	return l.Ratio > 0 && (o.Ratio == 0 || l.Ratio < o.Ratio)
}

// Legibility reads from a drawn sheet what it says of itself.
func Legibility(s sheet.Scene) Legible {
	l := Legible{Whole: true}
	for _, layer := range s.Layers {
		for _, shape := range layer.Shapes {
			t, is := shape.(sheet.Text)
			if !is {
				continue
			}
			if strings.HasPrefix(t.Text, "Continued:") || strings.Contains(t.Text, "(no room for the number)") {
				l.Whole = false
			}
			if i := strings.LastIndex(t.Text, "1:"); i >= 0 && strings.HasPrefix(t.Text, "Scale ") {
				fmt.Sscanf(t.Text[i:], "1:%d", &l.Ratio)
			}
		}
	}
	return l
}

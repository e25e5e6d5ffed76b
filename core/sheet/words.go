package sheet

import (
	"fmt"

	"undersod/core/site"
	"undersod/core/ties"
)

// wording prints lengths and scales as the job wants them.
type wording struct{ ties.Wording }

func newWording(show site.Show) wording { return wording{ties.NewWording(show)} }

// scale says a scale in words.
func (w wording) scale(s Scale) string {
	if !w.Metric() && s%12 == 0 {
		return fmt.Sprintf("1 in = %d ft (1:%d)", s/12, s)
	}
	return fmt.Sprintf("1:%d", s)
}

// clean makes a name or an entry of the job fit for print.
func clean(s string) string { return ties.Clean(s) }

// tidy takes what cannot be printed out of a text.
func tidy(s string) string { return ties.Tidy(s) }

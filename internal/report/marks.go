package report

import (
	"fmt"

	"undersod/core/look"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
)

// Marks are the findings of camera runs that a sheet shows at their places,
// with the words that stand beside them.
func Marks(job *site.Job, runs []look.Run) []sheet.Finding {
	say := style(job.Show)
	var out []sheet.Finding
	for _, run := range runs {
		for _, f := range run.Findings {
			if !f.From.Known || len(f.Path) == 0 {
				continue
			}
			out = append(out, sheet.Finding{Line: f.Line, Path: f.Path, Words: station(say, f.From.Station) + " " + tidy(string(f.What)), Grade: f.Grade})
		}
	}
	return out
}

// station prints a place along a line, no finer than a counter reads.
func station(say unit.Style, l unit.Length) string {
	if metric(say) {
		return fmt.Sprintf("%.1f m", l.Metres())
	}
	if say.Form == unit.DecimalFeet {
		return fmt.Sprintf("%.1f ft", l.Feet())
	}
	text := unit.Style{Form: unit.FeetInches, Denominator: 1}.Format(l)
	if n := len(text) - len(` 0"`); n > 0 && text[n:] == ` 0"` {
		return text[:n]
	}
	return text
}

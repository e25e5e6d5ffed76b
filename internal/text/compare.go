package text

import (
	"fmt"
	"io"

	"undersod/core/absorb"
	"undersod/core/compare"
)

// Compare prints two visits held against each other, in the style of the later one.
func Compare(w io.Writer, earlier, of Of, c *compare.Comparison) {
	t := of.teller(w)
	t.head()
	before := "a visit without a date"
	if c.Before != "" {
		before = "the visit of " + c.Before
	}
	t.wrapped("", fmt.Sprintf("Held against %s (%s). Uncertainties are of both visits together, 95 %%.", before, earlier.Name))
	t.problems(earlier.Read)
	t.problems(of.Read)
	t.listed("What changed", c.Summary)
	t.listed("What limits the comparison", c.Remarks)
	t.listed("How the plans lie over each other", append([]string{c.Overlay.Words}, words(c.Overlay.Aside, func(a compare.Aside) string { return a.Words })...))
	t.changedPlaces(c.Places)
	t.listed("Outlines", words(c.Outlines, func(o compare.Outline) string { return o.Words }))
	t.listed("Lines", words(c.Lines, func(l compare.Line) string { return l.Words }))
	t.changedHeights(c)
	t.listed("Depths", words(c.Depths, func(d compare.Depth) string { return d.Words }))
	t.changedBoxes(c.Boxes)
	t.listed("What was seen", words(c.Findings, func(f compare.Finding) string { return f.Words }))
	t.listed("How far the camera saw", words(c.Runs, func(r compare.Run) string { return r.Words }))
	t.listed("Done since the earlier visit", words(c.Since, func(c compare.Care) string { return c.Words }))
	t.listed("What else is written otherwise", words(c.Facts, func(f compare.Fact) string { return f.Words }))
	t.listed("Distances that do not read the same", words(c.Readings, func(p compare.Pair) string { return p.Words }))
	t.print("\n%s\n", absorb.Decides)
}

func words[T any](list []T, tell func(T) string) []string {
	var out []string
	for _, one := range list {
		if s := tell(one); s != "" {
			out = append(out, s)
		}
	}
	return out
}

// changedPlaces is a table of everything that both visits have located, and the words
// of the rest.
func (t *teller) changedPlaces(list []compare.Place) {
	var rest []string
	shown := false
	for _, p := range list {
		switch p.Verdict {
		case compare.Moved, compare.Unchanged, compare.TooClose:
		default:
			rest = append(rest, p.Words)
			continue
		}
		if !shown {
			t.title("Places")
			t.print("  %-22s %14s %12s   %s\n", "place", "from where", "95 %", "")
			shown = true
		}
		t.print("  %-22s %14s %12s   %s\n", short(string(p.Name), 22), t.length(p.By), t.style().FormatDeviation(p.Within), string(p.Verdict))
	}
	t.listed("Places that one visit alone has, or that are not located", rest)
}

func (t *teller) changedHeights(c *compare.Comparison) {
	list := words(c.Levels, func(l compare.Level) string { return l.Words })
	if len(list) > 0 && c.LevelFrom != "" {
		list = append([]string{"Heights are " + c.LevelFrom + "."}, list...)
	}
	t.listed("Levels", list)
}

func (t *teller) changedBoxes(list []compare.Box) {
	var lines []string
	for _, b := range list {
		if b.Words != "" {
			lines = append(lines, b.Words)
		}
		lines = append(lines, words(b.Outlets, func(o compare.Outlet) string {
			if o.Words == "" {
				return ""
			}
			return o.Words + "."
		})...)
	}
	t.listed("Boxes", lines)
}

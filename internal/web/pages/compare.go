package pages

import (
	"fmt"

	"undersod/internal/archive"
	"undersod/internal/comparefile"
)

// Compare is the view of two visits held against each other.
type Compare struct {
	Visit  archive.ID
	Date   string
	Others []Choice // the other visits
	Words  []string
	Plan   string // the sheet with what moved, empty for none
	PDF    string
	Groups []CompareGroup
	Empty  string
}

// CompareGroup is one part of a comparison.
type CompareGroup struct {
	Head string
	Rows []CompareRow
}

// CompareRow is one thing on both visits.
type CompareRow struct{ What, Answer, Class, Words string }

// OtherVisits lists the visits that one can be compared with.
func OtherVisits(visits []archive.Visit, but, chosen archive.ID) []Choice {
	var out []Choice
	for _, v := range visits {
		if v.ID != but && v.Deleted == nil {
			out = append(out, Choice{string(v.ID), dayOr(v.Heading.Date, "no day stated"), v.ID == chosen})
		}
	}
	return out
}

// verdictClass colours an answer of a comparison; its words say the same.
func verdictClass(v string) string {
	return map[string]string{"moved": "act", "changed": "act", "gone": "watch", "grown": "act", "new": "watch", "too close to call": "watch", "not located": "watch", "unchanged": "yes", "not looked at again": "note"}[v]
}

// Fill fills in what a comparison found.
func (c *Compare) Fill(d comparefile.Document) {
	c.Words = append(append([]string{}, d.Summary...), d.Remarks...)
	if d.Overlay.Words != "" {
		c.Words = append(c.Words, d.Overlay.Words)
	}
	group := func(head string, rows []CompareRow) {
		if len(rows) > 0 {
			c.Groups = append(c.Groups, CompareGroup{head, rows})
		}
	}
	row := func(what, answer, words string) CompareRow {
		return CompareRow{what, answer, verdictClass(answer), words}
	}
	group("What was seen", rowsOf(d.Findings, func(f comparefile.Finding) CompareRow {
		return row(firstOf(f.Line, f.Part)+": "+f.What, f.Growth, f.Words)
	}))
	group("What was done since", rowsOf(d.Since, func(s comparefile.Care) CompareRow { return row(Day(s.Date), s.What, s.Words) }))
	group("Places", rowsOf(d.Places, func(p comparefile.Place) CompareRow { return row(p.Name, p.Verdict, p.Words) }))
	group("Parts by their edges", rowsOf(d.Outlines, func(o comparefile.Outline) CompareRow { return row(o.Part, o.Verdict, o.Words) }))
	group("Lines", rowsOf(d.Lines, func(l comparefile.Line) CompareRow { return row(l.Line, l.Verdict, l.Words) }))
	group("Heights", rowsOf(d.Levels.Heights, func(h comparefile.Height) CompareRow { return row(h.Point, h.Verdict, h.Words) }))
	group("Depths", rowsOf(d.Depths, func(n comparefile.Number) CompareRow { return row(n.Point, n.Verdict, n.Words) }))
	for _, b := range d.Boxes {
		group("Outlets of "+b.Part, rowsOf(b.Outlets, func(o comparefile.Outlet) CompareRow { return row(o.Line, o.Verdict, o.Words) }))
	}
	group("Facts", rowsOf(d.Facts, func(f comparefile.Fact) CompareRow {
		return row(f.Of, f.What, firstOf(f.Words, fmt.Sprintf("%s before, %s now", f.Before, f.After)))
	}))
	group("Distances that read otherwise", rowsOf(d.Readings, func(r comparefile.Reading) CompareRow { return row(r.From+" to "+r.To, "changed", r.Words) }))
}

func rowsOf[T any](list []T, f func(T) CompareRow) []CompareRow {
	var out []CompareRow
	for _, v := range list {
		out = append(out, f(v))
	}
	return out
}

// firstOf is the first text that is not empty.
func firstOf(texts ...string) string {
	for _, t := range texts {
		if t != "" {
			return t
		}
	}
	return ""
}

package ties

import (
	"fmt"
	"strings"
	"unicode"

	"undersod/core/adjust"
	"undersod/core/site"
	"undersod/core/unit"
)

// taken holds the readings by the point they find.
type taken struct {
	of    map[site.Name][]site.Reading
	again map[site.Name]int // repeats of a tie
	aside map[site.Name]int // readings that the person set aside
	depth map[site.Name]string
}

// readings sorts the visit's readings by point.
func (f *finder) readings() taken {
	t := taken{map[site.Name][]site.Reading{}, map[site.Name]int{}, map[site.Name]int{}, map[site.Name]string{}}
	f.states = make(map[site.ReadingID]int, len(f.x.plan.Readings))
	for i, r := range f.x.plan.Readings {
		f.states[r.ID] = i
	}
	type pair struct{ from, to site.Name }
	seen := map[pair]bool{}
	for _, r := range f.x.job.Visit.Readings {
		point, finds := f.x.finds(r)
		tie, isTie := r.(site.Tie)
		k := pair{tie.From, tie.To}
		switch {
		case !finds:
			t.deep(r)
		case r.Common().SetAside != "":
			t.aside[point]++
		case isTie && seen[k]:
			t.again[point]++
		default:
			seen[k] = seen[k] || isTie
			t.of[point] = append(t.of[point], r)
		}
	}
	return t
}

// deep notes the first depth of a point.
func (t taken) deep(r site.Reading) {
	if d, ok := r.(site.Depth); ok && t.depth[d.Point] == "" {
		t.depth[d.Point] = written(d.Read)
	}
}

// finds returns the point that a reading finds again: of two ends the one that
// is no mark.
func (x *Index) finds(r site.Reading) (site.Name, bool) {
	switch r := r.(type) {
	case site.Tie:
		return x.sought(r.From, r.To), true
	case site.Bearing:
		return x.sought(r.From, r.To), true
	case site.Offset:
		return r.Point, true
	}
	return "", false
}

func (x *Index) sought(from, to site.Name) site.Name {
	if !x.IsMark(from) && x.IsMark(to) {
		return from
	}
	return to
}

// The most readings of a part that are printed: the usual ones, and with those
// that must not be missed.
const (
	usualCells = 4
	mostCells  = 8
)

// found prints the readings that find a point, and counts those it leaves out.
func (f *finder) found(p adjust.Point, t taken) []string {
	var cells []string
	more := t.again[p.Name]
	for _, r := range t.of[p.Name] {
		most := usualCells
		if _, bearing := r.(site.Bearing); bearing || f.flagged(r) {
			most = mostCells
		}
		if len(cells) >= most {
			more++
			continue
		}
		cells = append(cells, f.cell(p, r))
	}
	if n := t.aside[p.Name]; n > 0 {
		cells = append(cells, fmt.Sprintf("%d set aside", n))
	}
	if more > 0 {
		cells = append(cells, fmt.Sprintf("and %d more", more))
	}
	return cells
}

func (f *finder) flagged(r site.Reading) bool {
	i, ok := f.states[r.Common().ID]
	return ok && f.x.plan.Readings[i].Flagged
}

// cell prints a reading as written, marked where it disagrees with the others
// or is not used.
func (f *finder) cell(p adjust.Point, r site.Reading) string {
	words := f.asRead(p, r)
	i, ok := f.states[r.Common().ID]
	switch {
	case !ok:
	case f.x.plan.Readings[i].Flagged:
		words += f.noted(markFlagged)
	case f.x.plan.Readings[i].Use != adjust.Used:
		words += f.noted(markUnused)
	}
	return words
}

// asRead prints a reading as it was written, or as the person corrected it.
func (f *finder) asRead(p adjust.Point, r site.Reading) string {
	switch r := r.(type) {
	case site.Tie:
		from, read := r.From, r.Read
		if from == p.Name {
			from = r.To
		}
		if r.Corrected != nil {
			read = *r.Corrected
		}
		return Clean(string(from)) + " " + written(read)
	case site.Bearing:
		return f.bearing(p, r)
	case site.Offset:
		line := Clean(string(r.From)) + "–" + Clean(string(r.To)) + " " + written(r.Station) + ", "
		switch {
		case r.Right.Length < 0:
			return line + strings.TrimPrefix(written(r.Right), "-") + " left"
		case r.Right.Length == 0:
			return line + "on the line"
		}
		return line + written(r.Right) + " right"
	}
	return ""
}

// written prints a length as it was written, with its unit where the job left
// that out.
func written(w unit.Written) string {
	text := Clean(w.Text)
	if w.Form == unit.NoForm || strings.ContainsFunc(text, marksUnit) {
		return text
	}
	return unit.Style{Form: w.Form, Denominator: 64}.Format(w.Length)
}

// marksUnit tells whether a letter of a written length says its unit.
func marksUnit(r rune) bool {
	return unicode.IsLetter(r) || strings.ContainsRune("'\"′″’”", r)
}

// bearing prints a bearing as written, from or to its other end.
func (f *finder) bearing(p adjust.Point, r site.Bearing) string {
	text := Clean(r.Read.Text)
	switch {
	case text == "" && r.Read.Form == unit.Quadrant:
		text = unit.FormatQuadrant(r.Read.Angle)
	case text == "":
		text = unit.FormatAzimuth(r.Read.Angle, unit.ToMinute)
	case !strings.ContainsFunc(text, func(c rune) bool { return c == '°' || unicode.IsLetter(c) }):
		text += "°"
	}
	if r.Magnetic {
		text += " magnetic"
	}
	if r.From == p.Name {
		return "bearing to " + Clean(string(r.To)) + " " + text
	}
	return "bearing from " + Clean(string(r.From)) + " " + text
}

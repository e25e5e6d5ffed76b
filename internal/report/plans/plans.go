// Package plans sets into a report what rules say of a site and what its owner
// plans there: the table of setbacks, the authority's checklist, where each thing
// that is proposed may stand, and what planned bedrooms ask for.
package plans

import (
	"fmt"
	"slices"

	"undersod/core/absorb"
	"undersod/core/english"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/sheet"
	"undersod/core/unit"
	"undersod/internal/report/flow"
)

// Book is the report that the sections are set into. Sources keep their numbers
// throughout it.
type Book struct {
	*flow.Flow
	Say       unit.Style // of lengths and areas
	Unsettled bool       // readings disagree, so that places may still move
	cited     []string   // by their numbers, from 1
}

// refs are the sources that one section refers to.
type refs struct {
	book *Book
	used []int
}

// of is the mark that refers to a source, empty for none. The permit's own
// distance is marked as such.
func (r *refs) of(source rules.Source, permit bool) string {
	words := sourceWords(source, permit)
	if words == "" {
		return ""
	}
	k := slices.Index(r.book.cited, words)
	if k < 0 {
		k = len(r.book.cited)
		r.book.cited = append(r.book.cited, words)
	}
	if !slices.Contains(r.used, k) {
		r.used = append(r.used, k)
	}
	mark := fmt.Sprintf("[%d]", k+1)
	if permit {
		return "permit " + mark
	}
	return mark
}

// sourceWords tells a source with how far it can be trusted.
func sourceWords(source rules.Source, permit bool) string {
	words := source.Words()
	switch {
	case permit && source.Title == "":
		words = "the permit's own distance"
	case permit:
		words = "the permit's own distance: " + source.Title
	case source.Title == "":
		return ""
	}
	if source.Note != "" {
		words += "; " + source.Note
	}
	return words
}

// list sets what the marks of the section refer to.
func (r *refs) list() {
	slices.Sort(r.used)
	for _, k := range r.used {
		r.book.Note(fmt.Sprintf("[%d] %s", k+1, english.Sentence(r.book.cited[k])))
	}
}

// end says who decides.
func (b *Book) end() { b.Para(absorb.Decides) }

// moving tells that places may still move.
func (b *Book) moving() {
	if b.Unsettled {
		b.Para("Readings disagree, and what is told here may move with them.")
	}
}

// packWords names a rule pack and where it holds.
func packWords(name, place string) string {
	switch {
	case name == "":
		return "No rule pack."
	case place == "":
		return "Rule pack " + name + "."
	}
	return english.Sentence("Rule pack " + name + ": " + place)
}

// bullets sets points of a list under a title; nothing where there is none.
func (b *Book) bullets(title string, all []string, c sheet.Colour) {
	set := false
	for _, w := range all {
		if w = english.Sentence(flow.Tidy(w)); w == "" {
			continue
		}
		if !set && title != "" {
			b.Sub(title)
			set = true
		}
		b.Bullet("", "", w, c)
	}
}

// colours of a verdict: of its words, its ground and its bar.
func colours(v setback.Verdict) (ground, bar sheet.Colour) {
	switch v {
	case setback.Short:
		return flow.Pale, flow.Clay
	case setback.TooClose:
		return flow.Straw, flow.Ochre
	}
	return flow.Leaf, flow.Grass
}

// addOnce adds a text that is not there yet, and no empty one.
func addOnce(list []string, text string) []string {
	if text == "" || slices.Contains(list, text) {
		return list
	}
	return append(list, text)
}

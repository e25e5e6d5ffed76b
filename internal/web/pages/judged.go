package pages

import (
	"fmt"
	"slices"
	"strings"

	"undersod/core/unit"
	"undersod/internal/archive"
	"undersod/internal/clearfile"
	"undersod/internal/judgefile"
)

// Setbacks is the view of distances and checklist.
type Setbacks struct {
	Visit           archive.ID
	Pack, Place     string
	Decides         string
	Groups          []SetbackGroup
	Limits          []Sourced
	NoRule, Missing []string
	Count           string
	Items           []Item
}

// SetbackGroup is the distances of one verdict.
type SetbackGroup struct {
	Class, Words string
	Rows         []Sourced
}

// Sourced is a sentence and where its number comes from.
type Sourced struct{ Words, Source string }

// Item is one item of a checklist.
type Item struct{ What, Words, Answer, Class, Why string }

// SetbacksOf turns the answers.
func SetbacksOf(visit archive.ID, s clearfile.Setbacks, c clearfile.Checklist) Setbacks {
	out := Setbacks{Visit: visit, Pack: s.Pack, Place: s.Place, Decides: s.Decides, NoRule: s.NoRule, Missing: s.Missing}
	order := []SetbackGroup{{"act", "short", nil}, {"watch", "too close to call", nil}, {"note", "not known", nil}, {"yes", "clear", nil}}
	for _, r := range s.Rows {
		at := 2
		for i, g := range order {
			if g.Words == r.Verdict {
				at = i
			}
		}
		order[at].Rows = append(order[at].Rows, Sourced{r.Words, sourceWords(r.Source)})
	}
	for _, g := range order {
		if len(g.Rows) > 0 {
			g.Words = capital(g.Words)
			out.Groups = append(out.Groups, g)
		}
	}
	for _, l := range s.Limits {
		out.Limits = append(out.Limits, Sourced{l.Words, sourceWords(l.Source)})
	}
	for _, i := range c.Items {
		class := map[string]string{"on the sheet": "yes", "missing": "act"}[i.Answer]
		out.Items = append(out.Items, Item{capital(i.What), i.Words, i.Answer, class, i.Why})
	}
	out.Count = fmt.Sprintf("%d on the sheet, %d missing, %d that do not apply here.", c.Count.OnSheet, c.Count.Missing, c.Count.NotApplicable)
	return out
}

// sourceWords writes where a number comes from.
func sourceWords(s judgefile.Source) string {
	words := s.Title
	for _, more := range filled(s.Section, s.Year) {
		words += ", " + more
	}
	if s.Status != "" {
		words += " (" + s.Status + ")"
	}
	return words
}

// Fit is the view of where something may stand.
type Fit struct {
	Visit               archive.ID
	Kinds               []Choice
	Length, Width, Near string
	Names               []string
	Empty               string
	Fits                []Fitted
	NotAsked            []string // what could not be asked, and why
}

// Fitted is the answer for one thing.
type Fitted struct {
	Name, Size, Verdict string
	Words               []string
	Limits              []string
	Stakes              []Stake
	Notes               []string
}

// Stake is a corner with its tape distances.
type Stake struct {
	Corner int
	Ties   []string
}

// FitsOf turns the answers.
func FitsOf(d clearfile.Fits) []Fitted {
	var out []Fitted
	for _, f := range d.Fits {
		one := Fitted{Name: f.Name, Size: f.Size, Verdict: f.Verdict, Words: f.Words, Notes: append(append([]string{}, f.Caution...), f.Missing...)}
		for _, l := range f.Limits {
			one.Limits = append(one.Limits, l.Words)
		}
		if f.Capacity != nil {
			one.Words = append(one.Words, f.Capacity.Words...)
		}
		for i, s := range f.Best.Stakes {
			stake := Stake{Corner: i + 1}
			for _, t := range s.Ties {
				stake.Ties = append(stake.Ties, t.From+" "+both(unit.Length(t.Distance)*unit.Metre))
			}
			one.Stakes = append(one.Stakes, stake)
		}
		out = append(out, one)
	}
	return out
}

// both writes a length in feet and inches and in metres.
func both(l unit.Length) string {
	return unit.Style{Form: unit.FeetInches}.Format(l) + fmt.Sprintf(" (%.2f m)", l.Metres())
}

// PlaceNames lists what something can stand near, as far as distances name it.
func PlaceNames(d clearfile.Setbacks) []string {
	var out []string
	for _, row := range d.Rows {
		for _, t := range []clearfile.Thing{row.Part, row.From} {
			if name := strings.TrimSpace(t.Name); name != "" && !slices.Contains(out, name) {
				out = append(out, name)
			}
		}
	}
	slices.Sort(out)
	return out
}

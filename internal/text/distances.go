package text

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"undersod/core/english"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/unit"
)

// distance is one row of a table of distances.
type distance struct {
	part, from                         string // part is empty where all rows are of one
	required, measured, margin, within unit.Length
	known                              bool
	bare                               bool // no rule asks for a distance
	advice                             string
	note                               string // " [2]"
	words                              string
}

func distanceOfRow(r setback.Row, notes *sources) distance {
	return distance{part: string(r.Part.Name), from: thingName(r.From, r.Proposed), required: r.Required, measured: r.Measured,
		margin: r.Margin, within: r.Within, known: r.Known, note: notes.of(r.Source, r.Permit), words: r.Words, advice: r.Advice}
}

func distanceOfLimit(l setback.Limiting, notes *sources) distance {
	return distance{from: thingName(l.Thing, l.Proposed), bare: !l.Ruled, advice: l.Advice, required: l.Required, measured: l.Measured, margin: l.Margin,
		within: l.Within, known: true, note: notes.of(l.Source, l.Permit), words: l.Words}
}

// proposedMark stands behind the name of what the owner wants to build.
const proposedMark = " *"

func thingName(t setback.Thing, proposed bool) string {
	if proposed {
		return string(t.Name) + proposedMark
	}
	return string(t.Name)
}

// distances prints the rows of one verdict as a table under it, and below it in
// words what is not clear.
func (t *teller) distances(v setback.Verdict, rows []distance) {
	if len(rows) == 0 {
		return
	}
	colour := map[setback.Verdict]string{setback.Short: red, setback.TooClose: yellow, setback.Clear: green}[v]
	t.print("\n%s\n", t.paint(colour, strings.ToUpper(string(v[:1]))+string(v[1:])))
	t.table(t.cells(rows))
	if v == setback.Clear {
		return
	}
	for _, r := range rows {
		t.wrapped("- ", strings.TrimSpace(r.words+" "+english.Sentence(r.advice)))
	}
}

// cells lays rows out, the head first; the column of parts is left out where
// none is named.
func (t *teller) cells(rows []distance) [][]string {
	out := [][]string{{"part", "from", "required", "measured", "margin", "within", ""}}
	parts := false
	for _, r := range rows {
		parts = parts || r.part != ""
		cells := []string{r.part, r.from, t.length(r.required), "not located", "", "", strings.TrimSpace(r.note)}
		if r.bare {
			cells[2] = "–"
		}
		if r.known {
			cells[3], cells[4], cells[5] = t.length(r.measured), t.signed(r.margin), t.style().FormatDeviation(r.within)
		}
		out = append(out, cells)
	}
	if !parts {
		for i := range out {
			out[i] = out[i][1:]
		}
	}
	return out
}

// signed prints a margin with its sign.
func (t *teller) signed(l unit.Length) string {
	text := t.length(l)
	if l > 0 && strings.ContainsAny(text, "123456789") {
		return "+" + text
	}
	return text
}

// table prints rows in columns within 80, the first row as a head. Names, all
// but the last six columns, stand to the left and are cut where there is no
// room; numbers stand to the right.
func (t *teller) table(rows [][]string) {
	const width, gap, numbers = 79, 2, 5
	columns := len(rows[0])
	widths := make([]int, columns)
	for _, r := range rows {
		for k, c := range r {
			widths[k] = max(widths[k], utf8.RuneCountInString(c))
		}
	}
	names := columns - numbers
	room := width
	for k := names; k < columns; k++ {
		room -= gap + widths[k]
	}
	for k := range names { // what a narrow one leaves goes to the next
		share := room/(names-k) - gap
		if k+1 < names {
			share = max(share, room-2*gap-widths[k+1])
		}
		widths[k] = max(min(widths[k], share), 4)
		room -= gap + widths[k]
	}
	for _, r := range rows {
		var line strings.Builder
		for k, c := range r {
			pad := max(widths[k]-utf8.RuneCountInString(c), 0)
			if k < names {
				fmt.Fprintf(&line, "  %s%s", short(c, widths[k]), strings.Repeat(" ", pad))
			} else {
				fmt.Fprintf(&line, "  %s%s", strings.Repeat(" ", pad), c)
			}
		}
		t.print("%s\n", strings.TrimRight(line.String(), " "))
	}
}

// sources numbers the sources that are referred to, in their order.
type sources struct{ words []string }

// of is the mark that refers to a source, empty for none.
func (s *sources) of(source rules.Source, permit bool) string {
	words := source.Title
	switch {
	case permit && words == "":
		words = "the permit's own distance"
	case permit:
		words = "the permit's own distance: " + words
	case words == "":
		return ""
	default:
		words = source.Words()
	}
	if source.Note != "" {
		words += "; " + source.Note
	}
	k := slices.Index(s.words, words)
	if k < 0 {
		k = len(s.words)
		s.words = append(s.words, words)
	}
	return fmt.Sprintf(" [%d]", k+1)
}

// sources prints what the marks refer to, under a title of its own where there
// is one.
func (t *teller) sources(title string, s *sources) {
	for i, words := range s.words {
		if i == 0 && title != "" {
			t.title(title)
		}
		t.wrapped(fmt.Sprintf("[%d] ", i+1), words)
	}
}

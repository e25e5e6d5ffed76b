package tell

import (
	"strings"
	"unicode"

	"undersod/core/site"
)

// Show prints a problem for a person: where it stands, the line itself with a
// caret under the place, what was expected, an example. What would steer a
// terminal is shown as a dot. source is the text of the file that the problem's
// place names; without it the line is left out.
func Show(source []byte, p site.Problem) string {
	var b strings.Builder
	if at := p.Place.String(); at != "" {
		b.WriteString(Visible(at) + ": ")
	}
	if p.Severity == site.Remark {
		b.WriteString("remark: ")
	}
	b.WriteString(Visible(p.Subject))
	if p.Found != "" {
		b.WriteString(": found " + Visible(p.Found))
	}
	b.WriteString("\n")
	if line := SourceLine(source, p.Place.Line); line != "" {
		window, caret := underline(line, p.Place.Column)
		b.WriteString("    " + window + "\n    " + caret + "\n")
	}
	for _, part := range []struct{ label, text string }{
		{"expected: ", p.Expected}, {"example:  ", p.Example}, {"", p.Advice},
	} {
		if part.text != "" {
			b.WriteString("    " + part.label + Visible(part.text) + "\n")
		}
	}
	return b.String()
}

// shownWidth is the most characters of a line that are shown.
const shownWidth = 100

// underline returns the part of a line about a column and the caret's own
// line. Tabs become two blanks and a wide character counts as two, as a
// terminal draws it.
func underline(line string, column int) (window, caret string) {
	runes := []rune(strings.TrimPrefix(line, "\ufeff"))
	at := min(max(column-1, 0), len(runes))
	from := max(0, at-shownWidth/2)
	to := min(len(runes), from+shownWidth)
	if from > 0 {
		window, caret = "…", " "
	}
	for i := from; i < to; i++ {
		text, width := cellOf(runes[i])
		window += text
		if i < at {
			caret += strings.Repeat(" ", width)
		}
	}
	if to < len(runes) {
		window += "…"
	}
	return strings.TrimRight(window, " "), caret + "^"
}

// cellOf is how a character is shown and how many columns of a terminal that
// takes.
func cellOf(c rune) (text string, width int) {
	switch {
	case c == '\t':
		return "  ", 2
	case unicode.Is(unicode.Mn, c) || unicode.Is(unicode.Me, c):
		return string(c), 0
	case !unicode.IsPrint(c), steers(c):
		return "·", 1
	case wide(c):
		return string(c), 2
	}
	return string(c), 1
}

// wide tells characters that a terminal draws two columns wide: the main
// blocks of class W and F in the Unicode Standard Annex 11, East Asian Width.
func wide(c rune) bool {
	switch {
	case c >= 0x1100 && c <= 0x115f, c >= 0x2e80 && c <= 0xa4cf && c != 0x303f,
		c >= 0xac00 && c <= 0xd7a3, c >= 0xf900 && c <= 0xfaff, c >= 0xfe30 && c <= 0xfe6f,
		c >= 0xff00 && c <= 0xff60, c >= 0xffe0 && c <= 0xffe6, c >= 0x1f300 && c <= 0x1faff,
		c >= 0x20000 && c <= 0x3fffd:
		return true
	}
	return false
}

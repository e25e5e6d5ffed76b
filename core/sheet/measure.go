package sheet

import "strings"

// The sizes of type on the sheet, of the em. None is smaller than fine.
const (
	sizeFine  MM = 2.3
	sizeTable MM = 2.4
	sizeLabel MM = 2.5
	sizeHead  MM = 2.7
	sizeTitle MM = 4.2
	sizeStamp MM = 3.8
)

// measure remembers the widths of texts, which are asked for many times over.
type measure struct {
	Metrics
	known map[measured]MM
}

type measured struct {
	text   string
	weight Weight
	size   MM
}

func newMeasure(m Metrics) *measure { return &measure{m, map[measured]MM{}} }

func (m *measure) width(text string, w Weight, size MM) MM {
	k := measured{text, w, size}
	if v, ok := m.known[k]; ok {
		return v
	}
	v := m.Advance(text, w, size)
	m.known[k] = v
	return v
}

// lead is the distance from one baseline to the next.
func (m *measure) lead(w Weight, size MM) MM {
	return m.Ascent(w, size) + m.Descent(w, size)
}

// wrap breaks a text into lines no wider than width, between words where it
// can and inside a word where that alone is too wide. Nothing is dropped.
func (m *measure) wrap(text string, w Weight, size, width MM) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		joined := word
		if line != "" {
			joined = line + " " + word
		}
		if m.width(joined, w, size) <= width {
			line = joined
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		pieces := m.chop(word, w, size, width)
		lines = append(lines, pieces[:len(pieces)-1]...)
		line = pieces[len(pieces)-1]
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// chop breaks one word into pieces no wider than width, one letter at least.
func (m *measure) chop(word string, w Weight, size, width MM) []string {
	var pieces []string
	letters := []rune(word)
	for len(letters) > 0 {
		n := min(len(letters), 300) // no column of a sheet holds more letters
		for n > 1 && m.width(string(letters[:n]), w, size) > width {
			n--
		}
		pieces = append(pieces, string(letters[:n]))
		letters = letters[n:]
	}
	return pieces
}

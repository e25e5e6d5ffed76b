package sheet

import "undersod/core/typeset"

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

// wrap breaks a text into lines no wider than width.
func (m *measure) wrap(text string, w Weight, size, width MM) []string {
	return typeset.Wrap(text, width, func(s string) MM { return m.width(s, w, size) })
}

package jobfile

import (
	"errors"
	"strings"
	"unicode/utf8"

	"undersod/core/site"
	"undersod/core/unit"
)

// text reads words; false when n holds none.
func (r *reader) text(n *node, subject string) (string, bool) {
	if n.form != scalar {
		r.wrong(n, subject, "words", "")
		return "", false
	}
	if strings.ContainsFunc(n.text, func(c rune) bool { return c != '\n' && c != '\t' && unprintable(c) }) {
		r.wrong(n, subject, "characters that can be seen", "")
		return "", false
	}
	return strings.TrimSpace(n.text), true
}

// words reads the words of a key into to, where the key is there.
func (r *reader) words(f fields, key, subject string, to *string) {
	if n := f.get(key); n != nil {
		if s, ok := r.text(n, key+" of "+subject); ok {
			*to = s
		}
	}
}

// choice reads one of the words in known; capitals weigh nothing.
func (r *reader) choice(n *node, subject string, known []string) (string, bool) {
	if n.form == scalar {
		text := strings.Join(strings.Fields(n.text), " ")
		for _, k := range known {
			if strings.EqualFold(text, k) {
				return k, true
			}
		}
	}
	p := site.Problem{Place: r.at(n), Subject: subject, Found: n.shown(), Expected: orList(known)}
	near, ok := tradeWord(n.text, known)
	if !ok {
		near, ok = nearest(n.text, known)
	}
	if ok && n.form == scalar {
		p.Advice = "Did you mean \"" + near + "\"?"
	}
	r.tell(p)
	return "", false
}

// yes reads true or false.
func (r *reader) yes(n *node, subject string) (value, ok bool) {
	if n.form == scalar {
		switch strings.ToLower(n.text) {
		case "true", "yes":
			return true, true
		case "false", "no":
			return false, true
		}
	}
	r.wrong(n, subject, "true or false", "true")
	return false, false
}

// quantity reads n with one of unit's parsers and tells its error.
func quantity[T any](r *reader, n *node, subject, expected, example string, parse func(string) (T, error)) (T, bool) {
	var none T
	if n.form != scalar || n.null || strings.TrimSpace(n.text) == "" {
		r.wrong(n, subject, expected, example)
		return none, false
	}
	v, err := parse(n.text)
	if err == nil {
		return v, true
	}
	p := site.Problem{Place: r.at(n), Subject: subject, Found: n.shown(), Expected: expected, Example: example}
	var pe *unit.ParseError
	if errors.As(err, &pe) {
		p.Place.Column += r.shift(n, pe.Offset)
		if pe.Expected != "" {
			p.Expected = pe.Expected
		}
		if pe.Example != "" {
			p.Example = pe.Example
		}
		p.Advice = sentence(pe.Problem)
	}
	r.tell(p)
	return none, false
}

// sentence makes words a sentence of its own.
func sentence(s string) string {
	if s == "" {
		return ""
	}
	c, size := utf8.DecodeRuneInString(s)
	s = strings.ToUpper(string(c)) + s[size:]
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s
}

// shift is how many characters after the start of n byte offset of its text
// stands in the source. It is 0 where the two cannot be matched, as in a text
// of several lines.
func (r *reader) shift(n *node, offset int) int {
	if n.block || offset <= 0 || offset > len(n.text) {
		return 0
	}
	rest := []rune(r.line(n.line))
	if n.column < 1 || n.column > len(rest) {
		return 0
	}
	rest = rest[n.column-1:]
	i := 0
	if n.quoted {
		i = 1
	}
	for _, c := range n.text[:offset] {
		if i >= len(rest) {
			return 0
		}
		switch {
		case n.quoted && rest[i] == '\\' && i+1 < len(rest) && rest[i+1] == c:
			i++ // an escaped quote mark
		case n.quoted && c == '\'' && i+1 < len(rest) && rest[i] == '\'' && rest[i+1] == '\'' && rest[0] == '\'':
			i++ // a doubled one
		case rest[i] != c:
			return 0
		}
		i++
	}
	return i
}

// line returns line number n of the source, from 1.
func (r *reader) line(n int) string {
	if r.lines == nil {
		r.lines = []int{0}
		for i, c := range r.source {
			if c == '\n' {
				r.lines = append(r.lines, i+1)
			}
		}
	}
	if n < 1 || n > len(r.lines) {
		return ""
	}
	return sourceLine(r.source[r.lines[n-1]:], 1)
}

const (
	lengthWords   = "a length"
	lengthExample = `23' 4 1/2"`
)

func (r *reader) length(n *node, subject string) (unit.Written, bool) {
	return quantity(r, n, subject, lengthWords, lengthExample, func(s string) (unit.Written, error) {
		return unit.ParseLength(s, r.bare)
	})
}

// lengthOf reads the length of a key; nil when it is absent or wrong.
func (r *reader) lengthOf(f fields, key, subject string) *unit.Written {
	if n := f.get(key); n != nil {
		if w, ok := r.length(n, key+" of "+subject); ok {
			return &w
		}
	}
	return nil
}

// sizeOf reads a length of a key that must be above zero, 0 when it is absent.
func (r *reader) sizeOf(f fields, key, subject string) unit.Length {
	w := r.lengthOf(f, key, subject)
	if w == nil {
		return 0
	}
	if w.Length <= 0 {
		r.wrong(f.get(key), key+" of "+subject, "a length above zero", "3 ft")
		return 0
	}
	return w.Length
}

// sdOf reads a standard deviation of a length under key; false when it is
// there but wrong.
func (r *reader) sdOf(f fields, key, subject string) (*unit.Length, bool) {
	n := f.get(key)
	if n == nil {
		return nil, true
	}
	w, ok := r.length(n, key+" of "+subject)
	if !ok {
		return nil, false
	}
	return &w.Length, true
}

func (r *reader) angleSD(f fields, key, subject string) (*unit.Angle, bool) {
	n := f.get(key)
	if n == nil {
		return nil, true
	}
	a, ok := quantity(r, n, key+" of "+subject, "an angle", "1°", unit.ParseAngle)
	if !ok {
		return nil, false
	}
	return &a, true
}

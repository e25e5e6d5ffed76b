package values

import (
	"errors"
	"strings"

	"undersod/core/english"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile/tell"
	"undersod/internal/jobfile/tree"
)

// Text reads words; false when n holds none.
func (r *Reader) Text(n *tree.Node, subject string) (string, bool) {
	if n.Form != tree.Scalar {
		r.Wrong(n, subject, "words", "")
		return "", false
	}
	if strings.ContainsFunc(n.Text, func(c rune) bool { return c != '\n' && c != '\t' && Unprintable(c) }) {
		r.Wrong(n, subject, "characters that can be seen", "")
		return "", false
	}
	return strings.TrimSpace(n.Text), true
}

// Words reads the words of a key into to, where the key is there.
func (r *Reader) Words(f Fields, key, subject string, to *string) {
	if n := f.Get(key); n != nil {
		if s, ok := r.Text(n, key+" of "+subject); ok {
			*to = s
		}
	}
}

// Choice reads one of the words in known; capitals weigh nothing.
func (r *Reader) Choice(n *tree.Node, subject string, known []string) (string, bool) {
	if n.Form == tree.Scalar {
		text := strings.Join(strings.Fields(n.Text), " ")
		for _, k := range known {
			if strings.EqualFold(text, k) {
				return k, true
			}
		}
	}
	p := site.Problem{Place: r.At(n), Subject: subject, Found: n.Shown(), Expected: english.Or(known)}
	near, ok := tradeWord(n.Text, known)
	if !ok {
		near, ok = english.Nearest(n.Text, known)
	}
	if ok && n.Form == tree.Scalar {
		p.Advice = "Did you mean \"" + near + "\"?"
	}
	r.Tell(p)
	return "", false
}

// Yes reads true or false.
func (r *Reader) Yes(n *tree.Node, subject string) (value, ok bool) {
	if n.Form == tree.Scalar {
		switch strings.ToLower(n.Text) {
		case "true", "yes":
			return true, true
		case "false", "no":
			return false, true
		}
	}
	r.Wrong(n, subject, "true or false", "true")
	return false, false
}

// Quantity reads n with one of unit's parsers and tells its error.
func Quantity[T any](r *Reader, n *tree.Node, subject, expected, example string, parse func(string) (T, error)) (T, bool) {
	var none T
	if n.Form != tree.Scalar || n.Null || strings.TrimSpace(n.Text) == "" {
		r.Wrong(n, subject, expected, example)
		return none, false
	}
	v, err := parse(n.Text)
	if err == nil {
		return v, true
	}
	p := site.Problem{Place: r.At(n), Subject: subject, Found: n.Shown(), Expected: expected, Example: example}
	var pe *unit.ParseError
	if errors.As(err, &pe) {
		p.Place.Column += r.Shift(n, pe.Offset)
		if pe.Expected != "" {
			p.Expected = pe.Expected
		}
		if pe.Example != "" {
			p.Example = pe.Example
		}
		p.Advice = english.Sentence(pe.Problem)
	}
	r.Tell(p)
	return none, false
}

// Shift is how many characters after the start of n byte offset of its text
// stands in the source. It is 0 where the two cannot be matched, as in a text
// of several lines.
func (r *Reader) Shift(n *tree.Node, offset int) int {
	if n.Block || offset <= 0 || offset > len(n.Text) {
		return 0
	}
	rest := []rune(r.Line(n.Line))
	if n.Column < 1 || n.Column > len(rest) {
		return 0
	}
	rest = rest[n.Column-1:]
	i := 0
	if n.Quoted {
		i = 1
	}
	for _, c := range n.Text[:offset] {
		if i >= len(rest) {
			return 0
		}
		switch {
		case n.Quoted && rest[i] == '\\' && i+1 < len(rest) && rest[i+1] == c:
			i++ // an escaped quote mark
		case n.Quoted && c == '\'' && i+1 < len(rest) && rest[i] == '\'' && rest[i+1] == '\'' && rest[0] == '\'':
			i++ // a doubled one
		case rest[i] != c:
			return 0
		}
		i++
	}
	return i
}

// Line returns line number n of the source, from 1.
func (r *Reader) Line(n int) string {
	if r.lines == nil {
		r.lines = []int{0}
		for i, c := range r.Source {
			if c == '\n' {
				r.lines = append(r.lines, i+1)
			}
		}
	}
	if n < 1 || n > len(r.lines) {
		return ""
	}
	return tell.SourceLine(r.Source[r.lines[n-1]:], 1)
}

const (
	lengthWords   = "a length"
	lengthExample = `23' 4 1/2"`
)

// Length reads a length; a number without a unit is in r.Bare.
func (r *Reader) Length(n *tree.Node, subject string) (unit.Written, bool) {
	return Quantity(r, n, subject, lengthWords, lengthExample, func(s string) (unit.Written, error) {
		return unit.ParseLength(s, r.Bare)
	})
}

// LengthOf reads the length of a key; nil when it is absent or wrong.
func (r *Reader) LengthOf(f Fields, key, subject string) *unit.Written {
	if n := f.Get(key); n != nil {
		if w, ok := r.Length(n, key+" of "+subject); ok {
			return &w
		}
	}
	return nil
}

// SizeOf reads a length of a key that must be above zero, 0 when it is absent.
func (r *Reader) SizeOf(f Fields, key, subject string) unit.Length {
	w := r.LengthOf(f, key, subject)
	if w == nil {
		return 0
	}
	if w.Length <= 0 {
		r.Wrong(f.Get(key), key+" of "+subject, "a length above zero", "3 ft")
		return 0
	}
	return w.Length
}

// SDOf reads a standard deviation of a length under key; false when it is
// there but wrong.
func (r *Reader) SDOf(f Fields, key, subject string) (*unit.Length, bool) {
	n := f.Get(key)
	if n == nil {
		return nil, true
	}
	w, ok := r.Length(n, key+" of "+subject)
	if !ok {
		return nil, false
	}
	return &w.Length, true
}

// AngleSD reads a standard deviation of an angle under key; false when it is
// there but wrong.
func (r *Reader) AngleSD(f Fields, key, subject string) (*unit.Angle, bool) {
	n := f.Get(key)
	if n == nil {
		return nil, true
	}
	a, ok := Quantity(r, n, key+" of "+subject, "an angle", "1°", unit.ParseAngle)
	if !ok {
		return nil, false
	}
	return &a, true
}

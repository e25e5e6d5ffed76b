package judge

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"undersod/core/adjust"
	"undersod/core/site"
)

// point is a located point of the plan, or the centre of a fitted outline.
func (w *work) point(name site.Name) (adjust.Point, bool) {
	for _, p := range w.plan.Points {
		if p.Name == name && p.Placed && p.State == adjust.Determined {
			return p, true
		}
	}
	for _, o := range w.plan.Outlines {
		if o.Part == name && o.Fitted {
			return adjust.Point{Name: name, At: o.Centre, Placed: true, Sigma: o.Sigma, Ellipse: o.Sigma.Ellipse95()}, true
		}
	}
	return adjust.Point{}, false
}

// capital starts a sentence.
func capital(s string) string {
	c, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(c)) + s[n:]
}

// sentence starts with a capital and ends with a full stop.
func sentence(s string) string { return capital(strings.TrimSuffix(s, ".")) + "." }

// listed joins names as a sentence does.
func listed(names []string) string {
	switch n := len(names); n {
	case 0:
		return ""
	case 1:
		return names[0]
	default:
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
}

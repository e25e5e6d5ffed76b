package jobfile

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile/tell"
	"undersod/internal/jobfile/tree"
	"undersod/internal/jobfile/values"
)

// namer knows which names a place in the file may use: exists asks in silence,
// must tells a name that it may not.
type namer struct {
	exists func(site.Name) bool
	must   func(n *node, name site.Name, subject string) bool
}

// located is the names of points; a part with an outline becomes one where it
// is named.
func (r *reader) located() namer { return namer{r.exists, r.mustExist} }

// standing is the names of points as they are: what only tells a place that is
// wished makes no point of a part that was found by its outline.
func (r *reader) standing() namer {
	exists := func(name site.Name) bool {
		_, ok := r.points[name]
		return ok
	}
	must := func(n *node, name site.Name, subject string) bool {
		if _, outlined := r.outlined[name]; !outlined {
			return r.mustExist(n, name, subject)
		}
		r.Tell(site.Problem{Place: r.At(n), Subject: subject, Found: string(name), Expected: "a point; this part is known by its outline",
			Advice: "Name one of its hits, its lid or another point."})
		return false
	}
	return namer{exists, must}
}

// baseline reads "A-B" or [A, B]: two points that must exist.
func (r *reader) baseline(n *node, subject string) (from, to site.Name, ok bool) {
	return r.baselineOf(n, subject, r.located())
}

// baselineOf reads "A-B" or [A, B], two names of which both are known.
func (r *reader) baselineOf(n *node, subject string, names namer) (from, to site.Name, ok bool) {
	if n.Form == tree.List {
		if len(n.Items) != 2 {
			r.Wrong(n, subject, "two points", "[A, B]")
			return "", "", false
		}
		from, ok1 := r.nameBy(n.Items[0], subject, names)
		to, ok2 := r.nameBy(n.Items[1], subject, names)
		return from, to, ok1 && ok2
	}
	if n.Form != tree.Scalar {
		r.Wrong(n, subject, "a baseline", "A-B")
		return "", "", false
	}
	return r.splitBy(n, n.Text, subject, names)
}

func (r *reader) nameBy(n *node, subject string, names namer) (site.Name, bool) {
	name, ok := r.Name(n, subject)
	return name, ok && names.must(n, name, subject)
}

// split takes "A-B" apart at the hyphen that leaves a known name on both
// sides; names may hold hyphens themselves.
func (r *reader) split(n *node, text, subject string) (from, to site.Name, ok bool) {
	return r.splitBy(n, text, subject, r.located())
}

func (r *reader) splitBy(n *node, text, subject string, names namer) (from, to site.Name, ok bool) {
	if utf8.RuneCountInString(text) > 2*values.MaxName+3 {
		r.Wrong(n, subject, "a baseline, two names with a hyphen between", "A-B")
		return "", "", false
	}
	type cut struct{ from, to site.Name }
	var all, good []cut
	for i, c := range text {
		if c != '-' && c != '–' {
			continue
		}
		a, b := tidy(text[:i]), tidy(strings.TrimLeft(text[i:], "-–"))
		if a == "" || b == "" {
			continue
		}
		all = append(all, cut{a, b})
		if names.exists(a) && names.exists(b) {
			good = append(good, cut{a, b})
		}
	}
	switch {
	case len(good) == 1:
		return good[0].from, good[0].to, true
	case len(good) > 1:
		r.Tell(site.Problem{Place: r.At(n), Subject: subject, Found: tell.Clip(text),
			Expected: fmt.Sprintf("one baseline: this can be %q to %q or %q to %q", good[0].from, good[0].to, good[1].from, good[1].to),
			Example:  fmt.Sprintf("[%s, %s]", good[0].from, good[0].to)})
		return "", "", false
	case len(all) == 0:
		r.Tell(site.Problem{Place: r.At(n), Subject: subject, Found: tell.Clip(text),
			Expected: "a baseline, two points with a hyphen between", Example: "A-B"})
		return "", "", false
	}
	best := all[0]
	for _, c := range all { // the cut with one known name tells most
		if names.exists(c.from) || names.exists(c.to) {
			best = c
			break
		}
	}
	ok = names.must(n, best.from, subject)
	return best.from, best.to, names.must(n, best.to, subject) && ok
}

func tidy(s string) site.Name { return site.Name(strings.Join(strings.Fields(s), " ")) }

const sideWords = `"left of", "right of" or "lawn side of" and a baseline`

// sides reads one side hint or a list of them.
func (r *reader) sides(n *node, subject string) []site.Side {
	var out []site.Side
	for _, item := range tree.Elements(n) {
		if s, ok := r.side(item, subject); ok {
			out = append(out, s)
		}
	}
	return out
}

func (r *reader) side(n *node, subject string) (site.Side, bool) {
	subject = "side of " + subject
	if n.Form != tree.Scalar {
		r.Wrong(n, subject, sideWords, "lawn side of A-B")
		return site.Side{}, false
	}
	text := string(tidy(n.Text))
	for _, w := range []struct {
		words string
		kind  site.SideKind
	}{
		{"left of ", site.LeftOf}, {"right of ", site.RightOf},
		{"lawn side of ", site.Outside}, {"outside of ", site.Outside}, {"outside ", site.Outside},
	} {
		if len(text) <= len(w.words) || !strings.EqualFold(text[:len(w.words)], w.words) {
			continue
		}
		from, to, ok := r.split(n, text[len(w.words):], subject)
		return site.Side{Kind: w.kind, From: from, To: to, Text: text, Place: r.At(n)}, ok
	}
	p := site.Problem{Place: r.At(n), Subject: subject, Found: n.Shown(), Expected: sideWords, Example: "lawn side of A-B"}
	if _, wall, ok := strings.Cut(text, "side of "); ok {
		p.Advice = fmt.Sprintf("Did you mean %q?", "lawn side of "+tell.Clip(wall))
	}
	r.Tell(p)
	return site.Side{}, false
}

const (
	alongWords   = "a distance along and a distance right or left"
	alongExample = `30' along, 12' right`
)

// along reads "30' along, 12' right"; the distance to the left is negative.
func (r *reader) along(n *node, text, subject string) (station, right unit.Written, ok bool) {
	first, second, found := strings.Cut(text, ",")
	first, isAlong := strings.CutSuffix(strings.TrimSpace(first), "along")
	second = strings.TrimSpace(second)
	across, isRight := strings.CutSuffix(second, "right")
	across, isLeft := strings.CutSuffix(across, "left")
	if !found || !isAlong || isRight == isLeft {
		r.Wrong(n, subject, alongWords, alongExample)
		return station, right, false
	}
	station, ok1 := r.lengthText(n, first, subject)
	right, ok2 := r.lengthText(n, across, subject)
	if isLeft {
		right.Length = -right.Length
	}
	return station, right, ok1 && ok2
}

// lengthText reads a length that is part of n's text.
func (r *reader) lengthText(n *node, text, subject string) (unit.Written, bool) {
	part := *n
	part.Text = strings.TrimSpace(text)
	if i := strings.Index(n.Text, part.Text); i > 0 && part.Text != "" {
		part.Column += r.Shift(n, i)
	}
	part.Quoted = false
	return r.Length(&part, subject)
}

// rough reads "30' along, 12' right of A-B"; without "of A-B" it counts from
// the datum.
func (r *reader) rough(n *node, subject string) (*site.Rough, bool) {
	subject = "rough position of " + subject
	if n.Form != tree.Scalar {
		r.Wrong(n, subject, alongWords, alongExample+" of A-B")
		return nil, false
	}
	text := string(tidy(n.Text))
	steps, base, hasBase := strings.Cut(text, " of ")
	out := &site.Rough{Text: text, Place: r.At(n)}
	station, right, ok := r.along(n, steps, subject)
	if hasBase {
		var known bool
		out.From, out.To, known = r.split(n, base, subject)
		ok = ok && known
	}
	out.Along, out.Right = station.Length, right.Length
	return out, ok
}

package ties

import (
	"fmt"
	"slices"
	"strings"

	"undersod/core/level"
	"undersod/core/site"
	"undersod/core/unit"
)

// heights is what the level rod says of the points of a job.
type heights struct {
	x     *Index
	say   Wording
	bench []level.Key                  // of each group of heights that a rod joins; the first is the bench mark
	of    map[site.Name][]level.Height // by point, in the order read
	sd    unit.Length                  // the largest of those told
}

// heights gathers the heights that rod readings give; what depths alone join is
// no level.
func (x *Index) heights() heights {
	h := heights{x: x, say: NewWording(x.job.Show), of: map[site.Name][]level.Height{}}
	rods, all := x.rods(), x.plan.Net.Heights()
	groups := map[int]int{} // a group's place among the bench marks
	for _, v := range all {
		if _, known := groups[v.Group]; !known && rods[v.Key] {
			groups[v.Group] = len(h.bench)
			h.bench = append(h.bench, x.benchOf(v.Group, all, rods))
		}
	}
	for _, v := range all {
		if i, ok := groups[v.Group]; ok {
			v.Group = i
			h.of[v.Point] = append(h.of[v.Point], v)
		}
	}
	if len(h.bench) > 0 {
		h.say = x.rodWording(h.bench[0], h.say)
	}
	return h
}

// rods tells on what a rod stood.
func (x *Index) rods() map[level.Key]bool {
	out := map[level.Key]bool{}
	for _, r := range x.job.Visit.Readings {
		if r, ok := r.(site.Rod); ok && r.SetAside == "" {
			out[level.Key{Point: r.Point, On: r.On}] = true
		}
	}
	return out
}

// benchOf chooses the bench mark of a group: a level point that is called one,
// else the first mark that the rod stood on, else the first point.
func (x *Index) benchOf(group int, all []level.Height, rods map[level.Key]bool) level.Key {
	var read []level.Key
	for _, v := range all {
		if v.Group == group && rods[v.Key] {
			read = append(read, v.Key)
		}
	}
	if i := slices.IndexFunc(read, func(k level.Key) bool { _, bench := x.levelPoint(k.Point); return bench }); i >= 0 {
		return read[i]
	}
	if i := slices.IndexFunc(read, func(k level.Key) bool { return x.IsMark(k.Point) }); i >= 0 {
		return read[i]
	}
	return read[0]
}

// levelPoint returns the words of a level point, without that it is a bench
// mark, and whether they say so.
func (x *Index) levelPoint(n site.Name) (words string, bench bool) {
	for _, p := range x.job.Site.LevelPoints {
		if p.Name != n {
			continue
		}
		words = Clean(p.Words)
		for _, b := range [...]string{"bench mark", "benchmark"} {
			if low := strings.ToLower(words); strings.HasPrefix(low, b) {
				return strings.TrimLeft(words[len(b):], " ,:"), true
			} else if strings.Contains(low, b) {
				return words, true
			}
		}
		return words, false
	}
	return "", false
}

// rodWording prints heights as the rod was read on the bench mark.
func (x *Index) rodWording(k level.Key, w Wording) Wording {
	for _, r := range x.job.Visit.Readings {
		if r, ok := r.(site.Rod); ok && r.Point == k.Point && r.On == k.On && r.Read.Form != 0 {
			w.Form = r.Read.Form
			return w
		}
	}
	return w
}

// cells returns the heights at a point, each over its bench mark and after the
// words that say what of a part the point is.
func (h *heights) cells(n site.Name, what string) []string {
	var out []string
	for _, v := range h.of[n] {
		bench := h.bench[v.Group]
		rise, sd, ok := h.x.plan.Net.Difference(v.Key, bench)
		if !ok {
			continue
		}
		h.sd = max(h.sd, sd)
		words := h.say.Length(rise)
		if rise > 0 {
			words = "+" + words
		}
		words = what + string(v.On) + " " + words
		if v.Group > 0 {
			words += " over " + Clean(string(bench.Point))
		}
		out = append(out, words)
	}
	return out
}

// footed says on what a rod stood, and where.
func footed(k level.Key) string {
	at := " at "
	if k.On == site.OnTop {
		at = " of "
	}
	return "the " + string(k.On) + at + Clean(string(k.Point))
}

// note names the bench mark and tells how far the rod readings are checked.
func (h *heights) note() string {
	bench := h.bench[0]
	words := "Heights are over the bench mark, " + footed(bench)
	if what, _ := h.x.levelPoint(bench.Point); what != "" {
		words += " (" + what + ")"
	}
	words += ", taken as 0; known within " + h.say.Small(1.96*h.sd) + " (95 %)."
	if len(h.x.plan.Net.Doubts()) > 0 {
		return words + " Rod readings disagree: see the check."
	}
	switch used, bare := h.unchecked(); {
	case bare == used:
		words += " Nothing checks the rod readings."
	case bare > 0:
		words += fmt.Sprintf(" Nothing checks %d of %d rod readings.", bare, used)
	}
	return words
}

// unchecked counts the rod readings, and those of them that nothing checks.
func (h *heights) unchecked() (used, bare int) {
	open := map[site.ReadingID]bool{}
	for _, id := range h.x.plan.Net.Unchecked() {
		open[id] = true
	}
	for _, r := range h.x.job.Visit.Readings {
		if r, ok := r.(site.Rod); ok && r.SetAside == "" {
			used++
			if open[r.ID] {
				bare++
			}
		}
	}
	return used, bare
}

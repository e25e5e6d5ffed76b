package compare

import (
	"fmt"
	"math"

	"undersod/core/adjust"
	"undersod/core/english"
	"undersod/core/site"
	"undersod/core/unit"
)

// taped is the mean of what was taped between two points at one visit.
type taped struct {
	sum, variance float64
	n             int
}

func (t taped) mean() unit.Length { return unit.Length(t.sum / float64(t.n)) }

func (t taped) sd() unit.Length { return unit.Length(math.Sqrt(t.variance) / float64(t.n)) }

// pairs takes the ties of a visit, by their ends in a fixed order and under
// their earlier names; also the order in which they were first met.
func pairs(s Side, name func(site.Name) site.Name) (map[[2]site.Name]taped, [][2]site.Name) {
	used := map[site.ReadingID]adjust.Reading{}
	for _, r := range s.Plan.Readings {
		if r.Source == adjust.FromReading && r.Use == adjust.Used {
			used[r.ID] = r
		}
	}
	out := map[[2]site.Name]taped{}
	var order [][2]site.Name
	for _, r := range s.Job.Visit.Readings {
		tie, ok := r.(site.Tie)
		u, fine := used[r.Common().ID]
		if !ok || !fine || len(u.Components) == 0 {
			continue
		}
		read, sd := tie.Read.Length, u.Components[0].SD
		if tie.Corrected != nil {
			read = tie.Corrected.Length
		}
		if !(sd > 0) || math.IsInf(sd, 0) {
			continue
		}
		key := [2]site.Name{name(tie.From), name(tie.To)}
		if key[1] < key[0] {
			key[0], key[1] = key[1], key[0]
		}
		t := out[key]
		if t.n == 0 {
			order = append(order, key)
		}
		t.sum, t.variance, t.n = t.sum+float64(read), t.variance+sd*sd, t.n+1
		out[key] = t
	}
	return out, order
}

// readings lists the pairs of points whose distance was taped at both visits and
// differs by more than both readings leave open, with 95 %.
func (w *work) readings() {
	was, _ := pairs(w.before, func(n site.Name) site.Name { return n })
	is, order := pairs(w.after, w.earlier)
	compared := 0
	for _, key := range order {
		a, ok := was[key]
		if !ok {
			continue
		}
		b := is[key]
		compared++
		p := Pair{From: w.later(key[0]), To: w.later(key[1]), Before: a.mean(), After: b.mean(), Change: b.mean() - a.mean()}
		p.Within = both(unit.Length(math.Hypot(float64(a.sd()), float64(b.sd()))), w.again(key))
		if p.Change.Abs() <= p.Within {
			continue
		}
		p.Words = fmt.Sprintf("%s to %s: %s now, %s before, a difference of %s where %s is left open.", p.From, p.To,
			w.say.Format(p.After), w.say.Format(p.Before), w.say.Format(p.Change.Abs()), w.say.Format(p.Within))
		w.out.Readings = append(w.out.Readings, p)
	}
	if len(w.out.Readings) > 0 {
		w.remark("Of %s taped at both visits %d differ by more than both readings leave open; one in twenty does so by chance.", english.Count(compared, "distance"), len(w.out.Readings))
	}
}

// again is how well the two ends of a tape are found again, at two visits.
func (w *work) again(ends [2]site.Name) unit.Length {
	sum := 0.0
	for _, n := range ends {
		sum += 2 * sq(float64(foundAgain(w.pointBefore[n].Role)))
	}
	return unit.Length(math.Sqrt(sum))
}

// mostPairs is among how many pairs of names one thing of two names is looked for.
const mostPairs = 1_000_000

// renames asks where something is gone and something of the same kind is new in
// its place.
func (w *work) renames() {
	counts := map[Verdict]int{}
	for _, p := range w.out.Places {
		counts[p.Verdict]++
	}
	if counts[Gone]*counts[New] > mostPairs {
		return
	}
	for _, g := range w.out.Places {
		if g.Verdict != Gone || w.fit == nil || !located(w.pointBefore[g.Name]) {
			continue
		}
		for _, n := range w.out.Places {
			if q, ok := w.pointAfter[n.Name]; n.Verdict == New && ok && located(q) && n.What == g.What && n.Is.Minus(g.Was).Length() <= w.places95 {
				w.remark("%s of the earlier visit and %s of the later one lie in the same place: where they are one thing, say so, and they are compared.", g.Name, n.Name)
				break
			}
		}
	}
}

// summary tells what matters, in the order of what a person asks first.
func (w *work) summary() {
	var out []string
	counts := map[Verdict]int{}
	for _, p := range w.out.Places {
		if counts[p.Verdict]++; p.Verdict == Moved {
			out = append(out, p.Words)
		}
	}
	for _, o := range w.out.Outlines {
		if o.Verdict == Moved {
			out = append(out, o.Words)
		}
	}
	for _, l := range w.out.Lines {
		if l.Verdict == Changed || l.BendsWas != l.BendIs {
			out = append(out, l.Words)
		}
	}
	for _, l := range w.out.Levels {
		if l.Verdict == Moved {
			out = append(out, l.Words)
		}
	}
	for _, d := range w.out.Depths {
		if d.Verdict == Changed {
			out = append(out, d.Words)
		}
	}
	for _, b := range w.out.Boxes {
		if b.Spread.Verdict == Changed {
			out = append(out, b.Words)
		}
	}
	for _, f := range w.out.Findings {
		if f.Growth == Grown || f.Growth == Appeared || f.Growth == Vanished {
			out = append(out, f.Words)
		}
	}
	head := fmt.Sprintf("Of %s located at both visits %d moved, %d stayed and %d cannot be told.",
		english.Count(counts[Moved]+counts[Unchanged]+counts[TooClose], "place"), counts[Moved], counts[Unchanged], counts[TooClose])
	if w.fit == nil {
		head = "Places are not compared: the plans are not laid over each other."
	}
	w.out.Summary = append([]string{head}, out...)
}

package adjust

import (
	"fmt"
	"slices"

	"undersod/core/site"
)

// remembered is what a plan keeps so that the next one can start near it: where
// everything lies, and everything that decided so.
type remembered struct {
	layout
	mark, toward int
	readings     map[numberKey][2]float64 // value and standard deviation of each number
	hints        []string                 // of each point
}

// numberKey names one number of one reading.
type numberKey struct {
	id        site.ReadingID
	component int
}

// remember keeps a plan's places for the next one; nil where mirrored answers
// were too many to follow.
func (w *work) remember() *remembered {
	if len(w.builder.doubt) > 0 {
		return nil
	}
	r := &remembered{layout: *w.layout, mark: w.net.frame.mark, toward: w.net.frame.toward,
		readings: make(map[numberKey][2]float64, len(w.net.eqs)), hints: w.net.hints()}
	for k := range w.net.eqs {
		r.readings[w.net.key(k)] = [2]float64{w.net.eqs[k].Read, w.net.eqs[k].SD}
	}
	return r
}

func (n *network) key(k int) numberKey {
	e := &n.eqs[k]
	return numberKey{n.readings[e.reading].ID, e.component}
}

// hints prints what may decide a mirror of each point without being a reading.
func (n *network) hints() []string {
	out := make([]string, len(n.points))
	for i, p := range n.points {
		if len(p.Sides) > 0 {
			out[i] = fmt.Sprint(p.Sides)
		}
		if p.Rough != nil {
			out[i] += fmt.Sprint(*p.Rough)
		}
	}
	return out
}

// holds tells whether everything that decided the remembered places is still
// in the job as it was: a mirror that only a lost reading decided must be told
// again. Further readings do no harm.
func (r *remembered) holds(n *network) bool {
	if !slices.Equal(r.hints, n.hints()) {
		return false
	}
	kept := 0
	for k := range n.eqs {
		was, ok := r.readings[n.key(k)]
		if ok && was != [2]float64{n.eqs[k].Read, n.eqs[k].SD} {
			return false
		}
		if ok {
			kept++
		}
	}
	return kept >= len(r.readings)
}

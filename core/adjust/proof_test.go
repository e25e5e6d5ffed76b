package adjust_test

import (
	"fmt"
	"math"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// asRead is a length without rounding, as if it had been read to a micrometre.
func asRead(l unit.Length) unit.Written {
	return unit.Written{Text: fmt.Sprintf("%.6f m", float64(l)), Length: l, Form: unit.Metres}
}

// apart is the true distance between two points.
func (y *yard) apart(a, b site.Name) unit.Length {
	return y.truth[a].Minus(y.truth[b]).Length()
}

// perfect adds a tie that reads the true distance.
func (y *yard) perfect(from, to site.Name) site.ReadingID {
	return y.tieRead(from, to, asRead(y.apart(from, to)), unit.Inch/4).ID
}

// scattered adds a tie with a normal error of its standard deviation.
func (y *yard) scattered(from, to site.Name, sd unit.Length) site.ReadingID {
	return y.tieRead(from, to, asRead(y.apart(from, to)+sd*unit.Length(y.rand.NormFloat64())), sd).ID
}

func (y *yard) read(r ...site.Reading) { y.job.Visit.Readings = append(y.job.Visit.Readings, r...) }

func named(id site.ReadingID) site.Taken { return site.Taken{ID: id} }

// change edits a tie of the job.
func (y *yard) change(id site.ReadingID, f func(*site.Tie)) {
	for i, r := range y.job.Visit.Readings {
		if t, ok := r.(site.Tie); ok && t.ID == id {
			f(&t)
			y.job.Visit.Readings[i] = t
			return
		}
	}
	panic("no tie " + id)
}

func (y *yard) solve() *adjust.Plan { return adjust.Solve(&y.job, adjust.Settings{}) }

// baseline lays out two marks 40 ft apart, A at the origin and B to the east,
// with the tie between them.
func baseline(seed uint64) *yard {
	y := newYard(seed)
	y.put("A", site.RoleMark, at(0, 0))
	y.put("B", site.RoleMark, at(40, 0))
	y.perfect("A", "B")
	return y
}

// wantAt fails unless a point is determined at its true place, in the plan's
// frame.
func wantAt(t *testing.T, y *yard, p *adjust.Plan, name site.Name, within unit.Length) {
	t.Helper()
	q := find(t, p, name)
	if q.State != adjust.Determined {
		t.Errorf("%s: state %v (%s), want determined", name, q.State, q.Why)
		return
	}
	if d := q.At.Minus(y.aligned(p.Frame, y.truth[name])).Length(); d > within {
		t.Errorf("%s lies %.6f m from its true place, at %v", name, float64(d), q.At)
	}
}

func readingOf(t *testing.T, p *adjust.Plan, id site.ReadingID) adjust.Reading {
	t.Helper()
	for _, r := range p.Readings {
		if r.ID == id {
			return r
		}
	}
	t.Fatalf("no reading %s in the plan", id)
	return adjust.Reading{}
}

func wantNear(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.9g, want %.9g within %g", what, got, want, within)
	}
}

func vec(e, n float64) planar.Vec { return planar.Vec{East: unit.Length(e), North: unit.Length(n)} }

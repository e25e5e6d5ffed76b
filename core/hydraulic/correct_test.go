package hydraulic_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"undersod/core/hydraulic"
	"undersod/core/unit"
)

const sixteenth = unit.Inch / 16

func correct(t *testing.T, o []hydraulic.Opening, q unit.Flow, tolerance float64) hydraulic.Correction {
	t.Helper()
	c, err := hydraulic.Correct(o, q, tolerance, 0)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// turned returns the openings after a correction.
func turned(o []hydraulic.Opening, turns []hydraulic.Turn) []hydraulic.Opening {
	out := append([]hydraulic.Opening(nil), o...)
	for _, turn := range turns {
		for i := range out {
			if out[i].Name == turn.Name {
				out[i].Invert += turn.By
			}
		}
	}
	return out
}

// worst returns the largest difference of a share from what is wanted.
func worst(s hydraulic.Split) float64 {
	w := 0.0
	for _, share := range s.Shares {
		w = max(w, math.Abs(share.Share-share.Wanted))
	}
	return w
}

func TestCorrectOneLow(t *testing.T) {
	o := outlets(4*unit.Inch, 1, 0.75, 1)
	c := correct(t, o, 10*unit.GallonPerMinute, 0.005)
	if len(c.Turns) != 1 || c.Turns[0].Name != "B" {
		t.Fatalf("%+v", c.Turns)
	}
	near(t, "by", float64(c.Turns[0].By), float64(unit.Inch/4), 1e-12)
	if !c.Within || c.After > 1e-9 || c.Worst < 0.1 || c.Step != sixteenth || c.Tolerance != 0.005 {
		t.Errorf("%+v", c)
	}
	near(t, "share", c.Split.Shares[1].Share, 1.0/3, 1e-9)
}

func TestCorrectLevelStays(t *testing.T) {
	c := correct(t, outlets(4*unit.Inch, 1, 1, 1), 10*unit.GallonPerMinute, 0.01)
	if len(c.Turns) != 0 || !c.Within || c.Worst > 1e-12 || c.After != c.Worst {
		t.Errorf("%+v", c)
	}
}

func TestCorrectUnequal(t *testing.T) {
	o := outlets(4*unit.Inch, 1, 1, 1)
	o[0].Wanted, o[1].Wanted, o[2].Wanted = 120, 120, 110
	c := correct(t, o, 10*unit.GallonPerMinute, 0.018) // a step moves a share by 0.036
	if !c.Within || len(c.Turns) != 1 || c.Turns[0].Name != "C" || c.Turns[0].By <= 0 {
		t.Errorf("the outlet with the shorter line should go up: %+v", c)
	}
	o[2].Wanted = 0
	c = correct(t, o, 10*unit.GallonPerMinute, 0.01)
	if !c.Within || len(c.Turns) != 1 || c.Split.Shares[2].Share > 0.01 {
		t.Errorf("the outlet that is to take nothing should go up: %+v", c)
	}
}

func TestCorrectNarrowedAndClosed(t *testing.T) {
	o := outlets(4*unit.Inch, 1, 1, 1, 3)
	o[0].Narrowed, o[3].Closed = 0.3, true
	c := correct(t, o, 10*unit.GallonPerMinute, 0.018)
	if !c.Within || len(c.Turns) != 1 || c.Turns[0].Name != "A" || c.Turns[0].By >= 0 || c.Split.Shares[3].Share != 0 {
		t.Errorf("the narrowed outlet should go down: %+v", c)
	}
}

func TestCorrectTooCoarse(t *testing.T) {
	o := outlets(4*unit.Inch, 1, 0.9, 1.05)
	c, err := hydraulic.Correct(o, 10*unit.GallonPerMinute, 0, unit.Inch)
	if err != nil {
		t.Fatal(err)
	}
	if c.Within || len(c.Turns) != 0 || c.After != c.Worst {
		t.Errorf("inch steps help nothing: %+v", c)
	}
	c = correct(t, o, 10*unit.GallonPerMinute, 0)
	if c.Within || c.After >= c.Worst/2 {
		t.Errorf("sixteenths bring it close: %+v", c)
	}
}

// What a correction says of itself is true, it does no harm, and its steps are
// whole.
func TestCorrectKeepsItsWord(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	for range 150 {
		o, q := anyBox(r)
		c := correct(t, o, q, 0.03)
		near(t, "before", c.Worst, worst(divide(t, o, q)), 1e-9)
		s := divide(t, turned(o, c.Turns), q)
		near(t, "after", c.After, worst(s), 1e-6)
		if c.After > c.Worst+1e-12 || c.Within != (c.After <= 0.03) {
			t.Fatalf("%+v", c)
		}
		for _, turn := range c.Turns {
			steps := float64(turn.By / sixteenth)
			if steps == 0 || math.Abs(steps-math.Round(steps)) > 1e-9 {
				t.Fatalf("%g steps", steps)
			}
		}
	}
}

// bruteForce tries every combination of up to 5 steps and returns the fewest
// turns, the fewest steps of these, and whether the tolerance is reached.
func bruteForce(t *testing.T, o []hydraulic.Opening, q unit.Flow, tolerance float64) (turns, total int, within bool) {
	const most = 5
	steps := make([]int, len(o))
	for i := range steps {
		steps[i] = -most
	}
	turns = math.MaxInt
	for {
		moved := append([]hydraulic.Opening(nil), o...)
		n, sum := 0, 0
		for i, k := range steps {
			moved[i].Invert += unit.Length(k) * sixteenth
			if k != 0 {
				n++
				sum += max(k, -k)
			}
		}
		if n < turns || n == turns && sum < total {
			if worst(divide(t, moved, q)) <= tolerance {
				turns, total, within = n, sum, true
			}
		}
		i := 0
		for ; i < len(steps); i++ {
			if steps[i]++; steps[i] <= most {
				break
			}
			steps[i] = -most
		}
		if i == len(steps) {
			return turns, total, within
		}
	}
}

func TestCorrectAgainstEveryCombination(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	for n := range 24 {
		o := outlets(4*unit.Inch, make([]float64, 2+n%2)...)
		for i := range o {
			o[i].Invert = unit.Length(r.Float64()*0.25) * unit.Inch
			if n%3 == 0 {
				o[i].Wanted = 0.8 + 0.4*r.Float64()
			}
		}
		q := unit.Flow(2+10*r.Float64()) * unit.GallonPerMinute
		tolerance := 0.01 + 0.03*r.Float64()
		turns, total, within := bruteForce(t, o, q, tolerance)
		c := correct(t, o, q, tolerance)
		if !within {
			continue
		}
		sum := 0
		for _, turn := range c.Turns {
			sum += int(math.Round(float64(turn.By.Abs() / sixteenth)))
		}
		if !c.Within || len(c.Turns) != turns || sum != total {
			t.Errorf("case %d: %d turns of %d steps reach %.4f, %d turns of %d steps would do", n, len(c.Turns), sum, c.After, turns, total)
		}
	}
}

func TestCorrectErrors(t *testing.T) {
	good := outlets(0.1, 1, 1)
	twins := outlets(0.1, 1, 1)
	twins[1].Name = "A"
	many := make([]hydraulic.Opening, 17)
	for i := range many {
		many[i] = hydraulic.Opening{Name: fmt.Sprint(i), Bore: 0.1}
	}
	nan := math.NaN()
	tests := []struct {
		o                  []hydraulic.Opening
		q, tolerance, step float64
		word               string
	}{
		{nil, 1e-3, 0.01, 0, "no outlets"},
		{good, 0, 0.01, 0, "no inflow"},
		{good, nan, 0.01, 0, "inflow"},
		{good, 1e-3, nan, 0, "tolerance"},
		{good, 1e-3, -1, 0, "tolerance"},
		{good, 1e-3, 0.01, nan, "steps"},
		{good, 1e-3, 0.01, 1e-9, "steps"},
		{good, 1e-3, 0.01, -1, "steps"},
		{twins, 1e-3, 0.01, 0, "two outlets"},
		{many, 1e-3, 0.01, 0, "at most 16"},
	}
	for i, c := range tests {
		if _, err := hydraulic.Correct(c.o, unit.Flow(c.q), c.tolerance, unit.Length(c.step)); err == nil || !strings.Contains(err.Error(), c.word) {
			t.Errorf("case %d: %v", i, err)
		}
	}
}

func TestSense(t *testing.T) {
	o := outlets(4*unit.Inch, 1, 1, 1)
	o = append(o, hydraulic.Opening{Name: "off", Closed: true})
	got, err := hydraulic.Sense(o, 10*unit.GallonPerMinute, sixteenth)
	if err != nil {
		t.Fatal(err)
	}
	raised := outlets(4*unit.Inch, 1, 1+1.0/16, 1)
	want := divide(t, raised, 10*unit.GallonPerMinute).Shares[1].Share - 1.0/3
	for i, s := range got[:3] {
		if s.Name != o[i].Name || s.By != sixteenth {
			t.Errorf("%+v", s)
		}
		near(t, "change", s.Change, want, 1e-9)
	}
	if got[3].Change != 0 || want > -0.005 || want < -0.1 {
		t.Errorf("%+v, want %g", got, want)
	}
	for _, by := range []float64{math.NaN(), 2, math.Inf(-1)} {
		if _, err := hydraulic.Sense(o, 1e-3, unit.Length(by)); err == nil {
			t.Errorf("raised by %g: no error", by)
		}
	}
	if _, err := hydraulic.Sense(nil, 1e-3, 0); err == nil {
		t.Error("no outlets: no error")
	}
}

func BenchmarkCorrectSix(b *testing.B) {
	o := outlets(4*unit.Inch, 1, 1.25, 1, 0.9, 1.1, 0.6)
	for b.Loop() {
		if _, err := hydraulic.Correct(o, 10*unit.GallonPerMinute, 0.02, 0); err != nil {
			b.Fatal(err)
		}
	}
}

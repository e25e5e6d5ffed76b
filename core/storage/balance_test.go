package storage_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"undersod/core/storage"
	"undersod/core/unit"
)

// anyField returns a field as they are, and worse.
func anyField(r *rand.Rand) storage.Run {
	run := storage.Run{Daily: unit.Volume(math.Pow(10, -2+3*r.Float64())), Days: 1 + r.IntN(4), Step: storage.Seconds(30 + 5000*r.Float64())}
	for i := range 1 + r.IntN(7) {
		t := storage.Trench{
			Name: string(rune('A' + i)), Length: unit.Length(1 + 30*r.Float64()), Width: unit.Length(0.3 + r.Float64()),
			Height: unit.Length(0.05 + 0.5*r.Float64()), Porosity: 0.05 + 0.95*r.Float64(),
			Bottom: r.IntN(3) > 0, Side: r.IntN(3) > 0, OutOfUse: r.IntN(6) == 0,
		}
		if r.IntN(5) > 0 {
			t.Rate = unit.Loading(math.Pow(10, -9+5*r.Float64()))
		}
		if r.IntN(2) == 0 {
			t.Start = t.Height * unit.Length(min(1, 1.2*r.Float64()))
		}
		run.Trenches = append(run.Trenches, t)
	}
	if r.IntN(2) == 0 {
		run.Hours = make([]float64, 24)
		for i := range run.Hours {
			run.Hours[i] = max(0, r.Float64()-0.4)
		}
		run.Hours[5] = 1
	}
	if r.IntN(2) == 0 {
		weights := make([]float64, len(run.Trenches))
		for i := range weights {
			weights[i] = r.Float64()
		}
		run.Divide = func(inflow unit.Flow, full []bool) []float64 { return byWeight(weights, inflow, full) }
	}
	return run
}

// byWeight divides as a box whose outlets stand unequal: the greater the inflow,
// the more equal.
func byWeight(weights []float64, inflow unit.Flow, full []bool) []float64 {
	out, sum := make([]float64, len(weights)), 0.0
	for i, w := range weights {
		if !full[i] {
			out[i] = max(0, w-0.3+1e4*float64(inflow))
			sum += out[i]
		}
	}
	for i := range out {
		if sum > 0 {
			out[i] /= sum
		}
	}
	return out
}

func TestFollowBalances(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		run := anyField(r)
		out, err := storage.Follow(run)
		if err != nil {
			t.Fatalf("%v: %+v", err, run)
		}
		closes(t, run, out)
	}
}

// The step says how often a level is kept and changes nothing else.
func TestFollowKnowsNoStep(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		run := anyField(r)
		run.Step = 60
		a := follow(t, run)
		run.Step = 3600
		b := follow(t, run)
		if a.Backed != b.Backed || a.BackAt != b.BackAt || a.Closure != b.Closure {
			t.Fatalf("backed %g and %g", a.Backed, b.Backed)
		}
		for i, c := range a.Courses {
			d := b.Courses[i]
			for k, l := range d.Level {
				if math.Abs(float64(l-c.Level[60*(k+1)-1])) > 1e-12 {
					t.Fatalf("level %g and %g", l, c.Level[60*(k+1)-1])
				}
			}
			c.Level, d.Level = nil, nil
			if c.Soaked != d.Soaked || c.FullFor != d.FullFor || c.Highest != d.Highest || c.HighestAt != d.HighestAt {
				t.Fatalf("%+v and %+v", c, d)
			}
		}
	}
}

func FuzzFollow(f *testing.F) {
	f.Add(20.0, 1.0, 0.3, 0.4, 1e-7, 0.0, 1.2, 60.0, 1, true, true, 0.5)
	f.Add(1e-3, 1e4, 1e-3, 1.0, 1.0, 1e-3, 1e6, 86400.0, 3, false, true, 1.0)
	f.Add(math.NaN(), math.Inf(1), 5e-324, -1.0, 1e300, 0.0, 5e-324, 0.0, -1, true, false, math.NaN())
	f.Fuzz(func(t *testing.T, length, width, height, porosity, rate, start, daily, step float64, days int, bottom, side bool, share float64) {
		a := storage.Trench{Name: "A", Length: unit.Length(length), Width: unit.Length(width), Height: unit.Length(height), Porosity: porosity,
			Rate: unit.Loading(rate), Start: unit.Length(start), Bottom: bottom, Side: side}
		run := storage.Run{Trenches: []storage.Trench{a, trench("B")}, Daily: unit.Volume(daily), Days: min(days, 5), Step: storage.Seconds(max(step, 100)),
			Divide: func(_ unit.Flow, full []bool) []float64 {
				switch {
				case full[0] && full[1]:
					return []float64{0, 0}
				case full[0]:
					return []float64{0, 1}
				case full[1]:
					return []float64{1, 0}
				}
				return []float64{share, 1 - share}
			}}
		out, err := storage.Follow(run)
		if err != nil {
			return
		}
		for i, c := range out.Courses {
			for _, v := range append([]unit.Length{unit.Length(c.Inflow), unit.Length(c.Soaked), unit.Length(c.End)}, c.Level...) {
				if !(v >= 0 && v < 1e12) {
					t.Fatalf("trench %d: %g", i, v)
				}
			}
		}
		all := math.Abs(float64(out.Inflow)) + float64(out.Courses[0].Start) + 1
		if math.Abs(float64(out.Closure)) > 1e-9*all {
			t.Fatalf("closure %g", out.Closure)
		}
	})
}

func BenchmarkFollowSix(b *testing.B) {
	run := storage.Run{Daily: 450 * unit.Gallon, Days: 2, Step: 60}
	for i := range 6 {
		run.Trenches = append(run.Trenches, storage.Trench{
			Name: string(rune('A' + i)), Length: 60 * unit.Foot, Width: 3 * unit.Foot, Height: unit.Foot, Porosity: 0.4,
			Bottom: true, Side: true, Rate: 0.3 * gpdft, Start: unit.Length(i) * unit.Inch,
		})
	}
	for b.Loop() {
		if _, err := storage.Follow(run); err != nil {
			b.Fatal(err)
		}
	}
}

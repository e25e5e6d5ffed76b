package adjust

import (
	"math"

	"undersod/core/least"
	"undersod/core/site"
	"undersod/core/unit"
)

// levelKey is one height that can be known: of what the rod stood on, at a
// point.
type levelKey struct {
	point site.Name
	on    site.RodOn
}

// differenceModel is unknown a minus unknown b.
type differenceModel struct{ a, b int }

func (m differenceModel) Predict(x []float64, t []least.Term) (float64, []least.Term) {
	return x[m.a] - x[m.b], append(t,
		least.Term{Index: m.a, Slope: 1}, least.Term{Index: m.b, Slope: -1})
}

// levels holds the adjusted heights and which of them can be compared.
type levels struct {
	index map[levelKey]int
	keys  []levelKey
	// group numbers the connected sets: only heights of one set can be compared.
	group    []int
	solution *least.Solution
}

// difference returns height of a minus height of b with its standard
// deviation, or false where no chain of rod readings joins them.
func (l *levels) difference(a, b levelKey) (rise, sd float64, ok bool) {
	i, oki := l.index[a]
	j, okj := l.index[b]
	if !oki || !okj || l.solution == nil || l.group[i] != l.group[j] {
		return 0, 0, false
	}
	v := l.solution.PredictedVariance([]least.Term{{Index: i, Slope: 1}, {Index: j, Slope: -1}})
	return l.solution.X[i] - l.solution.X[j], math.Sqrt(math.Max(v, 0)), true
}

// levelBuilder gathers rod readings and depths into one problem.
type levelBuilder struct {
	levels
	setups map[site.Name]int
	parent []int
	eqs    []least.Equation
}

func (b *levelBuilder) unknown() int {
	b.parent = append(b.parent, len(b.parent))
	return len(b.parent) - 1
}

func (b *levelBuilder) height(k levelKey) int {
	if i, ok := b.index[k]; ok {
		return i
	}
	i := b.unknown()
	b.index[k] = i
	for len(b.keys) <= i {
		b.keys = append(b.keys, levelKey{})
	}
	b.keys[i] = k
	return i
}

func (b *levelBuilder) setup(name site.Name) int {
	if i, ok := b.setups[name]; ok {
		return i
	}
	i := b.unknown()
	b.setups[name] = i
	return i
}

func (b *levelBuilder) find(i int) int {
	for b.parent[i] != i {
		b.parent[i] = b.parent[b.parent[i]]
		i = b.parent[i]
	}
	return i
}

func (b *levelBuilder) add(over, under int, read, sd float64) {
	b.eqs = append(b.eqs, least.Equation{Model: differenceModel{over, under}, Read: read, SD: sd})
	b.parent[b.find(over)] = b.find(under)
}

// adjustLevels adjusts rod readings and depths by themselves: heights do not
// depend on where the points lie.
func adjustLevels(readings []site.Reading, dev deviations) (*levels, error) {
	b := &levelBuilder{setups: map[site.Name]int{}}
	b.index = map[levelKey]int{}
	for _, r := range readings {
		if r.Common().SetAside != "" {
			continue
		}
		switch r := r.(type) {
		case site.Rod:
			sd := stated(r.SD, dev.of(r.Instrument, site.LevelRod).Fixed)
			if usableLength(float64(r.Read.Length)) && sd > 0 {
				b.add(b.setup(r.Setup), b.height(levelKey{r.Point, r.On}), float64(r.Read.Length), sd)
			}
		case site.Depth:
			sd := stated(r.SD, DepthDeviation)
			if usableLength(float64(r.Read.Length)) && sd > 0 {
				b.add(b.height(levelKey{r.Point, site.OnGround}),
					b.height(levelKey{r.Point, site.OnTop}), float64(r.Read.Length), sd)
			}
		}
	}
	return b.solve()
}

func (b *levelBuilder) solve() (*levels, error) {
	l := &b.levels
	n := len(b.parent)
	for len(l.keys) < n {
		l.keys = append(l.keys, levelKey{})
	}
	l.group = make([]int, n)
	if n == 0 {
		return l, nil
	}
	p := &least.Problem{Unknowns: n, Equations: b.eqs, Held: make([]bool, n)}
	seen := make([]bool, n)
	for i := range n {
		root := b.find(i)
		l.group[i] = root
		// The first height of each connected set is held at zero.
		if l.keys[i] != (levelKey{}) && !seen[root] {
			seen[root] = true
			p.Held[i] = true
		}
	}
	s, err := least.Solve(p, make([]float64, n), least.Settings{})
	if err != nil {
		return l, err
	}
	l.solution = s
	return l, nil
}

// report turns the adjusted heights into results, in the order first read.
func (l *levels) report() Levels {
	var out Levels
	if l.solution == nil {
		return out
	}
	out.Freedom, out.Statistic = l.solution.Freedom, l.solution.Statistic
	for i, k := range l.keys {
		if k == (levelKey{}) {
			continue
		}
		v, _ := l.solution.Cov(i, i)
		out.Heights = append(out.Heights, Height{
			Point: k.point, On: k.on,
			At: unit.Length(l.solution.X[i]), SD: unit.Length(math.Sqrt(math.Max(v, 0))),
		})
	}
	return out
}

// stated returns the stated standard deviation where there is one, in metres.
func stated(sd *unit.Length, otherwise unit.Length) float64 {
	if sd != nil {
		return float64(*sd)
	}
	return float64(otherwise)
}

// usableLength tells whether a number can be a length read with an instrument
// on one property, in metres.
func usableLength(v float64) bool {
	return !math.IsNaN(v) && v > 0 && v < 10000
}

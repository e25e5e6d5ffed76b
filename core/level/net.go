package level

import (
	"math"

	"undersod/core/least"
	"undersod/core/site"
	"undersod/core/unit"
)

// Deviation tells the standard deviation of a rod reading or a depth, in metres.
type Deviation func(site.Reading) unit.Length

// Net is the adjusted heights of one visit: those of everything the rod stood
// on and of the line of sight of each set-up. A nil Net is an empty one. It does
// not change and may be read by several goroutines.
type Net struct {
	nodes    []node
	index    map[node]int
	edges    []edge
	group    []int // of each node; only heights of one group can be compared
	problem  *least.Problem
	solution *least.Solution
	err      error
	critical float64 // limit of a standardized residual

	readings []Reading
	written  []unit.Written // of each of readings
	of       []int          // edge of each of readings, -1 for one not used
	doubts   []Doubt
	closures []Closure
}

type nodeKind uint8

const (
	atPoint nodeKind = iota // what the rod stood on at a point
	atSetup                 // the line of sight of a set-up
	ofBox                   // the level line in an opened box
	inBox                   // something measured down from it
)

// node is one height.
type node struct {
	kind nodeKind
	key  Key       // atPoint
	name site.Name // atSetup
	box  int       // ofBox and inBox: number of the box
	slot int       // inBox: what was measured
}

// edge is one measured height difference, in metres: over minus under.
type edge struct {
	over, under int
	read, sd    float64
	reading     int // of the net's readings, -1 for one of a box
}

// differenceModel is unknown a minus unknown b.
type differenceModel struct{ a, b int }

func (m differenceModel) Predict(x []float64, t []least.Term) (float64, []least.Term) {
	return x[m.a] - x[m.b], append(t,
		least.Term{Index: m.a, Slope: 1}, least.Term{Index: m.b, Slope: -1})
}

// Adjust adjusts rod readings and depths by themselves: heights do not depend
// on where the points lie. Height of the line of sight minus height of the point
// is the rod reading; ground minus top is the depth. Least squares with the
// weights 1/sd² (Ghilani and Wolf, Adjustment Computations, chapter 12, from
// memory). The first height of each connected group is held at zero. Other
// kinds of readings are passed over; those set aside or out of reason are listed
// and not used. It never fails: see Err.
func Adjust(readings []site.Reading, sd Deviation) *Net {
	n := &Net{index: map[node]int{}}
	for _, r := range readings {
		n.take(r, sd)
	}
	n.solve()
	n.judge()
	n.search()
	n.findClosures()
	return n
}

// take adds one reading.
func (n *Net) take(r site.Reading, deviation Deviation) {
	read, words, is := about(r)
	if !is {
		return
	}
	t := r.Common()
	sd := unit.Length(math.NaN())
	if deviation != nil {
		sd = deviation(r)
	}
	out := Reading{ID: t.ID, Words: words, Written: read.Text, Why: t.SetAside, SD: sd,
		Detectable: unit.Length(math.Inf(1)), Place: t.Place}
	if out.Why == "" {
		out.Why = Refused(r, sd)
	}
	at := -1
	if out.Why == "" {
		over, under := ends(r)
		at = n.add(over, under, read.Length, sd)
		n.edges[at].reading = len(n.readings)
	}
	n.readings, n.written, n.of = append(n.readings, out), append(n.written, read), append(n.of, at)
}

// about returns the length of a rod reading or a depth and the reading in
// words, and false for any other.
func about(r site.Reading) (read unit.Written, words string, is bool) {
	switch r := r.(type) {
	case site.Rod:
		return r.Read, "rod on the " + string(r.On) + " at " + string(r.Point) + " from " + string(r.Setup), true
	case site.Depth:
		return r.Read, "depth of " + string(r.Point), true
	}
	return read, "", false
}

// ends returns the two heights between which a rod reading or a depth lies.
func ends(r site.Reading) (over, under node) {
	switch r := r.(type) {
	case site.Rod:
		return node{kind: atSetup, name: r.Setup}, node{key: Key{r.Point, r.On}}
	case site.Depth:
		return node{key: Key{r.Point, site.OnGround}}, node{key: Key{r.Point, site.OnTop}}
	}
	return over, under
}

// farthest bounds what can be read on one property, in metres.
const farthest = 10000

// Refused tells in words why a rod reading or a depth with the standard
// deviation sd cannot be adjusted; empty where it can, and for readings of other
// kinds.
func Refused(r site.Reading, sd unit.Length) string {
	read, _, is := about(r)
	_, depth := r.(site.Depth)
	l := float64(read.Length)
	switch {
	case !is:
		return ""
	case depth && !(l >= 0 && l < farthest):
		return "a depth runs from zero to less than 10 km below the ground"
	case !depth && !(l > 0 && l < farthest):
		return "a rod reading is longer than nothing and shorter than 10 km"
	case !usableSD(sd):
		return "its standard deviation must be above zero"
	}
	return ""
}

func usableSD(sd unit.Length) bool { return sd > 1e-9 && sd < farthest }

// at returns the number of a node, a new one where it is not there yet.
func (n *Net) at(k node) int {
	if i, ok := n.index[k]; ok {
		return i
	}
	i := len(n.nodes)
	n.index[k], n.nodes = i, append(n.nodes, k)
	return i
}

// add adds one measured difference and returns its number.
func (n *Net) add(over, under node, read, sd unit.Length) int {
	n.edges = append(n.edges, edge{n.at(over), n.at(under), float64(read), float64(sd), -1})
	return len(n.edges) - 1
}

// solve finds the connected groups and adjusts them together.
func (n *Net) solve() {
	count := len(n.nodes)
	held := n.connect()
	if count == 0 {
		return
	}
	n.problem = &least.Problem{Unknowns: count, Held: held}
	for _, e := range n.edges {
		n.problem.Equations = append(n.problem.Equations,
			least.Equation{Model: differenceModel{e.over, e.under}, Read: e.read, SD: e.sd})
	}
	n.solution, n.err = least.Solve(n.problem, make([]float64, count), least.Settings{})
}

// connect numbers the connected groups in the order of their first height, and
// marks that first height of each as held.
func (n *Net) connect() (held []bool) {
	parent := make([]int, len(n.nodes))
	for i := range parent {
		parent[i] = i
	}
	find := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	for _, e := range n.edges {
		parent[find(e.over)] = find(e.under)
	}
	n.group, held = make([]int, len(n.nodes)), make([]bool, len(n.nodes))
	number := map[int]int{}
	for i, k := range n.nodes {
		if _, seen := number[find(i)]; !seen && (k.kind == atPoint || k.kind == inBox) {
			number[find(i)], held[i] = len(number), true
		}
	}
	for i := range n.nodes {
		n.group[i] = number[find(i)]
	}
	return held
}

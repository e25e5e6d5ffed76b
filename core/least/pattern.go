package least

import "sort"

// pattern is the symbolic side of the normal equations: the free unknowns, their
// elimination order, and where the entries of the factor L stand. Columns are
// numbered by elimination; below lists the rows under each diagonal.
type pattern struct {
	free  []int // unknown of each column
	col   []int // column of each unknown, -1 when held
	start []int // first entry of each column in rows; len = columns + 1
	rows  []int // row of each entry below the diagonal, ascending in a column
}

// newPattern orders the free unknowns by minimum degree on the graph of the
// equations (Rose, 1972; George and Liu, SIAM Review 31(1), 1989, from memory):
// the unknown with the fewest neighbours goes next, and its neighbours become
// neighbours of each other. Ties go to the lower index, so the order is fixed.
func newPattern(p *Problem, x []float64) *pattern {
	t := &pattern{col: make([]int, p.Unknowns)}
	for i := range t.col {
		t.col[i] = -1
	}
	graph := equationGraph(p, x)
	degrees := newDegrees(graph, p.Held)
	below := make([][]int, 0, p.Unknowns)
	for {
		v := degrees.next()
		if v < 0 {
			break
		}
		t.col[v] = len(t.free)
		t.free = append(t.free, v)
		near := graph[v]
		below = append(below, near)
		for _, u := range near {
			graph[u] = union(remove(graph[u], v), near, u)
			degrees.set(u, len(graph[u]))
		}
	}
	t.start = make([]int, len(t.free)+1)
	for c, list := range below {
		mapped := make([]int, len(list))
		for i, u := range list {
			mapped[i] = t.col[u]
		}
		sort.Ints(mapped)
		t.rows = append(t.rows, mapped...)
		t.start[c+1] = len(t.rows)
	}
	return t
}

// equationGraph lists, for each free unknown, the others it shares an equation
// with, ascending. Equations that are off count, so that they may be switched
// on.
func equationGraph(p *Problem, x []float64) [][]int {
	graph := make([][]int, p.Unknowns)
	var terms []Term
	var list []int
	for k := range p.Equations {
		_, terms = p.Equations[k].Model.Predict(x, terms[:0])
		list = list[:0]
		for _, t := range terms {
			if p.Held == nil || !p.Held[t.Index] {
				list = append(list, t.Index)
			}
		}
		for _, a := range list {
			for _, b := range list {
				if a != b {
					graph[a] = insert(graph[a], b)
				}
			}
		}
	}
	return graph
}

// insert adds v to a short ascending list unless it is there.
func insert(list []int, v int) []int {
	i := sort.SearchInts(list, v)
	if i < len(list) && list[i] == v {
		return list
	}
	list = append(list, 0)
	copy(list[i+1:], list[i:])
	list[i] = v
	return list
}

func remove(list []int, v int) []int {
	i := sort.SearchInts(list, v)
	if i < len(list) && list[i] == v {
		return append(list[:i], list[i+1:]...)
	}
	return list
}

// union merges two ascending lists, leaving out self.
func union(a, b []int, self int) []int {
	out := make([]int, 0, len(a)+len(b))
	i, j := 0, 0
	for i < len(a) || j < len(b) {
		var v int
		switch {
		case j == len(b) || (i < len(a) && a[i] < b[j]):
			v = a[i]
			i++
		case i == len(a) || b[j] < a[i]:
			v = b[j]
			j++
		default:
			v = a[i]
			i, j = i+1, j+1
		}
		if v != self {
			out = append(out, v)
		}
	}
	return out
}

// degrees hands out the unknown of least degree. Unknowns of one degree are kept
// in a list; stale entries are skipped when met.
type degrees struct {
	of     []int // current degree, -1 once handed out or held
	bucket [][]int
	low    int
}

func newDegrees(graph [][]int, held []bool) *degrees {
	d := &degrees{of: make([]int, len(graph)), bucket: make([][]int, len(graph)+1)}
	for i := len(graph) - 1; i >= 0; i-- { // lists are taken from their end
		d.of[i] = -1
		if held == nil || !held[i] {
			d.set(i, len(graph[i]))
		}
	}
	return d
}

func (d *degrees) set(i, degree int) {
	if d.of[i] == degree {
		return
	}
	d.of[i] = degree
	d.bucket[degree] = append(d.bucket[degree], i)
	if degree < d.low {
		d.low = degree
	}
}

func (d *degrees) next() int {
	for ; d.low < len(d.bucket); d.low++ {
		for n := len(d.bucket[d.low]); n > 0; n = len(d.bucket[d.low]) {
			i := d.bucket[d.low][n-1]
			d.bucket[d.low] = d.bucket[d.low][:n-1]
			if d.of[i] == d.low {
				d.of[i] = -1
				return i
			}
		}
	}
	return -1
}

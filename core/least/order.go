package least

import "slices"

// analysis is what can be said of the normal equations without their numbers:
// the elimination order and where the entries of the factor L stand. Columns are
// numbered by elimination.
type analysis struct {
	position []int32 // elimination number of each free column
	start    []int32 // first entry of each column in rows; one more than columns
	rows     []int32 // row of each entry below the diagonal, ascending in a column
	slot     []int32 // where each product of two terms of an equation goes
	first    []int32 // the equations' pattern that was analysed
	col      []int32
}

// analyse orders the free unknowns and lays out the factor.
func analyse(p *Problem, sol *Solution, r *rows) *analysis {
	n := len(sol.unknown)
	a := &analysis{position: make([]int32, n), start: make([]int32, n+1),
		first: slices.Clone(r.first), col: slices.Clone(r.col)}
	nodes := gather(p, sol, r)
	order, below := leastDegree(nodes.graph(r), nodes.sizes())
	at := int32(0)
	for _, v := range order {
		for _, c := range nodes.members[v] {
			a.position[c] = at
			at++
		}
	}
	for i, v := range order {
		a.lay(nodes.members, v, below[i])
	}
	a.place()
	return a
}

// lay sets down the columns of the members of one node: below each stand its
// later fellows and all members of the nodes that were near at its elimination.
func (a *analysis) lay(members [][]int32, v int32, near []int32) {
	own := members[v]
	for i, c := range own {
		begin := len(a.rows)
		for _, later := range own[i+1:] {
			a.rows = append(a.rows, a.position[later])
		}
		for _, u := range near {
			for _, m := range members[u] {
				a.rows = append(a.rows, a.position[m])
			}
		}
		slices.Sort(a.rows[begin:])
		a.start[a.position[c]+1] = int32(len(a.rows))
	}
}

// find returns where entry (row, col) stands, row below col, and -1 where the
// pattern has none.
func (a *analysis) find(row, col int32) int32 {
	list := a.rows[a.start[col]:a.start[col+1]]
	if i, ok := slices.BinarySearch(list, row); ok {
		return a.start[col] + int32(i)
	}
	return -1
}

// place fills slot: for the products of term i with terms 0 to i of each
// equation in turn, the entry below the diagonal, or ^column on the diagonal.
func (a *analysis) place() {
	for k := range len(a.first) - 1 {
		cols := a.col[a.first[k]:a.first[k+1]]
		for i, c := range cols {
			row := a.position[c]
			for _, b := range cols[:i] {
				lo, hi := row, a.position[b]
				a.slot = append(a.slot, a.find(max(lo, hi), min(lo, hi)))
			}
			a.slot = append(a.slot, ^row)
		}
	}
}

// nodes are the unknowns in groups that are eliminated together.
type nodes struct {
	of      []int32 // node of each free column
	members [][]int32
}

// gather groups the free columns as the problem says, and those that occur in
// the same equations.
func gather(p *Problem, sol *Solution, r *rows) *nodes {
	g := &nodes{of: make([]int32, len(sol.unknown))}
	for c := range g.of {
		g.of[c] = -1
	}
	for _, group := range p.Groups {
		node := int32(len(g.members))
		g.members = append(g.members, nil)
		for _, i := range group {
			if c := sol.place[i]; c >= 0 && g.of[c] < 0 {
				g.put(c, node)
			}
		}
		if len(g.members[node]) == 0 {
			g.members = g.members[:node]
		}
	}
	g.gatherAlike(r)
	return g
}

func (g *nodes) put(c, node int32) {
	g.of[c] = node
	g.members[node] = append(g.members[node], c)
}

// gatherAlike puts columns without a group together by the list of equations
// they occur in. A chance likeness of the keys costs time, not truth.
func (g *nodes) gatherAlike(r *rows) {
	type key struct{ mix, count uint64 }
	keys := make([]key, len(g.of))
	for k := range len(r.first) - 1 {
		for _, c := range r.col[r.first[k]:r.first[k+1]] {
			keys[c] = key{(keys[c].mix ^ uint64(k+1)) * 0x9e3779b97f4a7c15, keys[c].count + 1}
		}
	}
	seen := map[key]int32{}
	for c, k := range keys {
		if g.of[c] >= 0 {
			continue
		}
		node, ok := seen[k]
		if !ok || k.count == 0 {
			node = int32(len(g.members))
			g.members = append(g.members, nil)
			seen[k] = node
		}
		g.put(int32(c), node)
	}
}

func (g *nodes) sizes() []int32 {
	out := make([]int32, len(g.members))
	for i, m := range g.members {
		out[i] = int32(len(m))
	}
	return out
}

// graph lists for each node the others that it shares an equation with.
func (g *nodes) graph(r *rows) [][]int32 {
	out := make([][]int32, len(g.members))
	var list []int32
	for k := range len(r.first) - 1 {
		list = list[:0]
		for _, c := range r.col[r.first[k]:r.first[k+1]] {
			list = append(list, g.of[c])
		}
		slices.Sort(list)
		list = slices.Compact(list)
		for i, u := range list {
			out[u] = append(append(out[u], list[:i]...), list[i+1:]...)
		}
	}
	for i := range out {
		slices.Sort(out[i])
		out[i] = slices.Compact(out[i])
	}
	return out
}

// leastDegree eliminates the nodes of a graph, the one with the fewest unknowns
// around it first and of equals the one that got there last, and joins what was around it
// (minimum degree: Rose 1972; George and Liu 1989, "The evolution of the minimum
// degree ordering algorithm", SIAM Review 31(1); from memory). It returns the
// order and what was around each node when its turn came. It uses up the graph.
func leastDegree(graph [][]int32, size []int32) (order []int32, below [][]int32) {
	q := newQueue(graph, size)
	var scratch []int32
	for range graph {
		v := q.next()
		near := graph[v]
		order, below = append(order, v), append(below, near)
		for _, u := range near {
			scratch = union(scratch[:0], graph[u], near, u, v)
			graph[u] = append(graph[u][:0], scratch...)
			q.set(u, q.weigh(graph[u]))
		}
	}
	return order, below
}

// union appends what is in one of two ascending lists, without u and v.
func union(out, a, b []int32, u, v int32) []int32 {
	for len(a) > 0 || len(b) > 0 {
		var w int32
		switch {
		case len(b) == 0 || len(a) > 0 && a[0] < b[0]:
			w, a = a[0], a[1:]
		case len(a) == 0 || b[0] < a[0]:
			w, b = b[0], b[1:]
		default:
			w, a, b = a[0], a[1:], b[1:]
		}
		if w != u && w != v {
			out = append(out, w)
		}
	}
	return out
}

// queue hands out the node of least degree. Each degree has a stack of nodes;
// entries that a change of degree left behind are skipped when met.
type queue struct {
	size   []int32
	degree []int32
	done   []bool
	bucket [][]int32
	low    int32
}

func newQueue(graph [][]int32, size []int32) *queue {
	total := int32(0)
	for _, s := range size {
		total += s
	}
	q := &queue{size: size, degree: make([]int32, len(graph)), done: make([]bool, len(graph)),
		bucket: make([][]int32, total+1)}
	for i := len(graph) - 1; i >= 0; i-- { // a bucket is emptied from its end
		q.degree[i] = -1
		q.set(int32(i), q.weigh(graph[i]))
	}
	return q
}

func (q *queue) weigh(list []int32) int32 {
	sum := int32(0)
	for _, u := range list {
		sum += q.size[u]
	}
	return sum
}

func (q *queue) set(u, degree int32) {
	if q.degree[u] == degree {
		return
	}
	q.degree[u] = degree
	q.bucket[degree] = append(q.bucket[degree], u)
	q.low = min(q.low, degree)
}

func (q *queue) next() int32 {
	for {
		b := q.bucket[q.low]
		if len(b) == 0 {
			q.low++
			continue
		}
		u := b[len(b)-1]
		q.bucket[q.low] = b[:len(b)-1]
		if !q.done[u] && q.degree[u] == q.low {
			q.done[u] = true
			return u
		}
	}
}

// fits tells whether the analysis is that of the given linearization.
func (a *analysis) fits(sol *Solution, r *rows) bool {
	return a != nil && len(a.position) == len(sol.unknown) &&
		slices.Equal(a.first, r.first) && slices.Equal(a.col, r.col)
}

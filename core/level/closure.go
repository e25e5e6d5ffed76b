package level

import (
	"fmt"
	"math"

	"undersod/core/english"
	"undersod/core/site"
	"undersod/core/unit"
)

// maxClosures bounds how many loops are told.
const maxClosures = 200

// span is what all readings of one difference say together: their weighted
// mean and its variance, over minus under.
type span struct {
	over, under    int
	read, variance float64
	form           unit.Written // of the first of them
}

// loops finds independent loops: a spanning tree of all heights, and one loop
// for each span that is not in it.
type loops struct {
	spans  []span
	at     [][]int // spans at each node
	parent []int   // span toward the root, -1 at a root
	depth  []int
}

// findClosures fills in the loops that pass through two set-ups or more.
func (n *Net) findClosures() {
	l := n.spanning()
	tree := make([]bool, len(l.spans))
	for _, s := range l.parent {
		if s >= 0 {
			tree[s] = true
		}
	}
	for k := range l.spans {
		if tree[k] {
			continue
		}
		if c, ok := n.closure(l, k); ok {
			n.closures = append(n.closures, c)
		}
		if len(n.closures) == maxClosures {
			return
		}
	}
}

// spanning merges repeated readings and grows a tree, widest first so that the
// loops stay short.
func (n *Net) spanning() *loops {
	l := &loops{spans: n.merge(), at: make([][]int, len(n.nodes)),
		parent: make([]int, len(n.nodes)), depth: make([]int, len(n.nodes))}
	for k, s := range l.spans {
		l.at[s.over], l.at[s.under] = append(l.at[s.over], k), append(l.at[s.under], k)
	}
	seen := make([]bool, len(n.nodes))
	for root := range n.nodes {
		if seen[root] {
			continue
		}
		seen[root], l.parent[root] = true, -1
		for queue := []int{root}; len(queue) > 0; queue = queue[1:] {
			for _, k := range l.at[queue[0]] {
				to := l.spans[k].other(queue[0])
				if !seen[to] {
					seen[to], l.parent[to], l.depth[to] = true, k, l.depth[queue[0]]+1
					queue = append(queue, to)
				}
			}
		}
	}
	return l
}

func (s span) other(i int) int { return s.over + s.under - i }

// merge joins the readings of each difference.
func (n *Net) merge() []span {
	var out []span
	index := map[[2]int]int{}
	for i, k := range n.of {
		if k < 0 {
			continue
		}
		e := n.edges[k]
		at, seen := index[[2]int{e.over, e.under}]
		if !seen {
			index[[2]int{e.over, e.under}] = len(out)
			out = append(out, span{e.over, e.under, e.read, e.sd * e.sd, n.written[i]})
			continue
		}
		s := &out[at]
		v := 1 / (1/s.variance + 1/(e.sd*e.sd))
		s.read, s.variance = v*(s.read/s.variance+e.read/(e.sd*e.sd)), v
	}
	return out
}

// around returns the nodes of the loop that span k closes, from its over end
// along the tree to its under end.
func (l *loops) around(k int) []int {
	a, b := l.spans[k].over, l.spans[k].under
	up, down := []int{a}, []int{b}
	for a != b {
		if l.depth[a] >= l.depth[b] {
			a = l.spans[l.parent[a]].other(a)
			up = append(up, a)
		} else {
			b = l.spans[l.parent[b]].other(b)
			down = append(down, b)
		}
	}
	for i := len(down) - 2; i >= 0; i-- { // the last of down is that of up
		up = append(up, down[i])
	}
	return up
}

// closure walks the loop of span k; false where it passes through one set-up
// only.
func (n *Net) closure(l *loops, k int) (Closure, bool) {
	path := n.turned(l.around(k))
	var c Closure
	var sum, variance float64
	for i, from := range path {
		to := path[(i+1)%len(path)]
		s := l.spans[l.joining(from, to, k)]
		if s.over == to {
			sum += s.read
		} else {
			sum -= s.read
		}
		variance += s.variance
		n.pass(&c, from)
	}
	c.Misclosed = unit.Length(sum)
	c.Allowed = unit.Length(z95() * math.Sqrt(variance))
	c.Closes = c.Misclosed.Abs() <= c.Allowed
	c.Words = c.words(styleOf(l.spans[k].form))
	return c, len(c.Through) > 1
}

// pass notes one height of a loop. Between two set-ups lie one point, or its
// ground and its top.
func (n *Net) pass(c *Closure, at int) {
	switch k := n.nodes[at]; {
	case k.kind == atSetup:
		c.Through = append(c.Through, k.name)
	case len(c.By) < len(c.Through):
		c.By = append(c.By, k.key)
	}
}

// joining returns the span between two neighbours of the loop of span k.
func (l *loops) joining(a, b, k int) int {
	for _, s := range [2]int{l.parent[a], l.parent[b]} {
		if s >= 0 && l.spans[s].other(a) == b && (l.spans[s].over == a || l.spans[s].under == a) {
			return s
		}
	}
	return k
}

// turned makes a loop begin at its first set-up and go on toward the later read
// of its neighbours, the foresight, so that set-ups come in their order and the
// misclosure is that of the field notes: the sum of backsights less that of
// foresights.
func (n *Net) turned(path []int) []int {
	start := -1
	for i, at := range path {
		if n.nodes[at].kind == atSetup && (start < 0 || at < path[start]) {
			start = i
		}
	}
	if start < 0 {
		return path
	}
	size := len(path)
	step := 1
	if path[(start+size-1)%size] > path[(start+1)%size] {
		step = size - 1
	}
	out := make([]int, size)
	for i := range out {
		out[i] = path[(start+i*step)%size]
	}
	return out
}

func (c *Closure) words(style unit.Style) string {
	run := "The run " + english.And(some(plain(c.Through))) + " back to " + string(first(c.Through))
	if len(c.Through) == 2 { // others may join the same two
		run += " (by " + english.And(points(c.By)) + ")"
	}
	does, then := "misses by", " Read it again."
	if c.Closes {
		does, then = "closes within", ""
	} else if style.Format(c.Misclosed.Abs()) == style.Format(c.Allowed) {
		style = finer(style)
	}
	return fmt.Sprintf("%s %s %s; its readings allow %s.%s", run, does, style.Format(c.Misclosed.Abs()), style.Format(c.Allowed), then)
}

func points(keys []Key) []string {
	var out []string
	for _, k := range keys {
		out = append(out, string(k.Point))
	}
	return out
}

func first(names []site.Name) site.Name {
	if len(names) == 0 {
		return ""
	}
	return names[0]
}

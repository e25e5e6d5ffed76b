package fields

import (
	"strconv"
	"strings"

	"undersod/internal/archive"
	"undersod/internal/jobfile/tree"
)

// comparison gathers differences, of which it keeps the first ones.
type comparison struct {
	found []archive.Field
	most  int
	all   int
}

// add notes a difference; nil stands for nothing.
func (c *comparison) add(pointer string, before, after *value) {
	c.all++
	if len(c.found) >= c.most {
		return
	}
	f := archive.Field{Pointer: pointer}
	if before != nil {
		f.Before = render(before.Node)
	}
	if after != nil {
		f.After = render(after.Node)
	}
	c.found = append(c.found, f)
}

// values compares two values at one place.
func (c *comparison) values(pointer string, before, after *value) {
	switch {
	case before.sum == after.sum:
	case before.Form != after.Form || before.Form == tree.Scalar:
		c.add(pointer, before, after)
	case before.Form == tree.Dict:
		c.groups(pointer, before, after)
	default:
		c.lists(pointer, before.items, after.items)
	}
}

// escape writes a key as a part of a JSON pointer (RFC 6901 section 3).
var escape = strings.NewReplacer("~", "~0", "/", "~1")

// groups compares what stands under each key, in the order of the file after;
// keys that are gone follow.
func (c *comparison) groups(pointer string, before, after *value) {
	old := map[string]*value{}
	for i, key := range before.keys {
		old[key] = before.items[i]
	}
	for i, key := range after.keys {
		place := pointer + "/" + escape.Replace(key)
		if was := old[key]; was != nil {
			c.values(place, was, after.items[i])
			delete(old, key)
		} else {
			c.add(place, nil, after.items[i])
		}
	}
	for _, key := range before.keys {
		if was := old[key]; was != nil {
			c.add(pointer+"/"+escape.Replace(key), was, nil)
			delete(old, key)
		}
	}
}

// lists compares entry by entry: equal ones are matched in their order, what
// lies between two matches is compared pairwise, and the rest came or went.
func (c *comparison) lists(pointer string, before, after []*value) {
	i, j := 0, 0
	for _, m := range append(matches(before, after), [2]int{len(before), len(after)}) {
		for ; i < m[0] && j < m[1]; i, j = i+1, j+1 {
			c.values(pointer+"/"+strconv.Itoa(j), before[i], after[j])
		}
		for ; i < m[0]; i++ {
			c.add(pointer+"/"+strconv.Itoa(i), before[i], nil)
		}
		for ; j < m[1]; j++ {
			c.add(pointer+"/"+strconv.Itoa(j), nil, after[j])
		}
		i, j = m[0]+1, m[1]+1
	}
}

// mostSteps bounds the work of matching two lists; longer ones are matched at
// their two ends only.
const mostSteps = 1 << 21

// matches returns pairs of equal entries, rising in both lists, as many as can
// be.
func matches(before, after []*value) [][2]int {
	var out, tail [][2]int
	start, n, m := 0, len(before), len(after)
	for start < n && start < m && before[start].sum == after[start].sum {
		out = append(out, [2]int{start, start})
		start++
	}
	for n > start && m > start && before[n-1].sum == after[m-1].sum {
		n, m = n-1, m-1
		tail = append(tail, [2]int{n, m})
	}
	if (n-start)*(m-start) <= mostSteps {
		out = append(out, longest(before[start:n], after[start:m], start)...)
	}
	for i := len(tail) - 1; i >= 0; i-- {
		out = append(out, tail[i])
	}
	return out
}

// longest returns the longest common subsequence of two lists, its places
// counted from an offset. Of several, an entry that is gone is told before one
// that came.
func longest(before, after []*value, offset int) [][2]int {
	n, m := len(before), len(after)
	if n == 0 || m == 0 {
		return nil
	}
	length := make([]int32, (n+1)*(m+1))
	at := func(i, j int) *int32 { return &length[i*(m+1)+j] }
	for i := n - 1; i >= 0; i-- {
		for j := m - 1; j >= 0; j-- {
			if before[i].sum == after[j].sum {
				*at(i, j) = *at(i+1, j+1) + 1
			} else {
				*at(i, j) = max(*at(i+1, j), *at(i, j+1))
			}
		}
	}
	var out [][2]int
	for i, j := 0, 0; i < n && j < m; {
		switch {
		case before[i].sum == after[j].sum:
			out = append(out, [2]int{offset + i, offset + j})
			i, j = i+1, j+1
		case *at(i+1, j) >= *at(i, j+1):
			i++
		default:
			j++
		}
	}
	return out
}

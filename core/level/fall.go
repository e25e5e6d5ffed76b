package level

import (
	"fmt"
	"math"
	"slices"

	"undersod/core/site"
	"undersod/core/unit"
)

// invert is a place of a line's path where the height of its invert is known.
type invert struct {
	point site.Name
	place int // in the path
	node  int
	stray bool // by the rod at a box whose opening for the line is known as well
}

// Falls tells how each line runs between the points of its path where its
// invert is known: by the rod on the invert there, or as an opening of the box
// there that names the line. Lines flow from the start of their path to its end.
// Where the opening cannot be compared with another invert of the line, as with a
// level line in the box that nothing ties to the rods, the rod at the box serves.
// First come the stretches between neighbouring known inverts, then the whole
// where there are several; no stretch is told twice. The depth of a pipe's top below the ground says
// nothing of its invert, as the pipe's wall is not known, and is not used.
//
// run tells how long a line is between two points of its path, with the
// standard deviation; nil where no length is known. With the drop d over the run
// l the slope is d/l, and its variance (σd/l)² + (d σl/l²)².
func Falls(lines []site.Line, boxes []site.Box, net *Net, run func(line, from, to site.Name) (length, sd unit.Length, ok bool), say unit.Style) []Fall {
	o := open(net, boxes)
	var out []Fall
	for i := range lines {
		told := map[[2]int]bool{}
		add := func(from, to invert, whole bool) {
			if pair := [2]int{from.place, to.place}; !told[pair] {
				told[pair] = true
				f := o.fall(&lines[i], from, to, run, say)
				f.Whole = whole
				out = append(out, f)
			}
		}
		for _, list := range comparable(o.inverts(lines, i)) {
			for k := 1; k < len(list); k++ {
				add(list[k-1], list[k], len(list) == 2)
			}
			if len(list) > 2 {
				add(list[0], list[len(list)-1], true)
			}
		}
	}
	return out
}

// inverts lists the known inverts of a line by the groups whose heights can be
// compared, in the order of its path: at each place the opening, or the rod
// where the opening is of another group. Groups with openings come first.
func (o *opened) inverts(lines []site.Line, line int) [][]invert {
	l := &lines[line]
	var openings, rods []invert
	for k, p := range l.Path {
		byOpening, hasOpening := o.atBox(lines, l, k)
		if hasOpening {
			openings = append(openings, invert{point: p, place: k, node: byOpening})
		}
		if i, ok := o.find(node{key: Key{p, site.OnInvert}}); ok && !(hasOpening && o.group[i] == o.group[byOpening]) {
			rods = append(rods, invert{p, k, i, hasOpening})
		}
	}
	var out [][]invert
	index := map[int]int{}
	for _, v := range append(openings, rods...) {
		g := o.group[v.node]
		if _, seen := index[g]; !seen {
			index[g] = len(out)
			out = append(out, nil)
		}
		out[index[g]] = append(out[index[g]], v)
	}
	for _, list := range out {
		slices.SortFunc(list, func(a, b invert) int { return a.place - b.place })
	}
	return out
}

// atBox returns the opening by which a line leaves or enters the box at point k
// of its path.
func (o *opened) atBox(lines []site.Line, l *site.Line, k int) (int, bool) {
	for b := range o.boxes {
		box := &o.boxes[b]
		if box.Part != l.Path[k] {
			continue
		}
		leaves := k < len(l.Path)-1
		for s := range box.Outlets {
			if leaves && box.Outlets[s].Line == l.Name {
				return o.find(o.openingNode(b, s))
			}
		}
		if k > 0 && box.Inlet != nil && (box.Inlet.Line == l.Name || box.Inlet.Line == "" && onlyInto(lines, box.Part)) {
			return o.find(o.openingNode(b, slotInlet))
		}
	}
	return 0, false
}

// onlyInto tells whether just one line ends at a part.
func onlyInto(lines []site.Line, part site.Name) bool {
	count := 0
	for _, l := range lines {
		if n := len(l.Path); n > 1 && l.Path[n-1] == part {
			count++
		}
	}
	return count == 1
}

// comparable keeps the lists in which there is something to compare.
func comparable(lists [][]invert) [][]invert {
	return slices.DeleteFunc(lists, func(list []invert) bool { return len(list) < 2 })
}

func (o *opened) fall(l *site.Line, from, to invert, run func(line, from, to site.Name) (length, sd unit.Length, ok bool), say unit.Style) Fall {
	f := Fall{Line: l.Name, From: from.point, To: to.point}
	f.Drop, f.DropSD, _ = o.between(from.node, to.node)
	f.Way, f.Doubted = wayOf(f.Drop, f.DropSD), o.doubted(from.node)
	if run != nil {
		length, sd, ok := run(l.Name, from.point, to.point)
		f.measure(length, sd, ok)
	}
	f.Words = f.words(l.Kind, say)
	for _, v := range [...]invert{from, to} {
		if v.stray {
			f.Words += fmt.Sprintf("; by the rod at %s, as nothing ties its opening to the other end", v.point)
		}
	}
	if f.Doubted {
		f.Words += "; but a rod reading that it may rest on is in doubt"
	}
	return f
}

// measure fills in the slope over a run.
func (f *Fall) measure(length, sd unit.Length, ok bool) {
	if !ok || !(length > 0 && length < farthest) || !(sd >= 0 && sd < farthest) {
		return
	}
	f.RunKnown, f.Run = true, length
	f.Slope = float64(f.Drop / length)
	f.SlopeSD = math.Hypot(float64(f.DropSD/length), f.Slope*float64(sd/length))
}

// wayOf tells a drop from level with 95 %.
func wayOf(drop, sd unit.Length) Way {
	switch limit := unit.Length(z95()) * sd; {
	case drop > limit:
		return Falling
	case drop < -limit:
		return Backwards
	}
	return Level
}

// words tells how a pipe runs. Whether that is right is not said: drain lines
// are commonly laid level, and what a pipe needs the permit says.
func (f *Fall) words(kind site.LineKind, say unit.Style) string {
	amount := fine(say).Format(f.Drop.Abs())
	in, slope := "", " (its length on the plan is not known)"
	if f.RunKnown {
		in, slope = " in "+say.Format(f.Run), " ("+slopeWords(math.Abs(f.Slope), say)+")"
	}
	sure := ", " + within(say, f.DropSD)
	if f.RunKnown {
		sure += " and " + steepness(z95()*f.SlopeSD, say)
	}
	switch f.Way {
	case Falling:
		return "falls " + amount + in + slope + sure
	case Backwards:
		return backwards(kind) + " " + amount + in + slope + sure
	}
	return level(kind) + ": its ends differ by " + amount + in + sure
}

func backwards(kind site.LineKind) string {
	switch kind {
	case site.DrainLine:
		return "rises toward its end:"
	case site.PressurePipe:
		return "rises toward its end, as a pressure pipe may:"
	}
	return "runs backwards, so that water stands in it: up"
}

func level(kind site.LineKind) string {
	if kind == site.BuildingSewer || kind == site.EffluentPipe {
		return "not told from level, so no fall is shown"
	}
	return "level as far as the readings tell"
}

// slopeWords prints a slope as the trade says it: 0.15 in/ft, 1.2 %.
func slopeWords(slope float64, say unit.Style) string {
	return steepness(slope, say) + fmt.Sprintf(", %.1f %%", 100*slope)
}

func steepness(slope float64, say unit.Style) string {
	if metric(say) {
		return fmt.Sprintf("%.1f mm/m", 1000*slope)
	}
	if slope = 12 * slope; slope != 0 && slope < 0.005 {
		return fmt.Sprintf("%.3f in/ft", slope)
	}
	return fmt.Sprintf("%.2f in/ft", slope)
}

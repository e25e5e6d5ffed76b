package figure

import (
	"fmt"
	"math"

	"undersod/core/english"
	"undersod/core/sheet"
	"undersod/core/storage"
	"undersod/core/unit"
)

// Day draws how deep the water stands in each trench over the hours that were
// followed, with the height at which each is full, when a trench fills to it, and below it
// what comes from the house hour by hour. Trenches whose water stands alike are
// drawn once, under all their names.
func Day(run storage.Run, r storage.Result, say Say) sheet.Scene {
	d := newDay(run, r, say)
	title := "Water in the trenches over the day"
	if d.days > 1 {
		title = fmt.Sprintf("Water in the trenches over %d days", d.days)
	}
	d.head(title)
	if len(d.curves) == 0 {
		d.note("Nothing can be drawn: no trench was followed.")
		return d.scene(title)
	}
	d.flags()
	d.plot()
	d.inflow()
	d.hours()
	d.notes()
	return d.scene(title)
}

const (
	mostCurves = 12
	mostDays   = 60
	dayLeft    = 13 // mm for the numbers of the depths
	dayRight   = 38 // mm for the names of the curves
	plotHeight = 52
	barHeight  = 13
)

// curve is the water in one trench, or in several alike.
type curve struct {
	names  []string
	course *storage.Course
	at     []mm // heights on paper above the bottom, one per step that is drawn
	top    unit.Length
	style  int
}

// day is the figure as it is laid out.
type day struct {
	*pen
	run    storage.Run
	result storage.Result
	days   int
	curves []curve
	more   int
	every  int // steps from one drawn place of a curve to the next
	step   float64
	time   axis // of seconds
	depth  axis // of metres, counted upward from the bottom of the plot
	base   mm   // bottom of the plot
	most   unit.Length
}

func newDay(run storage.Run, r storage.Result, say Say) *day {
	d := &day{pen: newPen(say), run: run, result: r}
	d.step = float64(r.Step)
	if !(d.step > 0) || d.step > 1e6 {
		d.step = float64(run.Step)
	}
	if !(d.step > 0) || d.step > 1e6 {
		d.step = 60
	}
	steps := 0
	for i := range r.Courses {
		steps = max(steps, len(r.Courses[i].Level))
	}
	span := between(d.step*float64(steps), 0, mostDays*86400)
	d.days = max(int(math.Ceil(span/86400-1e-9)), 1)
	d.time = axis{0, float64(d.days) * 86400, edge + dayLeft, d.width - edge - dayRight}
	const places = 500 // finer than the pen
	d.every = max(steps/places, 1)
	d.scaleDepth()
	d.gather()
	return d
}

// tallest is a depth that no trench has.
const tallest = 5 * unit.Metre

func deep(l unit.Length) bool { return l > 0 && l < tallest }

// scaleDepth lets the plot hold the top of every trench and the highest water.
func (d *day) scaleDepth() {
	for _, t := range d.run.Trenches {
		if deep(t.Height) {
			d.most = max(d.most, t.Height)
		}
	}
	for i := range d.result.Courses {
		if h := d.result.Courses[i].Highest; deep(h) {
			d.most = max(d.most, h)
		}
	}
	if d.most == 0 {
		d.most = unit.Foot
	}
	d.depth = axis{0, 1.06 * float64(d.most), 0, plotHeight}
}

// gather makes the curves, one for trenches alike.
func (d *day) gather() {
	for i := range d.result.Courses {
		c := d.trace(&d.result.Courses[i], i)
		if len(c.at) == 0 {
			continue
		}
		if k := d.alike(c); k >= 0 {
			d.curves[k].names = append(d.curves[k].names, c.names...)
			continue
		}
		if len(d.curves) == mostCurves {
			d.more++
			continue
		}
		c.style = len(d.curves)
		d.curves = append(d.curves, c)
	}
}

// trace takes the deepest water of every drawn place.
func (d *day) trace(c *storage.Course, i int) curve {
	out := curve{course: c, names: []string{clean(c.Name)}}
	if i < len(d.run.Trenches) && deep(d.run.Trenches[i].Height) {
		out.top = d.run.Trenches[i].Height
	}
	for from := 0; from < len(c.Level); from += d.every {
		var h unit.Length
		for _, l := range c.Level[from:min(from+d.every, len(c.Level))] {
			if l > h {
				h = l
			}
		}
		out.at = append(out.at, d.depth.at(float64(h)))
	}
	return out
}

// alike returns the curve that another would cover, -1 for none.
func (d *day) alike(c curve) int {
	for k, o := range d.curves {
		same := len(o.at) == len(c.at) && o.top == c.top && o.course.Full == c.course.Full
		for i := 0; same && i < len(o.at); i++ {
			same = math.Abs(float64(o.at[i]-c.at[i])) < 0.15
		}
		if same {
			return k
		}
	}
	return -1
}

// seconds is the time of a drawn place of a curve.
func (d *day) seconds(i int) float64 { return float64(i*d.every+1) * d.step }

// flags tells above the plot when trenches fill and when water backs up.
func (d *day) flags() {
	var flags []flag
	add := func(at float64, words string, top unit.Length) {
		x := d.time.at(at)
		flags = append(flags, d.newFlag(x, mm(top), words+" "+d.say.clock(between(at, 0, mostDays*86400), d.days),
			script{size: label, weight: sheet.Bold, colour: ink}, min(60, d.width-edge-x-1)))
	}
	for _, c := range d.curves {
		if c.course.Full {
			add(float64(c.course.FullAt), short(c.names)+" full to the top"+d.when(), c.top)
		}
	}
	if d.result.Backed > 0 {
		add(float64(d.result.BackAt), "water backs up into the box from", 0)
	}
	reach := stack(flags)
	d.y += reach + 1
	d.base = d.y + plotHeight
	for i := range flags {
		f := &flags[i]
		if f.foot > 0 {
			f.foot = d.base - d.depth.at(float64(f.foot))
		} else {
			f.foot = d.base
		}
	}
	d.raise(flags, d.y-1)
}

// when joins words and a time: a day of several stands for itself.
func (d *day) when() string {
	if d.days > 1 {
		return ","
	}
	return " at"
}

// short names several trenches in few words.
func short(names []string) string {
	if len(names) > 3 {
		return fmt.Sprintf("%s and %d more", names[0], len(names)-1)
	}
	return english.And(names)
}

// notes tells what the figure rests on.
func (d *day) notes() {
	if d.result.Backed > 0 {
		d.paragraph("In all, "+d.say.Style.FormatVolume(d.result.Backed)+" found no room in the trenches.", script{size: label, weight: sheet.Bold, colour: ink})
	}
	if d.more > 0 {
		d.note("and " + english.Count(d.more, "more trench curve") + ", not drawn")
	}
	d.note("Depth of the water standing over the bottom of each trench. Broken level line: the trench is full.")
}

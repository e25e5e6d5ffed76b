package storage

import (
	"fmt"

	"undersod/core/unit"
)

// Follow follows the water through the trenches from midnight on. Within an
// hour the inflow is steady; while nothing fills to its top or falls dry every
// trench follows its closed solution, so that the result does not depend on the
// step, which only says how often the level is kept, and no level is ever
// negative.
//
// A trench soaks at its rate through every wetted face it has: the bottom, and
// the two long sides and two flat ends up to the water. A dry one passes to its
// bottom what comes. One that is ponded to its top takes what it soaks and no
// more; the rest goes to the others, as Divide tells for the rest with this one
// full, and is Backed where none takes it. Water that backed up is counted; it
// does not come again when there is room.
//
// Hours nil is DefaultHours. Divide is asked with full also true for trenches
// that are out of use, and never with an inflow of 0. Errors name the trench or
// the number that cannot be, say when more is asked than can be kept, and what
// a Divide does wrong.
func Follow(run Run) (Result, error) {
	if err := run.check(); err != nil {
		return Result{}, err
	}
	f := newFollower(&run)
	for hour := range run.Days * 24 {
		if err := f.hour(hour); err != nil {
			return Result{}, err
		}
	}
	return f.result(), nil
}

// follower is a run under way. Times are in seconds.
type follower struct {
	run     *Run
	hourly  []float64 // inflow of each hour of the day, per second
	basins  []basin
	full    []bool    // as told to Divide
	takes   []float64 // inflow of each trench, per second
	backing float64   // what backs up, per second
	courses []course
	now     float64
	kept    int // levels of each trench
	inflow  sum
	backed  sum
	out     Result
}

func newFollower(run *Run) *follower {
	n := len(run.Trenches)
	f := &follower{
		run: run, hourly: hourly(run), basins: make([]basin, n), full: make([]bool, n),
		takes: make([]float64, n), courses: make([]course, n),
	}
	f.out = Result{Step: run.Step, Steps: run.steps(), Courses: make([]Course, n)}
	for i, t := range run.Trenches {
		f.basins[i] = newBasin(t)
		f.out.Courses[i] = Course{
			Name: t.Name, Level: make([]unit.Length, 0, f.out.Steps), Highest: t.Start,
			Start: f.basins[i].holds(),
		}
		f.mark(i)
	}
	return f
}

// hourly returns the inflow of each hour of the day in cubic metres per second.
func hourly(run *Run) []float64 {
	hours := run.Hours
	if hours == nil {
		hours = DefaultHours()
	}
	total := 0.0
	for _, w := range hours {
		total += w
	}
	out := make([]float64, len(hours))
	for i, w := range hours {
		out[i] = float64(run.Daily) * (w / total) / hourSeconds
	}
	return out
}

// hour follows one hour in stretches, each to the next time at which a trench
// fills or falls dry. Trenches that do so without end, as under shares that
// jump to and fro, are refused.
func (f *follower) hour(hour int) error {
	inflow := f.hourly[hour%24]
	end := float64(hour+1) * hourSeconds
	for stretch := 0; f.now < end; stretch++ {
		if stretch > 100+20*len(f.basins) {
			return fmt.Errorf("in hour %d the trenches fill and fall dry without end; the shares of the box do not settle", hour+1)
		}
		if err := f.allot(inflow); err != nil {
			return err
		}
		f.stretch(inflow, end)
	}
	return nil
}

// stretch follows every trench until the first fills or falls dry, or to the
// end.
func (f *follower) stretch(inflow, end float64) {
	t, then := end-f.now, end
	for i := range f.basins {
		f.courses[i] = f.basins[i].under(f.takes[i])
		if e := f.basins[i].ends(f.courses[i]); e < t {
			t, then = e, min(f.now+e, end)
		}
	}
	f.keep(then)
	if f.backing > 0 {
		if f.backed.value() == 0 {
			f.out.BackAt = Seconds(f.now)
		}
		f.backed.add(f.backing * t)
	}
	f.inflow.add(inflow * t)
	for i := range f.basins {
		if f.courses[i].speed == 0 && f.basins[i].full() {
			f.out.Courses[i].FullFor += Seconds(t)
		}
		f.basins[i].follow(f.courses[i], t)
	}
	f.now = then
	for i := range f.basins {
		f.mark(i)
	}
}

// keep writes down the levels at the ends of the steps up to a time.
func (f *follower) keep(until float64) {
	last := float64(f.run.Days) * daySeconds
	for f.kept < f.out.Steps {
		at := min(float64(f.kept+1)*float64(f.run.Step), last)
		if at > until {
			return
		}
		for i := range f.basins {
			level := f.basins[i].bound(f.courses[i].at(at - f.now))
			f.out.Courses[i].Level = append(f.out.Courses[i].Level, unit.Length(level))
		}
		f.kept++
	}
}

// mark notes a level that is the highest so far or the top. A level only rises
// or only falls in a stretch, so its ends are enough.
func (f *follower) mark(i int) {
	c, b := &f.out.Courses[i], &f.basins[i]
	if unit.Length(b.level) > c.Highest {
		c.Highest, c.HighestAt = unit.Length(b.level), Seconds(f.now)
	}
	if b.full() && !c.Full {
		c.Full, c.FullAt = true, Seconds(f.now)
	}
}

// result closes the books.
func (f *follower) result() Result {
	r := f.out
	r.Inflow, r.Backed = unit.Volume(f.inflow.value()), unit.Volume(f.backed.value())
	var open sum
	open.add(f.inflow.value())
	open.add(-f.backed.value())
	for i := range f.basins {
		b, c := &f.basins[i], &r.Courses[i]
		c.Inflow, c.Soaked, c.End = unit.Volume(b.inflow.value()), unit.Volume(b.soaked.value()), b.holds()
		open.add(-float64(c.Soaked))
		open.add(float64(c.Start - c.End))
	}
	r.Closure = unit.Volume(open.value())
	return r
}

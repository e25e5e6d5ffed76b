package storage

import (
	"fmt"
	"math"
	"strconv"

	"undersod/core/unit"
)

// The range of what is followed. It holds every field by far and bounds the
// time and room that a run takes.
const (
	mostDays     = 366
	mostLevels   = 2_000_000 // steps times trenches
	mostTrenches = 1000
	mostDaily    = unit.Volume(1e6)
	longest      = 10_000 * unit.Metre
	highestRate  = unit.Loading(1) // of soaking, in metres per second: beyond any soil
	daySeconds   = 86400
	hourSeconds  = 3600
)

func naming(i int, t Trench) string {
	if t.Name == "" {
		return "trench " + strconv.Itoa(i+1)
	}
	return t.Name
}

// check tells the first thing that is wrong with the run.
func (r *Run) check() error {
	if len(r.Trenches) == 0 || len(r.Trenches) > mostTrenches {
		return fmt.Errorf("there are %d trenches to follow; give from 1 to %d", len(r.Trenches), mostTrenches)
	}
	for i, t := range r.Trenches {
		if err := t.check(naming(i, t)); err != nil {
			return err
		}
	}
	if !(r.Daily >= 0 && r.Daily <= mostDaily) {
		return fmt.Errorf("the daily flow is %s; it must be between 0 and 1,000,000 m³, such as 450 gal", unit.Style{}.FormatVolume(r.Daily))
	}
	if err := checkHours(r.Hours); err != nil {
		return err
	}
	return r.checkTime()
}

func (r *Run) checkTime() error {
	if r.Days < 1 || r.Days > mostDays {
		return fmt.Errorf("%d days are to be followed; give from 1 to %d", r.Days, mostDays)
	}
	if !(r.Step >= 1 && r.Step <= daySeconds) {
		return fmt.Errorf("the step is %g seconds; it must be between 1 second and a day, such as 60", float64(r.Step))
	}
	if n := r.steps() * len(r.Trenches); n > mostLevels {
		return fmt.Errorf("%d steps of %d trenches are %d levels to keep; at most %d are kept, so follow fewer days or take longer steps",
			r.steps(), len(r.Trenches), n, mostLevels)
	}
	return nil
}

// steps is how many steps the run has; the last one may be shorter.
func (r *Run) steps() int {
	return int(math.Ceil(float64(r.Days) * daySeconds / float64(r.Step)))
}

func checkHours(hours []float64) error {
	if hours == nil {
		return nil
	}
	if len(hours) != 24 {
		return fmt.Errorf("the day has %d hourly weights; give 24, from midnight on", len(hours))
	}
	total := 0.0
	for i, w := range hours {
		if !(w >= 0 && w <= 1e12) {
			return fmt.Errorf("the weight of the hour from %d:00 is %g; it must be 0 or more, such as 0.04", i, w)
		}
		total += w
	}
	if total < 1e-12 {
		return fmt.Errorf("the hourly weights add up to %g; at least one must be above zero", total)
	}
	return nil
}

// check tells what of the trench cannot be.
func (t Trench) check(who string) error {
	say := unit.Style{}.Format
	for _, size := range [...]struct {
		what, example string
		l             unit.Length
	}{
		{"length", `60'`, t.Length}, {"width", `3'`, t.Width}, {"height of its stone", `12"`, t.Height},
	} {
		if !(size.l >= unit.Millimetre && size.l <= longest) {
			return fmt.Errorf("%s: the %s is %s; it must be between 1 mm and 10 km, such as %s", who, size.what, say(size.l), size.example)
		}
	}
	if !(t.Porosity >= 0.001 && t.Porosity <= 1) {
		return fmt.Errorf("%s: the porosity of its stone is %g; it must be between 0.001 and 1, such as 0.4", who, t.Porosity)
	}
	if !(t.Rate >= 0 && t.Rate <= highestRate) {
		return fmt.Errorf("%s: its wetted soil takes %g gpd/sq ft; it must be a rate of 0 or more, such as 0.6", who, float64(t.Rate/unit.GallonPerDayPerSquareFoot))
	}
	if !(t.Start >= 0 && t.Start <= t.Height) {
		return fmt.Errorf("%s: the water stands %s at the beginning; it must be between 0 and the %s of its stone", who, say(t.Start), say(t.Height))
	}
	return nil
}

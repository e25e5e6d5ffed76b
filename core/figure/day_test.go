package figure_test

import (
	"fmt"
	"math"
	"testing"

	"undersod/core/figure"
	"undersod/core/storage"
	"undersod/core/unit"
)

// morning is an invented day: most water at breakfast and in the evening.
var morning = []float64{1, 0, 0, 0, 0, 2, 8, 10, 8, 5, 4, 3, 4, 3, 2, 2, 3, 5, 8, 9, 7, 5, 3, 2}

// ponding is a field whose trenches rise and fall by their own measure.
func ponding(days int, rises ...float64) (storage.Run, storage.Result) {
	run := storage.Run{Daily: 450 * unit.Gallon, Hours: morning, Days: days, Step: 300}
	r := storage.Result{Step: 300, Steps: days * 288}
	for i, rise := range rises {
		name := fmt.Sprintf("Line %d", i+1)
		top := unit.Foot
		run.Trenches = append(run.Trenches, storage.Trench{Name: name, Height: top})
		c := storage.Course{Name: name}
		for s := range r.Steps {
			hour := float64(s) / 12
			h := unit.Length(rise*(0.4+0.04*hour)*(1-math.Cos(2*math.Pi*(hour-3)/24))) * unit.Inch
			if h >= top {
				if !c.Full {
					c.Full, c.FullAt = true, storage.Seconds(300*(s+1))
				}
				h = top
			}
			if h > c.Highest {
				c.Highest, c.HighestAt = h, storage.Seconds(300*(s+1))
			}
			c.Level = append(c.Level, h)
		}
		r.Courses = append(r.Courses, c)
	}
	return run, r
}

func TestDays(t *testing.T) {
	run, r := ponding(1, 3, 8, 4.2)
	r.Backed, r.BackAt = 12*unit.Gallon, 72000
	check(t, "day", figure.Day(run, r, feetAndInches(180)))
	run, r = ponding(1, 3, 8, 3, 4.2)
	check(t, "day-narrow", figure.Day(run, r, feetAndInches(90)))
	run, r = ponding(3, 1, 1.2, 1.4, 1.6, 1.8, 2, 2.2, 2.4, 2.6, 2.8, 3, 3.2)
	check(t, "day-twelve", figure.Day(run, r, inMetres(180)))
	run, r = ponding(14, 0.5, 0.7)
	run.Hours = nil
	check(t, "day-fortnight", figure.Day(run, r, feetAndInches(180)))
	check(t, "day-nothing", figure.Day(storage.Run{}, storage.Result{}, feetAndInches(180)))
}

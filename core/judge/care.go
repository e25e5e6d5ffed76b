package judge

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"undersod/core/calendar"
	"undersod/core/english"
	"undersod/core/site"
)

// care says when the tank wants pumping and when to look again, from the care
// so far.
func (w *work) care() {
	today, err := calendar.Parse(w.job.Visit.Date)
	if err != nil || !today.Whole() {
		w.miss("Dates of what is due: the day of the visit is not known; enter visit: date.")
		return
	}
	w.pumping(today)
	for _, i := range w.pack.Looks {
		if i.Months <= 0 || !w.has(i.What) {
			continue
		}
		w.out.Reminders = append(w.out.Reminders, Reminder{
			Key: "look-" + slug(i.What), On: today.AddMonths(i.Months), Words: english.Capital(i.What),
			Why: fmt.Sprintf("Every %s (%s).", months(i.Months), i.Source.Words()),
		})
	}
}

// has tells whether the site has what an interval speaks of; one that names no
// part concerns everybody.
func (w *work) has(what string) bool {
	what = strings.ToLower(what)
	for _, k := range []struct {
		word  string
		kinds []site.PartKind
	}{
		{"pump tank", []site.PartKind{site.PumpTank}}, {"tank", []site.PartKind{site.SepticTank, site.PumpTank}},
		{"box", []site.PartKind{site.DistributionBox, site.DropBox}},
	} {
		if strings.Contains(what, k.word) {
			return slices.ContainsFunc(w.job.Site.Parts, func(p site.Part) bool { return slices.Contains(k.kinds, p.Kind) })
		}
	}
	if strings.Contains(what, "filter") {
		return slices.ContainsFunc(w.job.Site.Parts, func(p site.Part) bool {
			return strings.Contains(strings.ToLower(p.Detail+" "+string(p.Name)), "filter")
		})
	}
	return true
}

// pumpNow is the action of a tank that is overdue; it has a reminder of its own.
const pumpNow = "Have the tank pumped."

// measureTank is the action where nobody knows when it was pumped.
const measureTank = "Have the sludge in the tank measured, or have it pumped."

// pumping reckons the next pumping from the last one, or from the visit where
// none is known.
func (w *work) pumping(today calendar.Date) {
	p := w.out.Capacity.Pumping
	if !p.Known {
		return
	}
	last, known := w.lastPumped()
	span := int(math.Floor(p.Years*12 + 1e-9)) // whole months stay whole
	if !known {
		w.miss("When the tank was last pumped is not known; enter it under care.")
		w.do(Soon, measureTank, "Nobody knows when it was last pumped. "+byRule(p.Words, p.Source))
		w.out.Reminders = append(w.out.Reminders, Reminder{Key: "pump-tank", On: today.AddMonths(soonMonths), Words: strings.TrimSuffix(measureTank, "."), Why: byRule(p.Words, p.Source)})
		return
	}
	due := last.AddMonths(span)
	why := fmt.Sprintf("Last pumped %s. %s", last, byRule(p.Words, p.Source))
	if due.Before(today) {
		w.do(Soon, pumpNow, fmt.Sprintf("It was due %s. %s", due, why))
		due = today.AddMonths(soonMonths)
	}
	if !due.Whole() {
		due.Day = 1
	}
	w.out.Reminders = append(w.out.Reminders, Reminder{Key: "pump-tank", On: due, Words: "Have the tank pumped", Why: why})
}

// lastPumped is the latest care entry that speaks of pumping.
func (w *work) lastPumped() (calendar.Date, bool) {
	var last calendar.Date
	for _, c := range w.job.Site.Care {
		d, err := calendar.Parse(c.Date)
		if err == nil && emptied(c.What) && (last.IsZero() || last.Before(d)) {
			last = d
		}
	}
	return last, !last.IsZero()
}

// emptied tells whether words of care speak of pumping a tank out, not of a
// pump that was mended.
func emptied(what string) bool {
	what = strings.ToLower(what)
	for _, words := range []string{"pumped", "pumping", "pump-out", "pump out", "pumpout"} {
		if strings.Contains(what, words) {
			return true
		}
	}
	return false
}

func months(n int) string {
	if n%12 == 0 {
		return english.Count(n/12, "year")
	}
	return english.Count(n, "month")
}

// slug makes a key of words.
func slug(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return '-'
	}, strings.ToLower(s))
}

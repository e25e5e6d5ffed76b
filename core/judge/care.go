package judge

import (
	"fmt"
	"math"
	"strings"

	"undersod/core/calendar"
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
		if i.Months <= 0 {
			continue
		}
		w.out.Reminders = append(w.out.Reminders, Reminder{
			Key: "look-" + slug(i.What), On: today.AddMonths(i.Months), Words: capital(i.What),
			Why: fmt.Sprintf("Every %s (%s).", months(i.Months), sourceWords(i.Source)),
		})
	}
}

// pumping reckons the next pumping from the last one, or from the visit where
// none is known.
func (w *work) pumping(today calendar.Date) {
	p := w.out.Capacity.Pumping
	if !p.Known {
		return
	}
	last, known := w.lastPumped()
	span := int(math.Floor(p.Years * 12))
	if !known {
		w.miss("When the tank was last pumped is not known; enter it under care.")
		return
	}
	due := last.AddMonths(span)
	if !due.Whole() {
		due.Day = 1
	}
	r := Reminder{Key: "pump-tank", On: due, Words: "Have the tank pumped",
		Why: fmt.Sprintf("Last pumped %s; %s", last, p.Words)}
	if due.Before(today) {
		w.out.Actions = append(w.out.Actions, Action{Urgency: Soon, What: "Have the tank pumped.",
			Why: fmt.Sprintf("It was due %s: last pumped %s. %s", due, last, p.Words), By: today.AddMonths(soonMonths)})
		r.On = today.AddMonths(soonMonths)
	}
	w.out.Reminders = append(w.out.Reminders, r)
}

// lastPumped is the latest care entry that speaks of pumping.
func (w *work) lastPumped() (calendar.Date, bool) {
	var last calendar.Date
	for _, c := range w.job.Site.Care {
		d, err := calendar.Parse(c.Date)
		if err == nil && strings.Contains(strings.ToLower(c.What), "pump") && (last.IsZero() || last.Before(d)) {
			last = d
		}
	}
	return last, !last.IsZero()
}

func months(n int) string {
	if n%12 == 0 {
		return counted(n/12, "year")
	}
	return counted(n, "month")
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

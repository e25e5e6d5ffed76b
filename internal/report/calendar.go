package report

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"

	ics "github.com/arran4/golang-ical"

	"undersod/core/calendar"
	"undersod/core/judge"
)

// Calendar writes the reminders of the judgement as an iCalendar file (RFC
// 5545, 2009): one event of a whole day each, with an alarm the week before.
// The identity of an event follows from the site and the reminder's key, so
// that a later visit's file moves the events of an earlier one instead of
// doubling them. A date of which only the month or year is known stands on its
// first day.
//
// It fails where there is no reminder, and where the visit has no date: the
// file's own time stamp is that date, never a clock's.
func Calendar(in Input) ([]byte, error) {
	if in.Judgement == nil || len(in.Judgement.Reminders) == 0 {
		return nil, errors.New("there is no date to remember: nothing was judged that comes back, as pumping the tank; a calendar file without an event is not written")
	}
	written := ""
	if in.Job != nil {
		written = in.Job.Visit.Date
	}
	stamp, err := calendar.Parse(written)
	if err != nil {
		return nil, fmt.Errorf("the date of the visit is needed for a calendar file: %w", err)
	}
	c := ics.NewCalendarFor("undersod")
	c.SetProductId("-//undersod//reminders//EN")
	c.SetCalscale("GREGORIAN")
	used := map[string]int{}
	for _, m := range in.Judgement.Reminders {
		if m.On.IsZero() {
			continue
		}
		addEvent(c, in, m, stamp, used)
	}
	if len(c.Events()) == 0 {
		return nil, errors.New("no reminder has a date, so a calendar file would hold no event")
	}
	var b bytes.Buffer
	// RFC 5545, 3.1: lines end in CRLF and are folded at 75 octets.
	if err := c.SerializeTo(&b, ics.WithNewLineWindows, ics.WithLineLength(75)); err != nil {
		return nil, fmt.Errorf("the calendar cannot be written: %w", err)
	}
	return b.Bytes(), nil
}

// addEvent adds one reminder.
func addEvent(c *ics.Calendar, in Input, m judge.Reminder, stamp calendar.Date, used map[string]int) {
	id := identity(in, m.Key)
	if used[id]++; used[id] > 1 {
		id = identity(in, fmt.Sprintf("%s %d", m.Key, used[id]))
	}
	e := c.AddEvent(id)
	e.SetProperty(ics.ComponentPropertyDtstamp, basic(stamp)+"T000000Z")
	e.SetProperty(ics.ComponentPropertyDtStart, basic(m.On), ics.WithValue("DATE"))
	e.SetProperty(ics.ComponentPropertyDtEnd, basic(dayAfter(m.On)), ics.WithValue("DATE"))
	site := tidy(in.Job.Site.Name)
	title := strings.TrimSuffix(sentence(m.Words), ".")
	if site != "" {
		title += ": " + site
	}
	e.SetSummary(title)
	if why := sentence(m.Why); why != "" {
		e.SetDescription(why)
	}
	if a := tidy(in.Job.Site.Address); a != "" {
		e.SetLocation(a)
	}
	e.SetTimeTransparency(ics.TransparencyTransparent) // a reminder does not make the day busy
	alarm := e.AddAlarm()
	alarm.SetAction(ics.ActionDisplay)
	alarm.SetTrigger("-P7D")
	alarm.SetDescription(title)
}

// identity is stable for a site and a key, and tells neither.
func identity(in Input, key string) string {
	s := &in.Job.Site
	sum := sha256.Sum256([]byte(s.Name + "\x00" + s.Address + "\x00" + s.Parcel + "\x00" + key))
	return hex.EncodeToString(sum[:16]) + "@undersod.invalid"
}

// basic prints a date as RFC 5545 wants it, a month or a year as its first day.
func basic(d calendar.Date) string {
	return fmt.Sprintf("%04d%02d%02d", d.Year, max(d.Month, 1), max(d.Day, 1))
}

// dayAfter is the end of an event of the whole day, which does not belong to
// it.
func dayAfter(d calendar.Date) calendar.Date {
	d.Month, d.Day = max(d.Month, 1), max(d.Day, 1)
	next := d
	next.Day++
	if _, err := calendar.Parse(next.String()); err == nil {
		return next
	}
	next = calendar.Date{Year: d.Year, Month: d.Month, Day: 1}
	return next.AddMonths(1)
}

// Package calendar is dates without a clock: what a job file writes, counted
// forward by months and years.
package calendar

import (
	"fmt"
	"strconv"
	"strings"
)

// Date is a day of the Gregorian calendar. A year alone has Month and Day 0.
type Date struct{ Year, Month, Day int }

// Parse reads an ISO 8601 calendar date, 2026-05-14, a month, 2026-05, or a
// year, 1996. The error says what was expected.
func Parse(text string) (Date, error) {
	wrong := fmt.Errorf("%q is no date; expected a day as 2026-05-14, a month as 2026-05, or a year as 1996", text)
	parts := strings.Split(strings.TrimSpace(text), "-")
	if len(parts) > 3 || len(parts[0]) != 4 {
		return Date{}, wrong
	}
	var n [3]int
	for i, p := range parts {
		v, err := strconv.Atoi(p)
		if err != nil || i > 0 && len(p) != 2 || strings.ContainsAny(p, "+-") {
			return Date{}, wrong
		}
		n[i] = v
	}
	d := Date{n[0], n[1], n[2]}
	if d.Year < 1 || len(parts) > 1 && (d.Month < 1 || d.Month > 12) || len(parts) > 2 && (d.Day < 1 || d.Day > daysIn(d.Year, d.Month)) {
		return Date{}, wrong
	}
	return d, nil
}

// IsZero tells a date that was never set.
func (d Date) IsZero() bool { return d == Date{} }

// Whole tells whether the day is known.
func (d Date) Whole() bool { return d.Day > 0 }

// String prints the date as far as it is known, as ISO 8601.
func (d Date) String() string {
	switch {
	case d.IsZero():
		return ""
	case d.Month == 0:
		return fmt.Sprintf("%04d", d.Year)
	case d.Day == 0:
		return fmt.Sprintf("%04d-%02d", d.Year, d.Month)
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
}

// AddMonths returns the date so many months later, on the last day of the month
// where the day does not exist there. A year alone counts from January, and its
// answer is a month.
func (d Date) AddMonths(months int) Date {
	m := d.Year*12 + max(d.Month, 1) - 1 + months
	out := Date{Year: m / 12, Month: m%12 + 1, Day: d.Day}
	if out.Day > 0 {
		out.Day = min(out.Day, daysIn(out.Year, out.Month))
	}
	return out
}

// YearsTo returns how many years lie between d and e, counting what is not
// known as the middle of the year or month.
func (d Date) YearsTo(e Date) float64 { return e.years() - d.years() }

func (d Date) years() float64 {
	switch {
	case d.Month == 0:
		return float64(d.Year) + 0.5
	case d.Day == 0:
		return float64(d.Year) + (float64(d.Month)-0.5)/12
	}
	return float64(d.Year) + (float64(d.Month)-1+(float64(d.Day)-1)/float64(daysIn(d.Year, d.Month)))/12
}

// Before tells whether d is earlier than e, as far as both are known.
func (d Date) Before(e Date) bool {
	if d.Year != e.Year {
		return d.Year < e.Year
	}
	if d.Month != e.Month {
		return d.Month < e.Month
	}
	return d.Day < e.Day
}

func daysIn(year, month int) int {
	switch month {
	case 4, 6, 9, 11:
		return 30
	case 2:
		if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
			return 29
		}
		return 28
	}
	return 31
}

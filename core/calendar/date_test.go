package calendar_test

import (
	"math"
	"testing"
	"time"

	"undersod/core/calendar"
)

func TestParse(t *testing.T) {
	for text, want := range map[string]calendar.Date{
		"2026-05-14": {2026, 5, 14}, "2026-05": {2026, 5, 0}, "1996": {1996, 0, 0},
		" 2024-02-29 ": {2024, 2, 29}, "2000-02-29": {2000, 2, 29},
	} {
		got, err := calendar.Parse(text)
		if err != nil || got != want {
			t.Errorf("%q: %v, %v; expected %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "96", "2026-13", "2026-00-10", "2026-02-29", "1900-02-29", "2026-5-1", "14.05.2026",
		"2026-05-14-1", "2026-05-+4", "+026", "0000", "yesterday"} {
		if got, err := calendar.Parse(text); err == nil {
			t.Errorf("%q was read as %v", text, got)
		}
	}
}

// TestAgainstTheStandardLibrary counts on with Go's own calendar: the day
// stays where the month has it, and is the month's last otherwise.
func TestAgainstTheStandardLibrary(t *testing.T) {
	start := time.Date(1999, 12, 1, 0, 0, 0, 0, time.UTC)
	for d := range 1600 {
		day := start.AddDate(0, 0, d)
		from := calendar.Date{Year: day.Year(), Month: int(day.Month()), Day: day.Day()}
		if again, err := calendar.Parse(from.String()); err != nil || again != from {
			t.Fatalf("%v reads back as %v, %v", from, again, err)
		}
		for _, months := range []int{-13, -1, 0, 1, 2, 12, 36, 61} {
			got := from.AddMonths(months)
			first := time.Date(from.Year, time.Month(from.Month+months), 1, 0, 0, 0, 0, time.UTC)
			last := first.AddDate(0, 1, -1).Day()
			want := calendar.Date{Year: first.Year(), Month: int(first.Month()), Day: min(from.Day, last)}
			if got != want {
				t.Fatalf("%v and %d months: %v, expected %v", from, months, got, want)
			}
			if months > 0 && !from.Before(got) || months < 0 && !got.Before(from) {
				t.Fatalf("%v and %v are in the wrong order", from, got)
			}
			years := from.YearsTo(got)
			days := first.AddDate(0, 0, want.Day-1).Sub(day).Hours() / 24
			if math.Abs(years-days/365.2425) > 0.01 {
				t.Fatalf("from %v to %v: %.4f years, %.4f by the days", from, got, years, days/365.2425)
			}
		}
	}
}

func TestPartlyKnown(t *testing.T) {
	year, month := calendar.Date{Year: 1996}, calendar.Date{Year: 1996, Month: 11}
	if got := year.AddMonths(18).String(); got != "1997-07" {
		t.Errorf("1996 and 18 months: %s", got)
	}
	if got := month.AddMonths(3).String(); got != "1997-02" {
		t.Errorf("1996-11 and 3 months: %s", got)
	}
	if year.Whole() || month.Whole() || !(calendar.Date{}).IsZero() || (calendar.Date{}).String() != "" {
		t.Error("what is partly known is told as known")
	}
	if y := year.YearsTo(calendar.Date{Year: 2026, Month: 5, Day: 14}); math.Abs(y-29.87) > 0.01 {
		t.Errorf("from the middle of 1996 to May 2026: %.3f years", y)
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"2026-05-14", "1996", "2026-02", "x", "2026-99-99", "-001"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, err := calendar.Parse(text)
		if err != nil {
			return
		}
		if again, err := calendar.Parse(d.String()); err != nil || again != d {
			t.Errorf("%q: %v reads back as %v, %v", text, d, again, err)
		}
	})
}

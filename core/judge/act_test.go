package judge_test

import (
	"strings"
	"testing"

	"undersod/core/calendar"
	"undersod/core/judge"
	"undersod/examples"
)

// TestPumping: 1,000 gal and 4 persons want pumping every 2.6 years
// ("Estimating septic tank pumping frequency", Journal of Environmental
// Engineering 110(1), 1984, table; read in copies), which is 31 whole months.
func TestPumping(t *testing.T) {
	for _, c := range []struct{ care, household, due, overdue string }{
		{"date: 2024-01-10, what: pumped", "persons: 4", "2026-08-10", ""},
		{"date: 2024-01-10, what: Tank pumped out", "persons: 4", "2026-08-10", ""},
		{"date: 2023-12-31, what: pumped", "persons: 4", "2026-07-31", ""},
		{"date: 2024-07-31, what: pumped", "persons: 4", "2027-02-28", ""},
		{"date: 2024-01-10, what: pumped}, {date: 2025-03-02, what: pump replaced", "persons: 4", "2026-08-10", ""},
		{"date: 2024-01-10, what: pumped}, {date: 2025-03-02, what: pumping of the tank", "persons: 4", "2027-10-02", ""},
		{"date: 2024-06, what: pumped", "persons: 4", "2027-01-01", ""},
		{"date: 2021-06, what: pumped", "persons: 4", "2026-07-14", "It was due 2024-01."},
		{"date: 2020-02-01, what: pumped", "persons: 2", "2026-07-14", "It was due 2025-12-01."}, // 5.9 years are 70 whole months
		{"date: 2024-06-01, what: pumped", "persons: 4, grinder: yes", "2026-06-01", ""},         // 2.6 / 1.3 = 2 years
		{"date: 2020-06-14, what: pumped", "persons: 2, grinder: yes", "2026-07-14", "It was due 2024-12-14."},
	} {
		j := judged(t, with(t, "date: 2024-01-10, what: pumped", c.care, "persons: 4", c.household))
		r, a := reminder(j, "pump-tank"), action(j, "Have the tank pumped")
		if r == nil || r.On.String() != c.due || !strings.Contains(r.Why, "Last pumped") {
			t.Errorf("%s, %s: %+v, want it due %s", c.care, c.household, r, c.due)
		}
		if (a != nil) != (c.overdue != "") || a != nil && (a.Urgency != judge.Soon || !strings.Contains(a.Why, c.overdue)) {
			t.Errorf("%s, %s: %+v, want %q", c.care, c.household, a, c.overdue)
		}
	}
}

func TestPumpingThatCannotBeTold(t *testing.T) {
	for name, c := range map[string]struct {
		text, words string
	}{
		"never":      {with(t, "care: [{date: 2024-01-10, what: pumped}]\n", ""), "last pumped is not known; enter it under care"},
		"pump alone": {with(t, "what: pumped", "what: pump replaced"), "last pumped is not known"},
		"no day":     {with(t, "visit: {date: 2026-05-14}\n", ""), "enter visit: date"},
	} {
		j := judged(t, c.text)
		r := reminder(j, "pump-tank") // where nobody knows when, measuring first is asked for
		if r != nil && (name == "no day" || !strings.Contains(r.Words, "measured")) || !hears(j.Missing, c.words) {
			t.Errorf("%s: %+v, %q", name, j.Reminders, j.Missing)
		}
	}
}

func TestLives(t *testing.T) {
	j := judged(t, with(t, "D-box: {kind: distribution box, material: concrete, installed: 1996-08}",
		"D-box: {kind: distribution box, material: concrete, installed: 1950}"))
	want := map[string]float64{"Tank": 29.75, "D-box": 75.87, "Field": 29.75} // from the middle of August 1996 or of 1950 to 14 May 2026
	if len(j.Lives) != 3 {
		t.Fatalf("%+v", j.Lives)
	}
	for _, l := range j.Lives {
		if !near(l.Years, want[string(l.What)], 0.05) || l.Least <= 0 || l.Most <= l.Least || !strings.Contains(l.Words, "installed "+l.Installed) {
			t.Errorf("%+v", l)
		}
		if old := action(j, string(l.What)+" is older than is usual"); (old != nil) != (l.Years > l.Most) {
			t.Errorf("%s, %.1f of %.0f years: %+v", l.What, l.Years, l.Most, old)
		}
	}
}

// TestTheOldestLineGivesTheAgeOfTheField, of those in use; the record's date
// stands in where nobody says, and is said to be so.
func TestTheOldestLineGivesTheAgeOfTheField(t *testing.T) {
	field := func(text string) string {
		for _, l := range judged(t, text).Lives {
			if l.What == "Field" {
				return l.Installed + ": " + l.Words
			}
		}
		return "none"
	}
	mixed := strings.Replace(small, "porosity: 40%, installed: 1996-08", "porosity: 40%, installed: 2015", 1)
	i := strings.Index(mixed, "Line 2: {")
	mixed = mixed[:i] + strings.Replace(mixed[i:], "installed: 1996-08", "installed: 1988", 1)
	unsaid := all(t, small, "porosity: 40%, installed: 1996-08", "porosity: 40%")
	for text, want := range map[string]string{
		mixed: "1988: ", strings.Replace(mixed, "Line 2: {", "Line 2: {out of use: yes, ", 1): "1996-08: ",
		unsaid: "none", unsaid + "record: {date: 1997}\n": "1997: Field: installed 1997 (the date of the record)",
	} {
		if got := field(text); !strings.HasPrefix(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if j := judged(t, unsaid); !hears(j.Missing, "Age of Field", "enter installed: a year will do") {
		t.Errorf("%q", j.Missing)
	}
}

const camera = `cameras:
  Line 2:
    entry: D-box
    ended: line end
    ended at: 60'
`

func TestWhatIsFine(t *testing.T) {
	const fine = "Line 2 was looked at from end to end"
	roots := small + camera + "    findings: [{at: 41', what: fine roots}]\n"
	for name, c := range map[string]struct {
		text string
		fine bool
	}{
		"whole":      {small + camera, true},
		"from below": {small + strings.Replace(camera, "entry: D-box", "entry: L2 end\n    toward: D-box", 1), true},
		"half":       {small + strings.Replace(camera, "entry: D-box", "entry: L2 bend\n    toward: L2 end", 1), false},
		"stopped":    {small + strings.Replace(camera, "ended: line end", "ended: roots", 1), false},
		"roots":      {roots, false},
	} {
		if j := judged(t, c.text); hears(j.Fine, fine) != c.fine {
			t.Errorf("%s: %q", name, j.Fine)
		}
	}
	if a := action(judged(t, roots), "Line 2: Have the roots cut"); a == nil || a.Urgency != judge.CanWait || a.About[0] != "Line 2" {
		t.Errorf("%+v", a)
	}
}

// ordered holds what must be true of the actions and reminders of any job: the
// urgent first and their days with them, no key twice, in the order of time.
func ordered(t testing.TB, j *judge.Judgement, visit string) {
	t.Helper()
	today, err := calendar.Parse(visit)
	by := map[judge.Urgency]calendar.Date{}
	if err == nil {
		by = map[judge.Urgency]calendar.Date{judge.Now: today, judge.Soon: today.AddMonths(2), judge.CanWait: today.AddMonths(12)}
	}
	last := judge.Now
	for _, a := range j.Actions {
		planned := strings.HasPrefix(a.What, "Before you plan") && a.By.IsZero() // waits for the plan, not for a day
		if a.Urgency < last || a.By != by[a.Urgency] && !planned || a.What == "" {
			t.Errorf("%+v after %v, want it by %v", a, last, by[a.Urgency])
		}
		last = a.Urgency
	}
	keys, before := map[string]bool{}, calendar.Date{}
	for _, r := range j.Reminders {
		if keys[r.Key] || r.Key == "" || r.Words == "" || r.On.IsZero() || r.On.Before(before) {
			t.Errorf("%+v after %v", r, before)
		}
		keys[r.Key], before = true, r.On
	}
}

func TestActionsAndRemindersAreInOrder(t *testing.T) {
	twice := small + camera + "    findings: [{at: 20', what: broken}, {at: 41', what: broken}]\n"
	for text, date := range map[string]string{
		string(examples.Demo()): "2026-05-14", small: "2026-05-14", twice: "2026-05-14",
		with(t, "date: 2026-05-14", "date: 2025-12-31"): "2025-12-31", with(t, "visit: {date: 2026-05-14}\n", ""): "",
	} {
		ordered(t, judged(t, text), date)
	}
	j := judged(t, twice)
	if reminder(j, "do-line-2--have-the-broken-pipe-replaced") == nil || reminder(j, "do-line-2--have-the-broken-pipe-replaced-2") == nil {
		t.Errorf("%+v", j.Reminders)
	}
}

// TestAKeyOutlivesTheNextVisit: what else is to be done does not change the key
// of a reminder, or a calendar would move another one.
func TestAKeyOutlivesTheNextVisit(t *testing.T) {
	tipped := with(t, outlets, `outlets: {Line 1: 6", Line 2: 6", Line 3: 6 1/4"}`)
	const key = "do-d-box--set-the-outlets-level"
	if reminder(judged(t, tipped), key) == nil {
		t.Errorf("%+v", judged(t, tipped).Reminders)
	}
	more := judged(t, all(t, tipped, "Line 3: 6 1/4\"", "Line 3: 6 3/8\"")+camera+"    findings: [{at: 41', what: broken}]\n")
	if r := reminder(more, key); r == nil || !strings.Contains(r.Words, "D-box") {
		t.Errorf("%+v", more.Reminders)
	}
}

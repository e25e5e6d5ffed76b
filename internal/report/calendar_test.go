package report_test

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"undersod/core/calendar"
	"undersod/core/judge"
	"undersod/core/site"
	"undersod/internal/report"
)

// reminding is an input with reminders of every kind of date, and texts that
// want escaping and folding.
func reminding() report.Input {
	job := &site.Job{}
	job.Site.Name, job.Visit.Date = "18 Quarry Hollow Lane, rear; \"annexe\"", "2026-05-14"
	job.Site.Address = "18 Quarry Hollow Lane"
	return report.Input{Job: job, Judgement: &judge.Judgement{Reminders: []judge.Reminder{
		{Key: "pump-tank", On: calendar.Date{Year: 2028, Month: 2, Day: 29}, Words: "Have the tank pumped", Why: "Every 4 years, more or less; C:\\docs" + strings.Repeat(" und noch ein längerer Satz über Überläufe", 6)},
		{Key: "look-box", On: calendar.Date{Year: 2027, Month: 12, Day: 31}, Words: "Look at the box"},
		{Key: "look-box", On: calendar.Date{Year: 2028, Month: 12, Day: 31}, Words: "Look at the box again"},
		{Key: "field", On: calendar.Date{Year: 2036}, Words: "Think of the field"},
		{Key: "never", Words: "has no date"},
	}}}
}

func TestCalendarLines(t *testing.T) {
	data, err := report.Calendar(reminding())
	if err != nil {
		t.Fatal(err)
	}
	again, _ := report.Calendar(reminding())
	if !bytes.Equal(data, again) {
		t.Error("two runs differ")
	}
	for _, line := range strings.Split(strings.TrimSuffix(string(data), "\r\n"), "\r\n") {
		if len(line) > 75 || strings.ContainsAny(line, "\r\n") {
			t.Errorf("line of %d bytes: %q; expected at most 75, ended by CRLF alone (RFC 5545, 3.1, 2009)", len(line), line)
		}
	}
	for _, want := range []string{"DTSTAMP:20260514T000000Z", "DTSTART;VALUE=DATE:20280229", "DTEND;VALUE=DATE:20280301", "DTEND;VALUE=DATE:20280101", "TRIGGER:-P7D", "BEGIN:VALARM"} {
		if !strings.Contains(string(data), want+"\r\n") {
			t.Errorf("no line %q", want)
		}
	}
}

func TestCalendarKeepsItsIdentities(t *testing.T) {
	in := reminding()
	first, _ := report.Calendar(in)
	in.Job.Visit.Date = "2027-06-01"
	in.Judgement.Reminders[0].On.Year = 2032
	in.Judgement.Reminders[0].Words = "Pump it"
	second, err := report.Calendar(in)
	if err != nil {
		t.Fatal(err)
	}
	a, b := identities(first), identities(second)
	if strings.Join(a, " ") != strings.Join(b, " ") || len(a) != 4 {
		t.Errorf("identities %v and %v; expected the same four", a, b)
	}
	seen := map[string]bool{}
	for _, id := range a {
		if seen[id] {
			t.Errorf("%s stands for two events", id)
		}
		seen[id] = true
	}
}

func identities(data []byte) []string {
	var out []string
	for _, line := range strings.Split(string(data), "\r\n") {
		if strings.HasPrefix(line, "UID:") {
			out = append(out, line)
		}
	}
	return out
}

func TestCalendarTellsWhatIsMissing(t *testing.T) {
	noDate := reminding()
	noDate.Job.Visit.Date = ""
	undated := reminding()
	undated.Judgement.Reminders = undated.Judgement.Reminders[4:]
	noJob := reminding()
	noJob.Job = nil
	for name, in := range map[string]report.Input{"nothing": {}, "no date of the visit": noDate, "no dated reminder": undated, "no job": noJob} {
		if data, err := report.Calendar(in); err == nil || data != nil {
			t.Errorf("%s: %q, error %v; expected an error alone", name, data, err)
		}
	}
}

// The reader takes an escaped backslash before an n for a line break, so that
// the texts here hold none.

// reader prints the events of a calendar file as JSON, read by Debian's general
// iCalendar library.
const reader = `
import sys, json, icalendar
c = icalendar.Calendar.from_ical(open(sys.argv[1], "rb").read())
print(json.dumps([{"summary": str(e["SUMMARY"]), "why": str(e.get("DESCRIPTION", "")), "start": e["DTSTART"].dt.isoformat(), "end": e["DTEND"].dt.isoformat(),
  "alarms": [a["TRIGGER"].dt.days for a in e.walk("VALARM")]} for e in c.walk("VEVENT")]))`

func TestCalendarIsReadBack(t *testing.T) {
	const python = "/usr/bin/python3"
	if exec.Command(python, "-c", "import icalendar").Run() != nil {
		missing(t, "the icalendar module of "+python, "python3-icalendar")
	}
	in := reminding()
	data, err := report.Calendar(in)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "reminders.ics")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(python, "-c", reader, file).Output()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	var events []struct {
		Summary, Why, Start, End string
		Alarms                   []int
	}
	if err := json.Unmarshal(out, &events); err != nil || len(events) != 4 {
		t.Fatalf("%d events, error %v; expected 4: %s", len(events), err, out)
	}
	e, want := events[0], in.Judgement.Reminders[0]
	if e.Summary != want.Words+": "+in.Job.Site.Name || e.Why != want.Why+"." || e.Start != "2028-02-29" || e.End != "2028-03-01" || len(e.Alarms) != 1 || e.Alarms[0] != -7 {
		t.Errorf("read back %+v", e)
	}
	if last := events[3]; last.Start != "2036-01-01" || last.Why != "" {
		t.Errorf("a year alone is read back as %+v", last)
	}
}

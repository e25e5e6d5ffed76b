package text

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/core/unit"
)

func tellerInto(out *bytes.Buffer) *teller { return &teller{w: out, job: &site.Job{}} }

// TestLongNamesAreCutNotNumbers: names give way, numbers never.
func TestLongNamesAreCutNotNumbers(t *testing.T) {
	long := strings.Repeat("long ", 16)
	rows := []distance{
		{part: long, from: long, required: 1000 * unit.Foot, measured: 1234.567 * unit.Foot, margin: 234.567 * unit.Foot, within: 12 * unit.Foot, known: true, note: " [12]"},
		{part: "Tank", from: "Well", required: 50 * unit.Foot, note: " [3]"},
	}
	var out bytes.Buffer
	tellerInto(&out).distances(setback.Clear, rows)
	for line := range strings.Lines(out.String()) {
		if n := utf8.RuneCountInString(line); n > 80 {
			t.Errorf("%d columns: %s", n, line)
		}
	}
	for _, want := range []string{"1000' 0\"", "+234' 6 ", "±12' 0\"", "[12]", "not located", "[3]", "…", "Tank", "Well"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q in\n%s", want, out.String())
		}
	}
}

// TestOnePartsTableNamesNoPart leaves the empty column out.
func TestOnePartsTableNamesNoPart(t *testing.T) {
	var out bytes.Buffer
	tellerInto(&out).distances(setback.Short, []distance{{from: "Well", known: true, words: "The words."}})
	if text := out.String(); strings.Contains(text, "part") || !strings.Contains(text, "- The words.") || !strings.Contains(text, "Short") {
		t.Errorf("%s", text)
	}
	out.Reset()
	tellerInto(&out).distances(setback.Short, nil)
	if out.Len() > 0 {
		t.Errorf("nothing is told as %q", out.String())
	}
}

// TestSourcesAreNumberedOnce and the permit's own are told from a pack's.
func TestSourcesAreNumberedOnce(t *testing.T) {
	var s sources
	code := rules.Source{Title: "A code", Section: "4.2", Status: rules.Read}
	permit := rules.Source{Title: "permit T-1", Status: rules.TheUser}
	for i, got := range []string{s.of(code, false), s.of(permit, true), s.of(code, false), s.of(rules.Source{}, false), s.of(rules.Source{}, true)} {
		if want := []string{" [1]", " [2]", " [1]", "", " [3]"}[i]; got != want {
			t.Errorf("source %d is marked %q, want %q", i, got, want)
		}
	}
	var out bytes.Buffer
	tellerInto(&out).sources("From", &s)
	for _, want := range []string{"[1] A code, 4.2 (read in a copy)", "[2] the permit's own distance: permit T-1", "[3] the permit's own distance"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q in\n%s", want, out.String())
		}
	}
}

// TestMarginsHaveTheirSign, and none where they print as nothing.
func TestMarginsHaveTheirSign(t *testing.T) {
	tell := tellerInto(&bytes.Buffer{})
	for _, c := range []struct {
		l    unit.Length
		want string
	}{{unit.Foot, `+1' 0"`}, {-unit.Foot, `-1' 0"`}, {0, `0"`}, {unit.Inch / 1000, `0"`}} {
		if got := tell.signed(c.l); got != c.want {
			t.Errorf("%v: %q, want %q", c.l, got, c.want)
		}
	}
}

// A thing that no rule speaks of has a dash, not a distance of nothing, and what
// is too close to call comes with what would narrow it.
func TestNoRuleIsADash(t *testing.T) {
	var out bytes.Buffer
	l := setback.Limiting{Thing: setback.Thing{Name: "Shed"}, Proposed: true, Words: "The words.", Advice: "tie it again"}
	tellerInto(&out).distances(setback.TooClose, []distance{distanceOfLimit(l, &sources{})})
	if text := out.String(); !strings.Contains(text, "Shed *") || !strings.Contains(text, "–") || !strings.Contains(text, "- The words. Tie it again.") {
		t.Errorf("%s", text)
	}
}

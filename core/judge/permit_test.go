package judge_test

import (
	"strings"
	"testing"

	"undersod/core/judge"
)

// record adds what the permit claims.
func record(t *testing.T, claims string) string { return small + "record: {" + claims + "}\n" }

func TestPermitAnswers(t *testing.T) {
	const (
		agrees  = judge.Agrees
		differs = judge.Differs
		unknown = judge.CannotTell
	)
	for _, c := range []struct {
		claims, what string
		answer       judge.Agreement
		words        string
	}{
		{`trench length: 60 ft`, "length of Line 1", agrees, "the record says 60 ft"},
		{`trench length: 60 ft`, "length of Line 3", differs, `5' 3" less`},
		{`trench length: 54' 9"`, "length of Line 3", agrees, ""},
		{`trench length: 54' 9"`, "length of Line 2", differs, `5' 3" more`},
		{`lines: 3`, "number of drain lines", agrees, "3, as the record says"},
		{`lines: 4`, "number of drain lines", differs, "3 found; the record says 4"},
		{`outlets: 3`, "outlets of the box", agrees, ""},
		{`outlets: 5`, "outlets of the box", differs, "3 found; the record says 5"},
		{`bedrooms: 3`, "bedrooms", agrees, ""},
		{`bedrooms: 2`, "bedrooms", differs, "3 found; the record says 2"},
		{`trench width: 3 ft`, "width of the trench of Line 2", agrees, ""},
		{`trench width: 2 ft`, "width of the trench of Line 2", differs, `1' 0" more`},
		{`trench depth: 30"`, "depth of the trench of Line 1", agrees, ""},
		{`trench depth: 36"`, "depth of the trench of Line 1", differs, `6" less`},
		{`stone below: 12"`, "stone under Line 3", agrees, ""},
		{`stone below: 24"`, "stone under Line 3", differs, `1' 0" less`},
		{`spacing: 9 ft`, "spacing of Line 1 and Line 2", agrees, ""},
		{`spacing: 6 ft`, "spacing of Line 2 and Line 3", differs, `3' 0" more`},
		{`tank: 1000 gal`, "capacity of the tank", agrees, ""},
		{`tank: 1250 gal`, "capacity of the tank", differs, "1,000 gal found; the record says 1,250 gal"},
		{`area: 524 sq ft`, "absorption area", agrees, ""},
		{`area: 700 sq ft`, "absorption area", differs, ""},
		{`distances: {D-box: {A: 54 ft}}`, "distance from A to D-box", agrees, ""},
		{`distances: {D-box: {A: 57 ft}}`, "distance from A to D-box", differs, "less"},
		{`distances: {D-box: {A: {read: 57 ft, sd: 3 ft}}}`, "distance from A to D-box", unknown, "too uncertain"},
	} {
		got := comparison(t, judged(t, record(t, c.claims)), c.what)
		if got.Answer != c.answer || !strings.Contains(got.Words, c.words) {
			t.Errorf("%s: %s %s, %q; want %s with %q", c.claims, c.what, got.Answer, got.Words, c.answer, c.words)
		}
		if got.Claimed == "" || got.Measured == "" || !strings.HasSuffix(got.Words, ".") {
			t.Errorf("%s: %+v", c.claims, got)
		}
	}
}

// TestPermitThatNothingSpeaksOf takes away what was measured: no answer is made
// up, and no agreement is claimed.
func TestPermitThatNothingSpeaksOf(t *testing.T) {
	lost := with(t,
		"  - {baseline: A-B, point: L3 end, station: 71.75 ft, right: 59 ft}\n", "",
		"capacity: 1000 gal, ", "",
		"household: {bedrooms: 3, persons: 4}", "household: {persons: 4}",
		`trench depth: 30", stone below: 12", porosity: 40%, installed: 1996-08}
  Line 3`, `porosity: 40%}
  Line 3`) +
		"record: {bedrooms: 3, trench length: 60 ft, tank: 900 gal, area: 500 sq ft, trench depth: 30 in, distances: {L3 end: {A: 90 ft}}}\n"
	j := judged(t, lost)
	for _, what := range []string{"length of Line 3", "capacity of the tank", "absorption area", "bedrooms",
		"depth of the trench of Line 2", "distance from A to L3 end"} {
		c := comparison(t, j, what)
		if c.Answer != judge.CannotTell || c.Measured != "" || !strings.Contains(c.Words, "the record says") {
			t.Errorf("%+v", c)
		}
	}
	none := judged(t, with(t, "capacity: 1000 gal, ", "")+"record: {tank: 900 gal}\n")
	if hears(none.Fine, "agrees with the record") || action(none, "record differs") != nil {
		t.Errorf("nothing could be compared, and yet: %q", none.Fine)
	}
}

// TestALineThatIsNotLocatedStillCounts: it was found, only its place is open.
func TestALineThatIsNotLocatedStillCounts(t *testing.T) {
	j := judged(t, with(t, "  - {baseline: A-B, point: L3 end, station: 71.75 ft, right: 59 ft}\n", "")+"record: {lines: 3}\n")
	if c := comparison(t, j, "number of drain lines"); c.Answer != judge.Agrees {
		t.Errorf("%+v", c)
	}
}

// TestTheLastPlaceOfTheRecord: what writes whole feet says no more than whole
// feet, the same number to the tenth of an inch does.
func TestTheLastPlaceOfTheRecord(t *testing.T) {
	exact := all(t, small, ", right:", ", sd: 0.005 ft, right:")
	for claim, want := range map[string]judge.Agreement{
		"55 ft": judge.Agrees, "54 ft": judge.Differs, "54.7 ft": judge.Agrees, "55.0 ft": judge.Differs,
		`55' 0"`: judge.Differs, `54' 9"`: judge.Agrees, "17 m": judge.Agrees, "17.0 m": judge.Differs, "16.7 m": judge.Agrees,
	} {
		text := all(t, exact, "Line 3: {kind: drain line,", "Line 3: {kind: drain line, permitted: "+claim+",")
		if c := comparison(t, judged(t, text), "length of Line 3"); c.Answer != want {
			t.Errorf("%s: %s, want %s: %q (%s)", claim, c.Answer, want, c.Words, c.Within)
		}
	}
}

// TestPermitLeadsToAnAction names the first difference and counts the others.
func TestPermitLeadsToAnAction(t *testing.T) {
	one := action(judged(t, record(t, "lines: 4")), "the record differs")
	more := action(judged(t, record(t, "lines: 4, bedrooms: 2, tank: 750 gal")), "the record differs")
	if one == nil || strings.Contains(one.Why, "table") || more == nil || !strings.Contains(more.Why, "2 more items") {
		t.Errorf("%+v, %+v", one, more)
	}
	if j := judged(t, record(t, "lines: 3")); !hears(j.Fine, "agrees with the record") || action(j, "record differs") != nil {
		t.Errorf("%q", j.Fine)
	}
}

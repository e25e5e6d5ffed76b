package values_test

import (
	"testing"

	"undersod/internal/jobfile/tree"
	"undersod/internal/jobfile/values"
)

// reader reads the keys of one group out of a text.
func reader(t *testing.T, text string) (*values.Reader, values.Fields) {
	t.Helper()
	root, _, err := tree.Parse("job", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	r := &values.Reader{File: "job", Source: []byte(text), Keys: map[string][]string{"all": {"x"}}}
	f, ok := r.Fields(root, "the job", "all")
	if !ok {
		t.Fatalf("%q is no group", text)
	}
	return r, f
}

func TestSharesNeedTheirSign(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
		ok   bool
	}{
		{"x: 40%", 0.4, true}, {"x: 0%", 0, true}, {"x: 100 %", 1, true}, {"x: 0.5%", 0.005, true},
		{"x: 0.4", 0, false}, {"x: 40", 0, false}, {"x: 101%", 0, false}, {"x: -1%", 0, false},
		{"x: NaN%", 0, false}, {"x: '%'", 0, false}, {"x: [40%]", 0, false},
	} {
		r, f := reader(t, c.text)
		var got float64
		r.ShareOf(f, "x", "it", "40%", &got)
		if got != c.want || (len(r.Problems) == 0) != c.ok {
			t.Errorf("%s: %v, problems %v", c.text, got, r.Problems)
		}
	}
}

func TestDatesAreADayAMonthOrAYear(t *testing.T) {
	for _, c := range []struct {
		text string
		ok   bool
	}{
		{"x: 2021-06-30", true}, {"x: 2021-06", true}, {"x: 1996", true},
		{"x: 2021-06-31", false}, {"x: 2021-13", false}, {"x: 96", false}, {"x: June 2021", false}, {"x: {a: b}", false},
	} {
		r, f := reader(t, c.text)
		var got string
		r.WhenOf(f, "x", "it", &got)
		if (got != "") != c.ok || (len(r.Problems) == 0) != c.ok {
			t.Errorf("%s: %q, problems %v", c.text, got, r.Problems)
		}
	}
}

func TestFilesStayBesideTheJob(t *testing.T) {
	for _, c := range []struct {
		text string
		ok   bool
	}{
		{"x: photos/a.jpg", true}, {"x: a.jpg", true}, {"x: a b.jpg", true},
		{"x: ../a.jpg", false}, {"x: /a.jpg", false}, {`x: a\b.jpg`, false}, {"x: 'C:/a.jpg'", false},
		{"x: a/../../b.jpg", false}, {"x: .", false}, {"x: a//b.jpg", false}, {"x: [a.jpg]", false},
	} {
		r, f := reader(t, c.text)
		got, ok := r.FileName(f.Get("x"), "it", "photos/a.jpg")
		if ok != c.ok || (got != "") != c.ok {
			t.Errorf("%s: %q, problems %v", c.text, got, r.Problems)
		}
	}
}

func TestWholeNumbers(t *testing.T) {
	for _, c := range []struct {
		text string
		want int
		ok   bool
	}{
		{"x: 3", 3, true}, {"x: 0", 0, true}, {"x: '12'", 12, true},
		{"x: 3.5", 0, false}, {"x: -1", 0, false}, {"x: 1001", 0, false}, {"x: three", 0, false},
	} {
		r, f := reader(t, c.text)
		var got int
		r.CountOf(f, "x", "it", &got)
		if got != c.want || (len(r.Problems) == 0) != c.ok {
			t.Errorf("%s: %d, problems %v", c.text, got, r.Problems)
		}
	}
}

func TestParseDeviation(t *testing.T) {
	for _, c := range []struct {
		text               string
		fixed, ratio, turn bool
		wrong              bool
	}{
		{"0.05 ft + 0.1%", true, true, false, false}, {`1/4"`, true, false, false, false},
		{"0.1 %", false, true, false, false}, {"2°", false, false, true, false},
		{"", false, false, false, true}, {"1 ft + 2 ft", false, false, false, true},
		{"x%", false, false, false, true}, {"1 ft +", false, false, false, true}, {"NaN%", false, false, false, true},
	} {
		d, err := values.ParseDeviation(c.text, 0)
		if (err != nil) != c.wrong {
			t.Errorf("%q: error %v", c.text, err)
		}
		if err == nil && ((d.Fixed != nil) != c.fixed || (d.PerUnit != nil) != c.ratio || (d.Angle != nil) != c.turn) {
			t.Errorf("%q: read as %+v", c.text, d)
		}
	}
}

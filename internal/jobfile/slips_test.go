package jobfile_test

import (
	"strings"
	"testing"

	"undersod/core/site"
)

func TestWordsOfTheTradeAreUnderstood(t *testing.T) {
	for _, c := range []struct{ part, want string }{
		{"{kind: d-box}", `Did you mean "distribution box"?`},
		{"{kind: dbox}", `Did you mean "distribution box"?`},
		{"D box", `Did you mean "distribution box"?`},
		{"{kind: tank}", `Did you mean "septic tank"?`},
		{"{kind: lid, side: yard side of A-B}", `Did you mean "lawn side of A-B"?`},
		{"{kind: lid, side: far side of A-B}", `Did you mean "lawn side of A-B"?`},
	} {
		res := read(t, "undersod: 1\nbuildings:\n  House: {corners: [A, B, C, D], size: 44' x 28'}\nparts:\n  X: "+c.part+"\n")
		if len(res.Problems) != 1 || res.Problems[0].Advice != c.want {
			t.Errorf("%s: %+v, want the advice %s", c.part, res.Problems, c.want)
		}
	}
}

func TestASectionWithACapitalIsReadAllTheSame(t *testing.T) {
	whole := documented(t)
	for _, key := range []string{"buildings", "ties", "parts", "marks", "lines", "bare", "instruments", "undersod", "rods"} {
		capital := strings.ToUpper(key[:1]) + key[1:]
		text := strings.Replace("\n"+whole, "\n"+key+":", "\n"+capital+":", 1)
		res, want := read(t, text), read(t, whole)
		if len(res.Problems) != 1 || res.Problems[0].Severity != site.Remark ||
			res.Problems[0].Found != capital || !strings.Contains(res.Problems[0].Advice, `"`+key+`"`) {
			t.Errorf("%s: problems %v", capital, res.Problems)
		}
		if len(res.Job.Visit.Readings) != len(want.Job.Visit.Readings) || len(res.Job.Site.Points) != len(want.Job.Site.Points) {
			t.Errorf("%s: not everything is read", capital)
		}
	}
}

func TestACapitalSectionBesideTheRightOneIsUnknown(t *testing.T) {
	for _, text := range []string{
		"undersod: 1\nmarks: {A: pin}\nMarks: {B: pin}\n", "undersod: 1\nMarks: {B: pin}\nmarks: {A: pin}\n",
	} {
		res := read(t, text)
		if res.Mistakes() != 1 || len(res.Job.Site.Points) != 1 || res.Job.Site.Points[0].Name != "A" {
			t.Errorf("%q: %v, points %v", text, res.Problems, res.Job.Site.Points)
		}
	}
}

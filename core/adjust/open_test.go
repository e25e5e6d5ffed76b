package adjust_test

import (
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/site"
	"undersod/core/unit"
)

func TestWhatIsNotDeterminedIsSaidByName(t *testing.T) {
	y := demo(1, 0)
	y.put("lonely", site.RolePart, at(30, -40))
	y.put("once", site.RolePart, at(10, -30))
	y.perfect("F", "once")
	p := y.solve()
	lonely, once := find(t, p, "lonely"), find(t, p, "once")
	if lonely.State != adjust.Unconnected || lonely.Why == "" {
		t.Errorf("lonely: %v %q", lonely.State, lonely.Why)
	}
	if once.State != adjust.Undetermined || !strings.Contains(once.Why, "tie from F to once") {
		t.Errorf("once: %v %q", once.State, once.Why)
	}
	for _, q := range []adjust.Point{lonely, once} {
		if q.Cure == nil || q.Cure.To != q.Name || q.Cure.From == "" || q.Cure.Kind != "tie" {
			t.Errorf("%s: cure %+v", q.Name, q.Cure)
			continue
		}
		if !strings.Contains(q.CureWords, string(q.Cure.From)) || !strings.Contains(q.CureWords, string(q.Name)) {
			t.Errorf("%s: cure words %q name neither mark nor part", q.Name, q.CureWords)
		}
	}
	if once.Cure.From == "F" {
		t.Error("the cure repeats the tie there is")
	}
	for name := range y.truth {
		if name != "lonely" && name != "once" {
			wantAt(t, y, p, name, unit.Inch/2)
		}
	}
	reasons := strings.Join(p.Verdict.Reasons, "\n")
	if p.Verdict.Fill != adjust.FillNo || !strings.Contains(reasons, "lonely") || !strings.Contains(reasons, "once") {
		t.Errorf("verdict %v: %s", p.Verdict.Fill, reasons)
	}
	if r := readingOf(t, p, "tie F > once"); r.Use != adjust.Idle || r.Why == "" {
		t.Errorf("its tie: use %v %q", r.Use, r.Why)
	}
}

// The cure must cure: with the proposed tie added the point is determined.
func TestTheCureCures(t *testing.T) {
	y := demo(1, 0)
	y.put("once", site.RolePart, at(10, -30), lawn)
	y.perfect("F", "once")
	q := find(t, y.solve(), "once")
	if q.Cure == nil {
		t.Fatal("no cure")
	}
	y.perfect(q.Cure.From, q.Cure.To)
	p := y.solve()
	if q := find(t, p, "once"); q.State == adjust.TwoAnswers {
		// The words ask for the side as well.
		y.job.Site.Points[len(y.job.Site.Points)-1].Sides = []site.Side{{Kind: site.LeftOf, From: "E", To: "F"}}
		p = y.solve()
	}
	wantAt(t, y, p, "once", 1e-3)
}

func TestAPartInLineWithBothMarksIsLeftOpen(t *testing.T) {
	y := demo(1, 0)
	y.put("in line", site.RolePart, at(15, 0))
	y.perfect("F", "in line")
	y.perfect("E", "in line")
	y.job.Site.Buildings[0].Square = nil
	p := y.solve()
	q := find(t, p, "in line")
	switch {
	case q.State == adjust.Undetermined && strings.Contains(q.Why, "line"):
		if q.CureWords == "" {
			t.Error("no cure")
		}
	case q.State == adjust.Determined && q.Ellipse.Radius < ft(0.5):
		t.Errorf("determined within %v ft", q.Ellipse.Radius.Feet())
	case q.State != adjust.Undetermined:
		t.Logf("state %v %q radius %.2f ft", q.State, q.Why, q.Ellipse.Radius.Feet())
	}
	wantAt(t, y, p, "D-box", unit.Inch/2)
}

func TestMarksExactlyInLineWithThePart(t *testing.T) {
	y := baseline(1)
	y.put("lid", site.RolePart, at(15, 0))
	y.perfect("A", "lid")
	y.perfect("B", "lid")
	q := find(t, y.solve(), "lid")
	if q.State != adjust.Undetermined || !strings.Contains(q.Why, "in one line") || q.Cure == nil && q.CureWords == "" {
		t.Errorf("state %v %q cure %q radius %v", q.State, q.Why, q.CureWords, q.Ellipse.Radius.Feet())
	}
}

func TestADatumWithoutReadingsFallsBack(t *testing.T) {
	y := demo(1, 0)
	y.put("Iron pin", site.RoleMark, at(-50, -50))
	y.job.Datum = site.Datum{Kind: site.DatumBaseline, Mark: "Iron pin", East: 100, North: 200, Toward: "A"}
	p := y.solve()
	if p.Frame.Mark == "Iron pin" || p.Frame.Mark == "" || !strings.Contains(p.Frame.Why, "no reading ties") {
		t.Errorf("frame %+v", p.Frame)
	}
	if q := find(t, p, "Iron pin"); q.State != adjust.Unconnected {
		t.Errorf("iron pin: %v %q", q.State, q.Why)
	}
	wantAt(t, y, p, "D-box", unit.Inch/2)
}

package figure_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"undersod/core/figure"
	"undersod/core/hydraulic"
	"undersod/core/judge"
	"undersod/core/level"
	"undersod/core/look"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/storage"
	"undersod/core/unit"
	"undersod/internal/render"
)

// odd draws values that no one measured.
type odd struct{ r *rand.Rand }

func (o odd) float() float64 {
	list := [...]float64{0, 1, -1, 0.01, 3, 20, 1e-300, 1e9, -1e9, 1e300, math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64}
	if o.r.IntN(2) == 0 {
		return o.r.Float64() * 20
	}
	return list[o.r.IntN(len(list))]
}

func (o odd) length() unit.Length { return unit.Length(o.float()) }

func (o odd) pointer() *unit.Length {
	if o.r.IntN(2) == 0 {
		return nil
	}
	l := o.length()
	return &l
}

func (o odd) text() string {
	list := [...]string{"", "Line 2", strings.Repeat("W", 400), strings.Repeat("long words ", 60), "\x00\xff<&\n", "L2 end", "\u202eback", "ü€😀"}
	return list[o.r.IntN(len(list))]
}

func (o odd) written() *unit.Written {
	if o.r.IntN(2) == 0 {
		return nil
	}
	return &unit.Written{Text: o.text(), Length: o.length()}
}

func (o odd) spot() look.Spot { return look.Spot{Station: o.length(), Counted: o.r.IntN(4) > 0} }

func (o odd) say() figure.Say {
	forms := [...]unit.Form{unit.FeetInches, unit.DecimalFeet, unit.Inches, unit.Metres, unit.Centimetres, unit.Millimetres, unit.NoForm, 200}
	s := figure.Say{Style: unit.Style{Form: forms[o.r.IntN(len(forms))], Digits: o.r.IntN(20) - 3}, Metrics: render.Metrics(), Width: sheet.MM(o.float() * 10), Bore: o.length()}
	return s
}

var kinds = [...]site.FindingKind{
	site.FineRoots, site.RootMass, site.StandingWater, site.Flattened, site.Cracked, site.Broken, site.JointShifted, site.SoilEntering,
	site.Sediment, site.Blocked, site.LineEndSeen, site.WaterOverPipe, site.AnotherFinding, "",
}

func (o odd) run(findings int) look.Run {
	r := look.Run{Length: o.length(), Known: o.r.IntN(2) == 0, Entry: o.spot(), Seen: [2]unit.Length{o.length(), o.length()}, Against: o.r.IntN(2) == 0, Words: o.text()}
	r.Line, r.ID, r.Run.Entry, r.Toward = "Line 2", site.ReadingID(o.text()), site.Name(o.text()), site.Name(o.text())
	if o.r.IntN(2) == 0 {
		end := o.spot()
		r.End = &end
	}
	for range findings {
		f := look.Finding{Grade: site.Grade(o.r.IntN(256)), From: o.spot()}
		f.What, f.Note, f.At, f.Depth = kinds[o.r.IntN(len(kinds))], o.text(), o.written(), o.written()
		if v := o.float(); o.r.IntN(2) == 0 {
			f.Percent = &v
		}
		if o.r.IntN(2) == 0 {
			to := o.spot()
			f.To = &to
		}
		r.Findings = append(r.Findings, f)
	}
	return r
}

func (o odd) strip() sheet.Scene {
	var runs []look.Run
	for range o.r.IntN(9) {
		runs = append(runs, o.run(o.r.IntN(12)))
	}
	if o.r.IntN(40) == 0 {
		runs = append(runs, o.run(4000))
	}
	var falls []level.Fall
	for i := range o.r.IntN(14) {
		falls = append(falls, level.Fall{
			Line: "Line 2", From: site.Name(fmt.Sprint(i)), To: site.Name(fmt.Sprint(i + 1)), Whole: o.r.IntN(5) == 0,
			Drop: o.length(), Run: o.length(), RunKnown: o.r.IntN(5) > 0, Way: level.Backwards, Words: o.text(),
		})
	}
	return figure.Strip("Line 2", runs, falls, o.say())
}

func (o odd) section() sheet.Scene {
	var b judge.Box
	var m site.Box
	var s hydraulic.Split
	for i := range o.r.IntN(16) {
		name := fmt.Sprintf("%d %s", i, o.text())
		b.Outlets = append(b.Outlets, level.Outlet{Line: site.Name(name), Known: o.r.IntN(4) > 0, At: o.length(), SD: o.length()})
		b.Openings = append(b.Openings, hydraulic.Opening{Name: name, Bore: o.length(), Closed: o.r.IntN(4) == 0})
		m.Outlets = append(m.Outlets, site.Opening{Line: site.Name(name), Bore: o.length()})
		s.Shares = append(s.Shares, hydraulic.Share{Name: name, Head: o.length(), Depth: o.length(), Flow: unit.Flow(o.float()), Share: o.float(), Wanted: o.float(), Regime: hydraulic.Brink})
	}
	if o.r.IntN(3) > 0 {
		b.Inlet = &level.Outlet{Known: true, At: o.length()}
	}
	b.Floor, b.Lid, b.Water = o.pointer(), o.pointer(), o.pointer()
	b.Missing = []string{o.text(), o.text()}
	b.Part, s.Inflow, s.Water = site.Name(o.text()), unit.Flow(o.float()), o.length()
	if o.r.IntN(4) == 0 {
		s.Shares = nil
	}
	return figure.Section(b, m, s, o.say())
}

func (o odd) day() sheet.Scene {
	run := storage.Run{Daily: unit.Volume(o.float()), Days: o.r.IntN(99), Step: storage.Seconds(o.float())}
	for range [...]int{0, 3, 24, 24, 24}[o.r.IntN(5)] {
		run.Hours = append(run.Hours, o.float())
	}
	r := storage.Result{Step: storage.Seconds(o.float()), Backed: unit.Volume(o.float()), BackAt: storage.Seconds(o.float())}
	steps := o.r.IntN(900)
	for i := range o.r.IntN(16) {
		c := storage.Course{Name: fmt.Sprintf("%d %s", i, o.text()), Full: o.r.IntN(3) == 0, FullAt: storage.Seconds(o.float()), Highest: o.length()}
		for range steps {
			c.Level = append(c.Level, o.length()/30)
		}
		r.Courses = append(r.Courses, c)
		if o.r.IntN(5) > 0 {
			run.Trenches = append(run.Trenches, storage.Trench{Height: o.length()})
		}
	}
	return figure.Day(run, r, o.say())
}

// TestWhateverComesIsDrawnWithinTheFigure feeds every figure with what nobody
// measured: it stays inside its paper, its words apart, its numbers finite, and
// the same input gives the same figure.
func TestWhateverComesIsDrawnWithinTheFigure(t *testing.T) {
	draw := map[string]func(odd) sheet.Scene{"strip": odd.strip, "section": odd.section, "day": odd.day}
	for name, f := range draw {
		for seed := range uint64(250) {
			at := func() sheet.Scene { return f(odd{rand.New(rand.NewPCG(seed, 11))}) }
			s := at()
			for _, b := range faults(s) {
				t.Errorf("%s %d: %s", name, seed, b)
			}
			if seed < 40 && !reflect.DeepEqual(s, at()) {
				t.Errorf("%s %d: two figures of one input differ", name, seed)
			}
			if t.Failed() && seed > 5 {
				break
			}
		}
	}
}

func TestNoFontIsNoPanic(t *testing.T) {
	runs, falls := lineTwo()
	b, m := opened(0.25, 0)
	run, r := ponding(1, 3, 8)
	for _, s := range []sheet.Scene{
		figure.Strip("Line 2", runs, falls, figure.Say{}),
		figure.Section(b, m, hydraulic.Split{}, figure.Say{}),
		figure.Day(run, r, figure.Say{}),
	} {
		if s.Width != 180 || !(s.Height > 20) {
			t.Errorf("a figure without settings is %v x %v mm", s.Width, s.Height)
		}
	}
}

package look_test

import (
	"math"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/look"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// TestRunsOverABentLine compares places with those worked out by hand.
func TestRunsOverABentLine(t *testing.T) {
	for _, c := range []struct {
		name    string
		run     site.Run
		reading float64
		station float64
		place   planar.Vec
		against bool
	}{
		{"from the start", site.Run{}, 12, 12, at(12, 0), false},
		{"past the bend", site.Run{}, 41, 41, at(20, 21), false},
		{"with a zero", site.Run{Zero: reads(2)}, 14, 12, at(12, 0), false},
		{"with a snaking cable", site.Run{Pushed: 0.05}, 21, 20, at(20, 0), false},
		{"with both", site.Run{Zero: reads(1.5), Pushed: 0.02}, 1.5 + 51*0.6, 30, at(20, 10), false},
		{"from the far end", site.Run{Entry: "end"}, 21.5, 41, at(20, 21), true},
		{"from the far end, told by where to", site.Run{Toward: "D-box"}, 50.5, 12, at(12, 0), true},
		{"from the cleanout on", site.Run{Entry: "cleanout", Toward: "end"}, 11, 41, at(20, 21), false},
		{"from the cleanout back", site.Run{Entry: "cleanout", Toward: "D-box"}, 18, 12, at(12, 0), true},
		{"from the bend back", site.Run{Entry: "bend", Toward: "D-box"}, 20, 0, at(0, 0), true},
	} {
		y := bent(0)
		y.run(c.run, seen(site.Cracked, c.reading))
		r := look.Lay(&y.job, &y.plan)[0]
		f := r.Findings[0].From
		if !f.Known || !f.Counted || r.Against != c.against || len(r.Problems) > 0 {
			t.Errorf("%s: %+v, against %v, problems %v", c.name, f, r.Against, r.Problems)
		}
		lies(t, c.name, f.At, c.place)
		same(t, c.name, f.Station, ft(c.station))
		same(t, c.name+": the line", r.Length, ft(62.5))
	}
}

func TestStretchFollowsTheBends(t *testing.T) {
	y := bent(0)
	y.run(site.Run{}, seen(site.StandingWater, 15, 35))
	y.run(site.Run{Entry: "end"}, seen(site.StandingWater, 27.5, 47.5))
	for i, want := range [][]planar.Vec{
		{at(15, 0), at(20, 0), at(20, 10), at(20, 15)},
		{at(20, 15), at(20, 10), at(20, 0), at(15, 0)},
	} {
		f := look.Lay(&y.job, &y.plan)[i].Findings[0]
		same(t, "the stretch", f.Stretch, ft(20))
		if len(f.Path) != len(want) {
			t.Fatalf("path %v, want %v", f.Path, want)
		}
		for k := range want {
			lies(t, "path", f.Path[k], want[k])
		}
	}
}

func TestWhatIsWrongIsTold(t *testing.T) {
	for _, c := range []struct {
		name  string
		run   site.Run
		f     site.Finding
		known bool
		words string // in a problem
	}{
		{"past the end", site.Run{}, seen(site.Cracked, 68), true, "5' 6\" past it"},
		{"past the start", site.Run{Entry: "end"}, seen(site.Cracked, 68), true, "past it"},
		{"before zero", site.Run{Zero: reads(10)}, seen(site.Cracked, 4), false, "at or past what the counter showed at the entry, 10'"},
		{"ends before it begins", site.Run{}, seen(site.Cracked, 40, 30), true, "taken the other way round"},
		{"no footage", site.Run{}, seen(site.Cracked), false, "the counter's reading"},
		{"unknown entry", site.Run{Entry: "manhole"}, seen(site.Cracked, 4), false, "D-box, bend, cleanout or end"},
		{"unknown aim", site.Run{Toward: "manhole"}, seen(site.Cracked, 4), false, "D-box, bend, cleanout or end"},
		{"no aim from the middle", site.Run{Entry: "bend"}, seen(site.Cracked, 4), false, "toward D-box or toward end"},
		{"aim at the entry", site.Run{Entry: "bend", Toward: "bend"}, seen(site.Cracked, 4), false, "toward D-box or toward end"},
		{"unknown line", site.Run{Line: "Line 9"}, seen(site.Cracked, 4), false, "the name of a line: Line 2"},
		{"counter off at the end", site.Run{Ended: site.ReachedEnd, EndedAt: reads(66)}, seen(site.Cracked, 4), true, "5.6 % long"},
		{"counter off at the end seen", site.Run{}, seen(site.LineEndSeen, 58), true, "7.2 % short"},
		{"senseless share", site.Run{Pushed: 7}, seen(site.Cracked, 4), true, "0.01"},
	} {
		y := bent(0)
		y.run(c.run, c.f)
		r := look.Lay(&y.job, &y.plan)[0]
		if r.Findings[0].From.Known != c.known {
			t.Errorf("%s: known %v", c.name, r.Findings[0].From.Known)
		}
		if len(r.Problems) != 1 || !strings.Contains(r.Problems[0].Error(), c.words) {
			t.Errorf("%s: problems %v, want one with %q", c.name, r.Problems, c.words)
		}
	}
}

func TestFootagePastTheEndStaysAtTheEnd(t *testing.T) {
	y := bent(0)
	y.run(site.Run{}, seen(site.Cracked, 68), seen(site.LineEndSeen, 62.75))
	r := look.Lay(&y.job, &y.plan)[0]
	lies(t, "the finding", r.Findings[0].From.At, at(20, 42.5))
	same(t, "how far past", r.Findings[0].From.Beyond, ft(5.5))
	if len(r.Problems) != 1 { // 3 in past the end is within the counter's scatter
		t.Errorf("problems %v", r.Problems)
	}
	if w := r.Findings[0].Words; !strings.Contains(w, "5' 6\" past the end of the line") {
		t.Errorf("words %q", w)
	}
}

func TestLineLocatedInPart(t *testing.T) {
	y := bent(0)
	y.plan.Points[3].State = adjust.TwoAnswers
	y.run(site.Run{}, seen(site.Cracked, 12), seen(site.Cracked, 25), seen(site.Cracked, 41))
	y.run(site.Run{Entry: "end"}, seen(site.Cracked, 12))
	runs := look.Lay(&y.job, &y.plan)
	for i, want := range []bool{true, true, false} {
		if f := runs[0].Findings[i].From; f.Known != want || !f.Counted {
			t.Errorf("finding %d: %+v", i, f)
		}
	}
	if f := runs[1].Findings[0].From; f.Known || f.Counted {
		t.Errorf("from the end that is not located: %+v", f)
	}
	for _, r := range runs {
		if r.Known || len(r.Problems) != 1 || !strings.Contains(r.Problems[0].Error(), "tie end to two or three marks") {
			t.Errorf("problems %v", r.Problems)
		}
	}
	if w := runs[1].Findings[0].Words; w != `cracked at 12' 0" on the counter in Line 2; its place on the lawn is not known` {
		t.Errorf("words %q", w)
	}
}

func TestHowFarARunWent(t *testing.T) {
	for _, c := range []struct {
		name      string
		run       site.Run
		f         []site.Finding
		low, high float64
		words     string
	}{
		{"to the end", site.Run{Ended: site.ReachedEnd, EndedAt: reads(62)}, nil, 0, 62,
			`With the flow from D-box to 62' of Line 2, where the line ends.`},
		{"stopped", site.Run{Ended: site.StoppedRoots, EndedAt: reads(41)}, nil, 0, 41,
			`With the flow from D-box to 41' of Line 2; roots stopped it; 21' 6" of the line was not seen on this run.`},
		{"back, stopped", site.Run{Entry: "end", Ended: site.StoppedBend, EndedAt: reads(42.5)}, nil, 20, 62.5,
			`Against the flow from end to 20' of Line 2; it would not go round a bend; 20' of the line was not seen on this run.`},
		{"from the cleanout to the end", site.Run{Entry: "cleanout", Toward: "end", Ended: site.ReachedEnd}, nil, 30, 62.5,
			`With the flow from cleanout through Line 2, where the line ends; 30' of the line was not seen on this run.`},
		{"nobody said", site.Run{}, []site.Finding{seen(site.FineRoots, 41), seen(site.Cracked, 12)}, 0, 41,
			`With the flow from D-box in Line 2; nobody wrote down how far; nobody wrote down why it ended there.`},
	} {
		y := bent(0)
		y.run(c.run, c.f...)
		r := look.Lay(&y.job, &y.plan)[0]
		same(t, c.name+", low", r.Seen[0], ft(c.low))
		same(t, c.name+", high", r.Seen[1], ft(c.high))
		if r.Words != c.words {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, r.Words, c.words)
		}
		if (r.End == nil) != (c.name == "nobody said") {
			t.Errorf("%s: end %v", c.name, r.End)
		}
	}
}

func TestWordsOfAFinding(t *testing.T) {
	y := bent(0)
	half := 20.0
	roots := seen(site.FineRoots, 41)
	roots.Percent = &half
	water := seen(site.StandingWater, 54.5, 62.5)
	water.Depth = reads(1.0 / 6)
	y.run(site.Run{}, roots, water)
	y.run(site.Run{Entry: "end", SD: new(unit.Length)}, seen(site.Cracked, 21.5))
	runs := look.Lay(&y.job, &y.plan)
	for i, want := range []string{
		`fine roots at 41' of Line 2, closing 20 %, within 1' 4" of the place shown`, // 1.96 √(0.5² + 0.41²) ft
		`standing water from 54' 6" to 62' 6" of Line 2, 2" deep, within 1' 7" of the place shown`,
	} {
		if got := runs[0].Findings[i].Words; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got, want := runs[1].Findings[0].Words, `cracked at 41' of Line 2 (counter 21' 6"), within 0" of the place shown`; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	y.job.Show.Form = unit.Metres
	if got, want := look.Lay(&y.job, &y.plan)[0].Findings[0].Words, `fine roots at 12.5 m of Line 2, closing 20 %, within 0.4 m of the place shown`; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestCounterDeviation(t *testing.T) {
	fixed, per := ft(0.2), 0.02
	reel := site.Instrument{Name: "reel", Kind: site.CameraCounter, Fixed: &fixed, PerUnit: &per}
	old := site.Instrument{Name: "old reel", Kind: site.CameraCounter}
	for _, c := range []struct {
		name  string
		visit site.Visit
		run   site.Run
		want  unit.Length // at 100 ft
	}{
		{"the default", site.Visit{}, site.Run{}, ft(math.Hypot(0.5, 1))},
		{"the only one", site.Visit{Instruments: []site.Instrument{reel}}, site.Run{}, ft(math.Hypot(0.2, 2))},
		{"one of two, not named", site.Visit{Instruments: []site.Instrument{reel, old}}, site.Run{}, ft(math.Hypot(0.5, 1))},
		{"one of two, named", site.Visit{Instruments: []site.Instrument{old, reel}}, site.Run{Instrument: "reel"}, ft(math.Hypot(0.2, 2))},
		{"stated with the run", site.Visit{Instruments: []site.Instrument{reel}}, site.Run{SD: &fixed}, ft(0.2)},
	} {
		same(t, c.name, look.Deviation(&c.visit, &c.run).At(ft(100)), c.want)
	}
}

func TestNothingAtAll(t *testing.T) {
	if runs := look.Lay(nil, nil); len(runs) != 0 {
		t.Errorf("runs %v", runs)
	}
	if f := look.AtParts(nil, nil); len(f) != 0 {
		t.Errorf("findings %v", f)
	}
	if s := look.SpotAt(nil, nil, "Line 2", 3, 1); s.Known {
		t.Errorf("spot %v", s)
	}
}

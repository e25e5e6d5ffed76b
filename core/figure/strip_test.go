package figure_test

import (
	"testing"

	"undersod/core/figure"
	"undersod/core/level"
	"undersod/core/look"
	"undersod/core/site"
	"undersod/core/unit"
)

func feet(v float64) unit.Length { return unit.Length(v) * unit.Foot }

func written(l unit.Length) *unit.Written {
	return &unit.Written{Text: unit.Style{Form: unit.FeetInches, Denominator: 8}.Format(l), Length: l, Form: unit.FeetInches}
}

func spot(at unit.Length) look.Spot { return look.Spot{Station: at, Counted: true, Known: true} }

// seen is a finding at a distance, or from one to another where to is beyond.
func seen(what site.FindingKind, g site.Grade, from, to float64) look.Finding {
	f := look.Finding{Line: "Line 2", Grade: g, From: spot(feet(from))}
	f.What = what
	f.At = written(feet(from))
	if to > from {
		end := spot(feet(to))
		f.To = &end
	}
	return f
}

// lineTwo is an invented line of 54' 9" with a run of the camera and its fall.
func lineTwo() ([]look.Run, []level.Fall) {
	end := spot(feet(54.75))
	water := seen(site.StandingWater, site.Act, 46.75, 54.75)
	water.Depth = written(1.5 * unit.Inch)
	roots, closed := seen(site.FineRoots, site.Watch, 41, 0), 15.0
	roots.Percent = &closed
	flat, lost := seen(site.Flattened, site.Watch, 22, 24), 30.0
	flat.Percent = &lost
	run := look.Run{
		Findings: []look.Finding{seen(site.JointShifted, site.Note, 10, 0), flat, roots, water, seen(site.LineEndSeen, site.Note, 54.75, 0)},
		Length:   feet(54.75), Known: true, Entry: spot(0), End: &end, Seen: [2]unit.Length{0, feet(54.75)},
		Words: `reached the line end at 54' 9"`,
	}
	run.ID, run.Line, run.Ended, run.Run.Entry, run.Toward = "camera Line 2", "Line 2", site.ReachedEnd, "D-box", "L2 end"
	falls := []level.Fall{
		{Line: "Line 2", From: "D-box", To: "L2 bend", Drop: 1.75 * unit.Inch, Run: feet(7), RunKnown: true, Way: level.Falling, Words: `falls 1 3/4" in 7' 0" (0.25 in/ft, 2.1 %)`},
		{Line: "Line 2", From: "L2 bend", To: "L2 end", Drop: 0.5 * unit.Inch, Run: feet(47.75), RunKnown: true, Way: level.Falling, Words: `falls 1/2" in 47' 9" (0.01 in/ft, 0.1 %)`},
		{Line: "Line 2", From: "D-box", To: "L2 end", Whole: true, Drop: 2.25 * unit.Inch, Run: feet(54.75), RunKnown: true, Way: level.Falling, Words: `falls 2 1/4" in 54' 9" (0.04 in/ft, 0.3 %)`},
	}
	return []look.Run{run}, falls
}

// shortRun is a run that stopped early, and one from the far end back.
func shortRun() []look.Run {
	stop, back := spot(feet(31)), spot(feet(38))
	a := look.Run{
		Findings: []look.Finding{seen(site.Sediment, site.Watch, 12, 20), seen(site.RootMass, site.Act, 31, 0)},
		Length:   feet(60), Known: true, Entry: spot(0), End: &stop, Seen: [2]unit.Length{0, feet(31)}, Words: "stopped at 31' by roots",
	}
	a.ID, a.Line, a.Ended = "camera Line 2", "Line 2", site.StoppedRoots
	b := look.Run{
		Findings: []look.Finding{seen(site.Cracked, site.Watch, 44, 0)},
		Length:   feet(60), Known: true, Entry: spot(feet(60)), End: &back, Seen: [2]unit.Length{feet(38), feet(60)}, Against: true, Words: "stopped at 38' by soil",
	}
	b.ID, b.Line, b.Ended, b.Run.Entry, b.Toward = "camera Line 2 #2", "Line 2", site.StoppedSoil, "L2 end", "D-box"
	return []look.Run{a, b}
}

func TestStrips(t *testing.T) {
	runs, falls := lineTwo()
	bored := feetAndInches(180)
	bored.Bore = 4 * unit.Inch
	check(t, "strip", figure.Strip("Line 2", runs, falls, bored))
	check(t, "strip-narrow", figure.Strip("Line 2", runs, falls, feetAndInches(90)))
	check(t, "strip-two-runs", figure.Strip("Line 2", shortRun(), nil, feetAndInches(180)))
	check(t, "strip-metric", figure.Strip("Line 2", runs, falls, inMetres(170)))
	check(t, "strip-nothing", figure.Strip("Line 9", runs, falls, feetAndInches(180)))
	crowd := runs[0]
	crowd.Findings = nil
	for i := range 40 {
		crowd.Findings = append(crowd.Findings, seen(site.Cracked, site.Grade(1+i%3), 20+float64(i)/3, 0))
	}
	check(t, "strip-crowd", figure.Strip("Line 2", []look.Run{crowd}, falls, feetAndInches(180)))
}

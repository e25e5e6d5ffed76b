package site_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"undersod/core/site"
	"undersod/core/unit"
)

func read(l unit.Length) *unit.Written {
	w := written(l)
	return &w
}

// lookedAt is a sound job with a run, a box, a record and the rest, nothing
// wrong in it.
func lookedAt() site.Job {
	job := sound()
	s, v := &job.Site, &job.Visit
	s.LevelPoints = []site.LevelPoint{{Name: "O1", Place: at(40)}, {Name: "TP", Place: at(41)}}
	v.Readings = append(v.Readings, site.Rod{Taken: site.Taken{ID: "rod", Place: at(23)}, Setup: "s", Point: "O1", On: site.OnInvert, Read: written(1.5)})
	twelve := 12.0
	v.Runs = []site.Run{{ID: "camera Line 1", Line: "Line 1", Entry: "D-box", Toward: "L1 end", Zero: read(0.5), Pushed: 0.01,
		Ended: site.ReachedEnd, EndedAt: read(17), Place: at(50), Findings: []site.Finding{
			{What: site.FineRoots, At: read(9), Place: at(51), Photos: []site.Photo{{File: "photos/a.jpg"}}},
			{What: site.Flattened, At: read(10), To: read(12), Percent: &twelve, Depth: read(0.05), Grade: site.Watch, Place: at(52)}}}}
	v.Boxes = []site.Box{{Part: "D-box", Length: read(0.45), Width: read(0.45), Floor: read(0.2), Water: read(0.19), Place: at(60),
		Rim:     map[site.Edge]unit.Written{site.EdgeNear: written(0)},
		Outlets: []site.Opening{{Line: "Line 1", Bore: 0.1, Rod: "O1", Down: read(0.1), Wall: site.EdgeFar, FromLeft: read(0.2), Place: at(61)}}}}
	v.Photos = []site.Photo{{File: "photos/b.jpg", Of: "D-box", Place: at(70)}}
	s.Record = &site.Record{Date: "1996-08", Lines: 3, Tank: 3.8, Place: at(80),
		Distances: []site.Claim{{From: "A", To: "D-box", Read: written(6), Place: at(81)}},
		Drawing:   &site.Drawing{File: "old.png", SD: 2, Points: []site.DrawnPoint{{Name: "A", X: 1, Y: 2, Place: at(83)}}, Place: at(82)}}
	s.Household = site.Household{Bedrooms: 3, Persons: 4, Hours: append(make([]float64, 23), 1), Place: at(90)}
	s.Care = []site.Care{{Date: "2016", What: "pumped", Place: at(91)}}
	v.Date = "2026-05-14"
	return job
}

func TestWhatIsSoundlyLookedAtHasNoProblem(t *testing.T) {
	job := lookedAt()
	usable, problems := site.Usable(job)
	if len(problems) > 0 {
		t.Errorf("problems %v", problems)
	}
	if !reflect.DeepEqual(usable.Visit.Runs, job.Visit.Runs) || !reflect.DeepEqual(usable.Visit.Boxes, job.Visit.Boxes) ||
		!reflect.DeepEqual(usable.Site.Record, job.Site.Record) {
		t.Error("a sound job was changed")
	}
}

// run, box and so on reach into a job that is to be spoilt.
func run(j *site.Job) *site.Run            { return &j.Visit.Runs[0] }
func seen(j *site.Job) *site.Finding       { return &j.Visit.Runs[0].Findings[0] }
func stretch(j *site.Job) *site.Finding    { return &j.Visit.Runs[0].Findings[1] }
func box(j *site.Job) *site.Box            { return &j.Visit.Boxes[0] }
func outlet(j *site.Job) *site.Opening     { return &j.Visit.Boxes[0].Outlets[0] }
func line(j *site.Job) *site.Line          { return &j.Site.Lines[0] }
func home(j *site.Job) *site.Household     { return &j.Site.Household }
func drawing(j *site.Job) *site.Drawing    { return j.Site.Record.Drawing }
func claim(j *site.Job) *site.Claim        { return &j.Site.Record.Distances[0] }
func percent(j *site.Job, p float64)       { stretch(j).Percent = &p }
func hours(j *site.Job, at int, v float64) { home(j).Hours[at] = v }

func TestEachMistakeOfWhatIsSeenIsTold(t *testing.T) {
	zero := unit.Length(0)
	for _, c := range []struct {
		name   string
		spoil  func(*site.Job)
		words  string
		remark bool
	}{
		{"run of no line", func(j *site.Job) { run(j).Line = "Line 9" }, "name of a line", false},
		{"entry off the path", func(j *site.Job) { run(j).Entry = "h1" }, "line's path: D-box, L1 end", false},
		{"pushed nowhere", func(j *site.Job) { run(j).Toward = "D-box" }, "another point", false},
		{"zero", func(j *site.Job) { run(j).Zero = read(20_000) }, "under 10 km", false},
		{"pushed by half", func(j *site.Job) { run(j).Pushed = 0.6 }, "under 50%", false},
		{"pushed by no number", func(j *site.Job) { run(j).Pushed = math.NaN() }, "under 50%", false},
		{"pushed by much", func(j *site.Job) { run(j).Pushed = 0.2 }, "few per cent", true},
		{"tool", func(j *site.Job) { run(j).Instrument = "spyglass" }, "instrument", false},
		{"run sd", func(j *site.Job) { run(j).SD = &zero }, "above zero", false},
		{"ended", func(j *site.Job) { run(j).Ended = "tea" }, "why the run ended", false},
		{"ended otherwise", func(j *site.Job) { run(j).Ended = site.StoppedOther }, "note", true},
		{"ended before it began", func(j *site.Job) { run(j).EndedAt = read(0.1) }, "at the entry", false},
		{"run twice", func(j *site.Job) { j.Visit.Runs = append(j.Visit.Runs, *run(j)) }, "no other camera run", false},
		{"no footage", func(j *site.Job) { seen(j).At = nil }, "where it was seen", false},
		{"footage below zero", func(j *site.Job) { seen(j).At = read(-3) }, "reading of the counter", false},
		{"footage before the entry", func(j *site.Job) { seen(j).At = read(0.2) }, "at the entry", false},
		{"footage no number", func(j *site.Job) { seen(j).At = read(unit.Length(math.NaN())) }, "reading of the counter", false},
		{"to too far", func(j *site.Job) { stretch(j).To = read(1e9) }, "reading of the counter", false},
		{"to before at", func(j *site.Job) { stretch(j).To = read(4) }, "smaller reading first", true},
		{"beyond the end", func(j *site.Job) { seen(j).At = read(30) }, "where the run ended", true},
		{"what", func(j *site.Job) { seen(j).What = "gnomes" }, "kind of finding", false},
		{"other without a note", func(j *site.Job) { seen(j).What = site.AnotherFinding }, "what was seen", true},
		{"grade", func(j *site.Job) { seen(j).Grade = 9 }, "watch or act", false},
		{"percent above", func(j *site.Job) { percent(j, 101) }, "0 to 100", false},
		{"percent below", func(j *site.Job) { percent(j, -1) }, "0 to 100", false},
		{"depth", func(j *site.Job) { stretch(j).Depth = read(3) }, "2 m", false},
		{"picture outside", func(j *site.Job) { seen(j).Photos[0].File = "../a.jpg" }, "without ..", false},
		{"picture from the root", func(j *site.Job) { j.Visit.Photos[0].File = "/etc/a.jpg" }, "without ..", false},
		{"picture of nothing", func(j *site.Job) { j.Visit.Photos[0].Of = "Moon" }, "a part, a line or a feature", false},
		{"footage at a part", func(j *site.Job) { j.Site.Parts[0].Findings = []site.Finding{{What: site.Cracked, At: read(2)}} }, "at a part", false},
		{"box of no part", func(j *site.Job) { box(j).Part = "Shed" }, "name of a part", false},
		{"box of a lid", func(j *site.Job) { j.Site.Parts[0].Kind = site.Lid }, "distribution box or a drop box", false},
		{"box twice", func(j *site.Job) { j.Visit.Boxes = append(j.Visit.Boxes, *box(j)) }, "no other box", false},
		{"box of no length", func(j *site.Job) { box(j).Length = read(0) }, "above zero", false},
		{"deep floor", func(j *site.Job) { box(j).Floor = read(30) }, "under 10 m", false},
		{"water under the floor", func(j *site.Job) { box(j).Water = read(0.3) }, "above the floor", true},
		{"rim", func(j *site.Job) { box(j).Rim = map[site.Edge]unit.Written{site.EdgeNear: written(50)} }, "under 10 m", false},
		{"outlet of no line", func(j *site.Job) { outlet(j).Line = "Line 9" }, "name of a line", false},
		{"outlet twice", func(j *site.Job) { box(j).Outlets = append(box(j).Outlets, *outlet(j)) }, "once", false},
		{"inlet is an outlet", func(j *site.Job) { box(j).Inlet = &site.Opening{Line: "Line 1"} }, "another line", true},
		{"bore below zero", func(j *site.Job) { outlet(j).Bore = -0.1 }, "inside diameter", false},
		{"bore of a culvert", func(j *site.Job) { outlet(j).Bore = 4 }, "under 1 m", false},
		{"large bore", func(j *site.Job) { outlet(j).Bore = 0.5 }, "12 in", true},
		{"invert under the floor", func(j *site.Job) { outlet(j).Down = read(0.3) }, "above the floor", true},
		{"opening sd", func(j *site.Job) { outlet(j).SD = &zero }, "above zero", false},
		{"narrowed", func(j *site.Job) { outlet(j).Narrowed = 1.2 }, "0% to 100%", false},
		{"rod nowhere", func(j *site.Job) { outlet(j).Rod = "O9" }, "level point", false},
		{"rod that read nothing", func(j *site.Job) { outlet(j).Rod = "TP" }, "rod reading on its invert", true},
		{"beside the wall", func(j *site.Job) { outlet(j).FromLeft = read(0.9) }, "place on the wall", true},
		{"left of the corner", func(j *site.Job) { outlet(j).FromLeft = read(-0.1) }, "from zero", false},
		{"level point is a point", func(j *site.Job) { j.Site.LevelPoints[1].Name = "A" }, "no point of the site", false},
		{"level point twice", func(j *site.Job) { j.Site.LevelPoints[1].Name = "O1" }, "no other level point", false},
		{"rod on nothing", func(j *site.Job) { j.Site.LevelPoints = nil }, "point or of a level point", false},
		{"date of the record", func(j *site.Job) { j.Site.Record.Date = "August" }, "a year as 1996", false},
		{"month 13", func(j *site.Job) { j.Site.Record.Date = "1996-13" }, "a year as 1996", false},
		{"lines below zero", func(j *site.Job) { j.Site.Record.Lines = -1 }, "whole number", false},
		{"tank below zero", func(j *site.Job) { j.Site.Record.Tank = -1 }, "above zero", false},
		{"spacing of zero", func(j *site.Job) { j.Site.Record.Spacing = read(0) }, "above zero", false},
		{"distance of no point", func(j *site.Job) { claim(j).To = "Moon" }, "name of a point", false},
		{"distance to itself", func(j *site.Job) { claim(j).To = "A" }, "two different", false},
		{"distance of zero", func(j *site.Job) { claim(j).Read = written(0) }, "above zero", false},
		{"drawn point of nothing", func(j *site.Job) { drawing(j).Points[0].Name = "Moon" }, "name of a point", false},
		{"drawn at no number", func(j *site.Job) { drawing(j).Points[0].X = math.NaN() }, "two numbers", false},
		{"drawing sd", func(j *site.Job) { drawing(j).SD = -2 }, "own units", false},
		{"drawing outside", func(j *site.Job) { drawing(j).File = "../old.png" }, "without ..", false},
		{"23 hours", func(j *site.Job) { home(j).Hours = home(j).Hours[1:] }, "24 numbers", false},
		{"hour below zero", func(j *site.Job) { hours(j, 3, -1) }, "zero or more", false},
		{"no hour at all", func(j *site.Job) { hours(j, 23, 0) }, "24 numbers", false},
		{"persons below zero", func(j *site.Job) { home(j).Persons = -1 }, "whole number", false},
		{"percolation", func(j *site.Job) { j.Site.Soil.Percolation = -1 }, "above zero", false},
		{"date of care", func(j *site.Job) { j.Site.Care[0].Date = "last year" }, "a year as 1996", false},
		{"care to come", func(j *site.Job) { j.Site.Care[0].Date = "2031" }, "before the visit", true},
		{"porosity", func(j *site.Job) { line(j).Porosity = 1.4 }, "under 100%", false},
		{"trench of no depth", func(j *site.Job) { line(j).TrenchDepth = read(0) }, "above zero", false},
		{"stone", func(j *site.Job) { line(j).StoneBelow = read(-1) }, "zero or more", false},
		{"installed", func(j *site.Job) { line(j).Installed = "96" }, "a year as 1996", false},
		{"trunk", func(j *site.Job) { j.Site.Features[0].Trunk = -1 }, "above zero", false},
		{"capacity", func(j *site.Job) { j.Site.Parts[0].Capacity = unit.Volume(math.NaN()) }, "above zero", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			job := lookedAt()
			c.spoil(&job)
			usable, problems := site.Usable(job)
			all, hit := "", false
			for _, p := range problems {
				all += p.Error() + "\n"
				hit = hit || strings.Contains(p.Error(), c.words) && (p.Severity == site.Remark) == c.remark
			}
			if !hit {
				t.Errorf("%q is not told, a remark %v: %q", c.words, c.remark, all)
			}
			for _, p := range site.Validate(usable) {
				kept := strings.Contains(c.name, "path") || strings.Contains(c.name, "nowhere") // kept as written
				if p.Severity == site.Mistake && !kept {
					t.Errorf("the usable job is still wrong: %v", p)
				}
			}
		})
	}
}

// A bad finding keeps its run, and a bad entry keeps what was seen.
func TestWhatIsRightBesideAMistakeStays(t *testing.T) {
	job := lookedAt()
	seen(&job).At = read(-3)
	run(&job).Entry = "h1"
	usable, problems := site.Usable(job)
	if len(problems) != 2 || len(usable.Visit.Runs) != 1 || len(usable.Visit.Runs[0].Findings) != 1 || usable.Visit.Runs[0].Entry != "h1" {
		t.Errorf("runs %+v, problems %v", usable.Visit.Runs, problems)
	}
	job = lookedAt()
	seen(&job).What, seen(&job).Note = "gnomes", "two"
	stretch(&job).To = read(4)
	usable, _ = site.Usable(job)
	if f := usable.Visit.Runs[0].Findings; f[0].What != site.AnotherFinding || f[0].Note != "gnomes: two" {
		t.Errorf("a word nobody knows is lost: %+v", f[0])
	} else if f[1].At.Length != 4 || f[1].To.Length != 10 {
		t.Errorf("a stretch written backwards runs from %v to %v", f[1].At.Length, f[1].To.Length)
	}
}

func TestWhatIsSeenIsLeftAloneInTheGivenJob(t *testing.T) {
	job, same := lookedAt(), lookedAt()
	for _, j := range []*site.Job{&job, &same} {
		seen(j).At, outlet(j).Narrowed, j.Site.Record.Lines, line(j).Porosity = read(-3), 3, -1, 7
		drawing(j).SD, box(j).Length, seen(j).Photos[0].File = -1, read(0), "../x"
		j.Site.Care = append(j.Site.Care, site.Care{Date: "2001", What: "pumped"})
		j.Site.Features[0].Trunk = -1
	}
	site.Usable(job)
	if !reflect.DeepEqual(job, same) {
		t.Error("the given job was changed")
	}
}

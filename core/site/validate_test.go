package site_test

import (
	"reflect"
	"strings"
	"testing"

	"undersod/core/site"
	"undersod/core/unit"
)

func written(l unit.Length) unit.Written { return unit.Written{Text: "as written", Length: l} }

func at(line int) site.Place { return site.Place{File: "job", Line: line, Column: 1} }

// sound is a job with nothing wrong in it.
func sound() site.Job {
	var job site.Job
	for i, name := range []site.Name{"A", "B", "C", "D"} {
		job.Site.Points = append(job.Site.Points, site.Point{Name: name, Role: site.RoleCorner, Place: at(i + 1)})
	}
	for i, name := range []site.Name{"D-box", "L1 end", "h1"} {
		job.Site.Points = append(job.Site.Points, site.Point{Name: name, Role: site.RolePart, Place: at(i + 5)})
	}
	turns := []site.BuildingTurn{site.TurnRight, site.TurnRight, site.TurnRight, site.TurnRight}
	job.Site.Buildings = []site.Building{{Name: "House", Corners: []site.Name{"A", "B", "C", "D"},
		Sides: []unit.Written{written(13), written(8)}, Turns: turns, Place: at(10)}}
	job.Site.Parts = []site.Part{{Name: "D-box", Kind: site.DistributionBox, Place: at(11)}}
	job.Site.Lines = []site.Line{{Name: "Line 1", Kind: site.DrainLine, Path: []site.Name{"D-box", "L1 end"}, Place: at(12)}}
	job.Site.Features = []site.Feature{{Name: "Maple", Kind: site.Tree, Points: []site.Name{"h1"}, Place: at(13)}}
	job.Datum = site.Datum{Kind: site.DatumBaseline, Mark: "A", Toward: "B", Place: at(14)}
	job.Visit.Instruments = []site.Instrument{{Name: "steel", Kind: site.SteelTape, Place: at(15)}}
	job.Visit.Readings = []site.Reading{
		site.Tie{Taken: site.Taken{ID: "tie", Instrument: "steel", Place: at(20)}, From: "A", To: "D-box", Read: written(7)},
		site.Depth{Taken: site.Taken{ID: "depth", Place: at(21)}, Point: "D-box"},
		site.Footage{Taken: site.Taken{ID: "footage", Place: at(22)}, Line: "Line 1", To: "L1 end", Read: written(16)},
	}
	return job
}

func TestSoundJobHasNoProblem(t *testing.T) {
	job := sound()
	usable, problems := site.Usable(job)
	if len(problems) > 0 {
		t.Errorf("problems %v", problems)
	}
	if !reflect.DeepEqual(usable, job) {
		t.Errorf("a sound job was changed to %+v", usable)
	}
}

func side(kind site.SideKind, from, to site.Name) site.Side {
	return site.Side{Kind: kind, From: from, To: to, Text: "hint", Place: at(30)}
}

func addTie(job *site.Job, t site.Tie) {
	t.ID, t.Place = "wrong", at(30)
	job.Visit.Readings = append(job.Visit.Readings, t)
}

func TestEachMistakeIsTold(t *testing.T) {
	zero, below := unit.Length(0), unit.Angle(-1)
	for _, c := range []struct {
		name  string
		spoil func(*site.Job)
		words string
	}{
		{"point twice", func(j *site.Job) { j.Site.Points = append(j.Site.Points, site.Point{Name: "A", Place: at(30)}) }, "no other point has"},
		{"three corners", func(j *site.Job) { j.Site.Buildings[0].Corners = []site.Name{"A", "B", "C"} }, "at least four"},
		{"corner twice", func(j *site.Job) { j.Site.Buildings[0].Corners = []site.Name{"A", "B", "C", "A"} }, "once"},
		{"unknown corner", func(j *site.Job) { j.Site.Buildings[0].Corners = []site.Name{"A", "B", "C", "Z"} }, "Z"},
		{"three sides", func(j *site.Job) { j.Site.Buildings[0].Sides = make([]unit.Written, 3) }, "4 corners"},
		{"side of zero", func(j *site.Job) { j.Site.Buildings[0].Sides = []unit.Written{written(0), written(1)} }, "above zero"},
		{"turns", func(j *site.Job) { j.Site.Buildings[0].Turns = []site.BuildingTurn{1, 1, 1, -1} }, "come round"},
		{"no turns", func(j *site.Job) { j.Site.Buildings[0].Turns = nil }, "no turn"},
		{"side sd", func(j *site.Job) { j.Site.Buildings[0].SideSD = &zero }, "above zero"},
		{"square sd", func(j *site.Job) { j.Site.Buildings[0].Square = &below }, "above zero"},
		{"short path", func(j *site.Job) { j.Site.Lines[0].Path = []site.Name{"D-box"} }, "two points"},
		{"path to nowhere", func(j *site.Job) { j.Site.Lines[0].Path = []site.Name{"D-box", "Z"} }, "Z"},
		{"path twice", func(j *site.Job) { j.Site.Lines[0].Path = []site.Name{"D-box", "D-box"} }, "once"},
		{"area", func(j *site.Job) { j.Site.Features[0].Closed = true }, "three points"},
		{"feature nowhere", func(j *site.Job) { j.Site.Features[0].Points = nil }, "one point"},
		{"datum", func(j *site.Job) { j.Datum.Toward = "A" }, "two different"},
		{"datum nowhere", func(j *site.Job) { j.Datum.Mark = "Z" }, "Z"},
		{"instrument sd", func(j *site.Job) { j.Visit.Instruments[0].Fixed = &zero }, "above zero"},
		{"hints", func(j *site.Job) {
			j.Site.Points[4].Sides = []site.Side{side(site.LeftOf, "A", "B"), side(site.LeftOf, "B", "A")}
		}, "agree"},
		{"no wall", func(j *site.Job) { j.Site.Points[4].Sides = []site.Side{side(site.Outside, "A", "C")} }, "wall"},
		{"hit twice", func(j *site.Job) {
			j.Site.Parts[0].Outline = &site.Outline{Hits: []site.Hit{{Point: "h1"}, {Point: "h1"}}}
		}, "once"},
		{"zero tie", func(j *site.Job) { addTie(j, site.Tie{From: "A", To: "D-box", Read: written(0)}) }, "above zero"},
		{"negative tie", func(j *site.Job) { addTie(j, site.Tie{From: "A", To: "D-box", Read: written(-2)}) }, "above zero"},
		{"huge tie", func(j *site.Job) { addTie(j, site.Tie{From: "A", To: "D-box", Read: written(10_000)}) }, "under 10 km"},
		{"tie to itself", func(j *site.Job) { addTie(j, site.Tie{From: "A", To: "A", Read: written(2)}) }, "two different"},
		{"tie to nowhere", func(j *site.Job) { addTie(j, site.Tie{From: "A", To: "Z", Read: written(2)}) }, "Z"},
		{"tie sd", func(j *site.Job) { addTie(j, site.Tie{From: "A", To: "D-box", Read: written(2), SD: &zero}) }, "above zero"},
		{"instrument", func(j *site.Job) {
			addTie(j, site.Tie{Taken: site.Taken{Instrument: "steel"}, From: "A", To: "D-box", Read: written(2)})
			j.Visit.Instruments = nil
		}, "instrument"},
		{"reading twice", func(j *site.Job) { j.Visit.Readings = append(j.Visit.Readings, j.Visit.Readings[0]) }, "no other reading"},
		{"offset", func(j *site.Job) {
			j.Visit.Readings = append(j.Visit.Readings, site.Offset{Taken: site.Taken{ID: "o"}, From: "A", To: "A", Point: "D-box"})
		}, "third point"},
		{"footage to the start", func(j *site.Job) {
			j.Visit.Readings[2] = site.Footage{Line: "Line 1", To: "D-box", Read: written(2)}
		}, "after the line's start"},
		{"footage off the line", func(j *site.Job) {
			j.Visit.Readings[2] = site.Footage{Line: "Line 1", To: "h1", Read: written(2)}
		}, "point of the line's path"},
		{"magnetic", func(j *site.Job) {
			j.Visit.Readings = append(j.Visit.Readings, site.Bearing{Taken: site.Taken{ID: "b"}, From: "A", To: "h1", Magnetic: true})
		}, "declination"},
	} {
		t.Run(c.name, func(t *testing.T) {
			job := sound()
			c.spoil(&job)
			problems := site.Validate(job)
			if len(problems) == 0 {
				t.Fatal("nothing is told")
			}
			var all strings.Builder
			for _, p := range problems {
				all.WriteString(p.Error() + "\n")
			}
			if !strings.Contains(all.String(), c.words) {
				t.Errorf("%q does not say %q", all.String(), c.words)
			}
			usable, _ := site.Usable(job)
			for _, p := range site.Validate(usable) {
				if p.Severity == site.Mistake && !strings.Contains(c.name, "tie") && c.name != "offset" {
					t.Errorf("the usable job is still wrong: %v", p)
				}
			}
		})
	}
}

func TestMagneticBearingIsARemarkToldOnce(t *testing.T) {
	job := sound()
	for _, id := range []site.ReadingID{"b1", "b2"} {
		job.Visit.Readings = append(job.Visit.Readings, site.Bearing{Taken: site.Taken{ID: id}, From: "A", To: "h1", Magnetic: true})
	}
	problems := site.Validate(job)
	if len(problems) != 1 || problems[0].Severity != site.Remark {
		t.Errorf("problems %v", problems)
	}
	declination := unit.Angle(0)
	job.Visit.Declination = &declination
	if problems := site.Validate(job); len(problems) != 0 {
		t.Errorf("with a declination: %v", problems)
	}
}

func TestImpossibleTieStaysAsWritten(t *testing.T) {
	job := sound()
	addTie(&job, site.Tie{From: "A", To: "D-box", Read: written(-2)})
	usable, problems := site.Usable(job)
	if len(usable.Visit.Readings) != 4 || len(problems) != 1 || problems[0].Place != at(30) {
		t.Errorf("%d readings, problems %v", len(usable.Visit.Readings), problems)
	}
}

func TestFootageOfALineLeftOutIsToldOnce(t *testing.T) {
	job := sound()
	job.Site.Lines[0].Path = []site.Name{"D-box"}
	usable, problems := site.Usable(job)
	if len(problems) != 1 || len(usable.Visit.Readings) != 2 {
		t.Errorf("%d readings, problems %v", len(usable.Visit.Readings), problems)
	}
}

func TestUsableLeavesTheGivenJobAlone(t *testing.T) {
	job := sound()
	zero := unit.Length(0)
	job.Visit.Instruments[0].Fixed = &zero
	job.Site.Points[4].Sides = []site.Side{side(site.Outside, "A", "C")}
	job.Site.Parts[0].Outline = &site.Outline{Hits: []site.Hit{{Point: "Z"}}}
	site.Usable(job)
	if job.Visit.Instruments[0].Fixed == nil || len(job.Site.Points[4].Sides) != 1 || job.Site.Parts[0].Outline == nil {
		t.Error("the given job was changed")
	}
}

func TestProblemInOneLine(t *testing.T) {
	p := site.Problem{Place: at(3), Subject: "tie", Found: "x", Expected: "a length", Example: "3 ft", Advice: "Look"}
	if got, want := p.Error(), `job:3:1: tie: found "x"; expected a length, for example "3 ft". Look`; got != want {
		t.Errorf("got %s", got)
	}
}

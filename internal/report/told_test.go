package report_test

import (
	"strings"
	"testing"

	"undersod/core/card"
	"undersod/core/caution"
	"undersod/core/hydraulic"
	"undersod/core/judge"
	"undersod/core/rules"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/render"
	"undersod/internal/report"
)

// judged is an example job with its own judgement.
func judged(t *testing.T, name string) report.Input {
	t.Helper()
	job, plan := yard(t, name)
	return report.Input{Job: job, Plan: plan, Judgement: judge.Judge(job, plan, rules.Default()), Metrics: render.Metrics()}
}

func county(t *testing.T, in report.Input) string {
	t.Helper()
	pages, err := report.County(in)
	if err != nil {
		t.Fatal(err)
	}
	return words(pages)
}

func owner(t *testing.T, in report.Input) string {
	t.Helper()
	pages, err := report.Owner(in)
	if err != nil {
		t.Fatal(err)
	}
	return words(pages)
}

// start is the beginning of a text, which a table does not break.
func start(text string) string { return text[:min(len(text), 20)] }

func TestTheCountyPacketHasTheCautions(t *testing.T) {
	in := judged(t, "quarry-hollow.yaml")
	text := county(t, in)
	for _, w := range caution.Places() {
		for _, c := range caution.For(w) {
			if has := strings.Contains(text, start(c.Words)); has == (w == caution.Pump) {
				t.Errorf("%s: %q is told: %v", w, c.Words, has)
			}
		}
	}
	in.Job.Site.Parts = append(in.Job.Site.Parts, site.Part{Name: "Pump tank", Kind: site.PumpTank})
	text = county(t, in)
	for _, c := range caution.For(caution.Pump) {
		if !strings.Contains(text, start(c.Words)) || !strings.Contains(text, start(c.Source)) {
			t.Errorf("with a pump tank %q is not told", c.Words)
		}
	}
}

func TestACardOfATankWarnsOfGasAndWires(t *testing.T) {
	in := cardInput(t)
	add := func(name site.Name, kind site.PartKind) {
		in.Job.Site.Parts = append(in.Job.Site.Parts, site.Part{Name: name, Kind: kind})
	}
	add("Pump tank", site.PumpTank)
	add("Riser", site.Lid)
	tests := []struct {
		part       site.Name
		gas, wires bool
	}{{"D-box", false, false}, {"Tank outlet lid", true, false}, {"Pump tank", true, true}, {"Riser", true, true}}
	for _, tt := range tests {
		s := makeCard(t, in, card.Card{Part: tt.part})
		text := words([]sheet.Scene{s})
		if got := strings.Contains(text, "19.5 %") && strings.Contains(text, "296-155-20301"); got != tt.gas {
			t.Errorf("%s: gas with its number and source: %v, expected %v", tt.part, got, tt.gas)
		}
		if got := strings.Contains(text, "live wires"); got != tt.wires {
			t.Errorf("%s: live wires: %v, expected %v", tt.part, got, tt.wires)
		}
	}
}

// Columns and the words beside them print a level alike.
func TestSmallLevelsArePrintedAlike(t *testing.T) {
	in := rich(t)
	text := county(t, in)
	if want := `raise Line 3 by 1/4"`; !strings.Contains(text, want) {
		t.Errorf("the packet does not say %q", want)
	}
	in.Job.Show.Form = unit.Metres
	if text := county(t, in); !strings.Contains(text, "raise Line 3 by 6 mm") || !strings.Contains(text, "102 mm") {
		t.Error("a metric packet does not print turns and bores in millimetres")
	}
}

func TestTheCountyPacketNamesItsSources(t *testing.T) {
	text := county(t, rich(t))
	for _, want := range []string{"status: not read in", "Measured or entered", "half of the last place"} {
		if !strings.Contains(text, want) {
			t.Errorf("the packet does not say %q", want)
		}
	}
	if strings.Count(text, "An invented county") < 5 { // flow, area, field, tank, pumping
		t.Error("an answer of the table has no source")
	}
}

// The sewer's exit of the example is fixed by offsets along a wall.
func TestAnOffsetTiesAPart(t *testing.T) {
	if strings.Contains(county(t, judged(t, "quarry-hollow.yaml")), "not tied to two marks: Sewer exit") {
		t.Error("a part with wall offsets is said not to be tied to two marks")
	}
}

func TestASiteIsNamedOnce(t *testing.T) {
	for _, tt := range []struct{ name, address, want string }{
		{"Birch 4", "Birch 4, Alder", "Birch 4, Alder"}, {"Birch 4, Alder", "Birch 4", "Birch 4, Alder"},
		{"Mill", "Birch 4", "Mill, Birch 4"}, {"", "Birch 4", "Birch 4"}, {"Mill", "", "Mill"},
	} {
		in := report.Input{Metrics: render.Metrics(), Job: &site.Job{Site: site.Site{Name: tt.name, Address: tt.address}}}
		if text := owner(t, in); !strings.Contains(text, "Your septic system "+tt.want+" The date") {
			t.Errorf("%q at %q is not named %q", tt.name, tt.address, tt.want)
		}
	}
}

func TestTheOwnersDrawingLeavesNothingOut(t *testing.T) {
	for _, name := range []string{"quarry-hollow.yaml", "metric.yaml"} {
		if text := owner(t, judged(t, name)); strings.Contains(text, "more in the check") {
			t.Errorf("%s: the owner is sent to a check that he does not have", name)
		}
	}
}

// The owner is not told what the crew has to do as if it were his, and not what
// to write into a job file.
func TestTheOwnerIsToldWhatIsHis(t *testing.T) {
	in := rich(t)
	in.Judgement.Actions = append(in.Judgement.Actions, judge.Action{Urgency: judge.Now, What: "Repeat the level readings.", Why: "Off by 1\"; the daily flow is not known; enter household: bedrooms."})
	in.Judgement.Actions = append(in.Judgement.Actions, judge.Action{Urgency: judge.Now, What: "Tank pipe: open it.", About: []site.Name{"Tank pipe"}})
	in.Judgement.Missing = []string{"Age of Tank: when it was installed is not known; enter installed: a year will do. Ask."}
	text := owner(t, in)
	for _, want := range []string{"Your contractor still has to: repeat the level readings.", "Your contractor still has to: Tank pipe: open it.", "when it was installed is not known. Ask."} {
		if !strings.Contains(text, want) {
			t.Errorf("the owner is not told %q", want)
		}
	}
	if strings.Contains(text, "enter installed") || strings.Contains(text, "enter household") {
		t.Error("the owner is asked to enter something")
	}
}

func TestALineOutOfUseIsToldToTheOwner(t *testing.T) {
	in := rich(t)
	in.Job.Site.Lines[len(in.Job.Site.Lines)-1].OutOfUse = true
	idle := string(in.Job.Site.Lines[len(in.Job.Site.Lines)-1].Name)
	text := owner(t, in)
	if !strings.Contains(text, "With "+idle+" out of use") || !strings.Contains(text, start(in.Judgement.Storage.Words[0])) {
		t.Error("how the field does without a line is not told")
	}
	if !strings.Contains(county(t, in), "Out of use: "+idle) {
		t.Error("the packet does not say which line is out of use")
	}
	in.Judgement.Storage = nil
	if !strings.Contains(county(t, in), "could not be reckoned") {
		t.Error("the packet does not say that the field was not reckoned")
	}
}

// Equal levels come first, as published rules ask; a setting by area is told
// where it is another one, and none where the readings cannot tell.
func TestTheSettingOfABoxIsToldOnce(t *testing.T) {
	in := rich(t)
	b := &in.Judgement.Boxes[0]
	same := *b.Correction
	b.Level = &same
	const byLevel, byArea, none = "To set the outlets level", "by the area of each line", "cannot tell them from level"
	tell := func(level, area, nothing bool) {
		t.Helper()
		text := county(t, in)
		for want, is := range map[string]bool{byLevel: level, byArea: area, none: nothing} {
			if strings.Contains(text, want) != is {
				t.Errorf("%q is told: %v, expected %v", want, !is, is)
			}
		}
	}
	tell(true, false, false)
	same.Turns = []hydraulic.Turn{{Name: "Line 3", By: unit.Inch}}
	tell(true, true, false)
	b.SpreadSD = unit.Inch
	tell(false, false, true)
}

// TestThePlaceOfAPhotoIsToldWhereItIsKept: the place that a camera noted stands
// under its picture if it was kept, and nowhere if it was not.
func TestThePlaceOfAPhotoIsToldWhereItIsKept(t *testing.T) {
	const where = "12.50500 N, 98.00000 W"
	for _, kept := range []bool{false, true} {
		in := rich(t)
		p := in.Photos["yard.jpg"]
		if kept {
			p.Location = where
		}
		in.Photos["yard.jpg"] = p
		for name, text := range map[string]string{"owner": owner(t, in), "county": county(t, in)} {
			if told := strings.Contains(text, "98.00000"); told != kept {
				t.Errorf("%s: kept %v, told %v", name, kept, told)
			}
		}
	}
}

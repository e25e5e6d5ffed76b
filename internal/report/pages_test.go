package report_test

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/card"
	"undersod/core/judge"
	"undersod/core/look"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/photo"
	"undersod/internal/render"
	"undersod/internal/report"
)

// area is an upright rectangle on the paper.
type area struct {
	x0, y0, x1, y1 sheet.MM
	text           string
}

func areaOf(t sheet.Text) area {
	m := render.Metrics()
	w := m.Advance(t.Text, t.Weight, t.Size)
	x := t.At.X
	switch t.Align {
	case sheet.AlignMiddle:
		x -= w / 2
	case sheet.AlignRight:
		x -= w
	}
	return area{x, t.At.Y - m.Ascent(t.Weight, t.Size), x + w, t.At.Y + m.Descent(t.Weight, t.Size), t.Text}
}

// checkPage returns what breaks a promise about one page: a text that leaves
// it, lies on another or is too small to read, a picture that is out of shape.
// Sheets are held by tests of their own package.
func checkPage(s sheet.Scene) []string {
	const least sheet.MM = 1e-6
	var bad []string
	var texts []area
	for _, l := range s.Layers {
		for _, shape := range l.Shapes {
			switch v := shape.(type) {
			case sheet.Text:
				a := areaOf(v)
				if !(a.x0 >= -least && a.y0 >= -least && a.x1 <= s.Width+least && a.y1 <= s.Height+least) {
					bad = append(bad, fmt.Sprintf("%.40q leaves the page", v.Text))
				}
				if v.Size < 1.6 {
					bad = append(bad, fmt.Sprintf("%.40q is only %.2f mm high", v.Text, v.Size))
				}
				if v.Turn == 0 {
					texts = append(texts, a)
				}
			case sheet.Image:
				bad = append(bad, checkImage(s, v)...)
			}
		}
	}
	for i, a := range texts {
		for _, b := range texts[i+1:] {
			if a.x0 < b.x1-least && b.x0 < a.x1-least && a.y0 < b.y1-least && b.y0 < a.y1-least {
				bad = append(bad, fmt.Sprintf("%.40q lies on %.40q", a.text, b.text))
			}
		}
	}
	if len(texts) < 3 { // the footer has two
		bad = append(bad, "the page is empty")
	}
	return bad
}

func checkImage(s sheet.Scene, v sheet.Image) []string {
	var bad []string
	if v.At.X < 0 || v.At.Y < 0 || v.At.X+v.Width > s.Width || v.At.Y+v.Height > s.Height {
		bad = append(bad, "a picture leaves the page")
	}
	if ratio := float64(v.Width/v.Height) * float64(v.Picture.High) / float64(v.Picture.Wide); math.Abs(ratio-1) > 1e-9 {
		bad = append(bad, fmt.Sprintf("a picture is drawn out by %v", ratio))
	}
	return bad
}

// ours tells whether a page was set by this package.
func ours(s sheet.Scene) bool { return s.Layers[0].Name == "page" || s.Layers[0].Name == "card" }

func checkPages(t *testing.T, name string, pages []sheet.Scene, most int) {
	t.Helper()
	if len(pages) == 0 || len(pages) > most {
		t.Errorf("%s has %d pages, expected 1 to %d", name, len(pages), most)
	}
	for i, p := range pages {
		if !ours(p) {
			continue
		}
		for _, b := range checkPage(p) {
			t.Errorf("%s, page %d: %s", name, i+1, b)
		}
	}
}

func words(pages []sheet.Scene) string {
	var b strings.Builder
	for _, p := range pages {
		for _, l := range p.Layers {
			for _, s := range l.Shapes {
				if t, ok := s.(sheet.Text); ok {
					b.WriteString(t.Text + " ")
				}
			}
		}
	}
	return b.String()
}

// cases are inputs that each lack or overdo something.
func cases(t *testing.T) map[string]report.Input {
	m := render.Metrics()
	job, plan := yard(t, "quarry-hollow.yaml")
	out := map[string]report.Input{
		"empty": {Metrics: m}, "job": {Metrics: m, Job: job}, "plan": {Metrics: m, Plan: plan},
		"no judgement": {Metrics: m, Job: job, Plan: plan, Mistakes: 3},
		"empty plan":   {Metrics: m, Job: job, Plan: &adjust.Plan{}, Judgement: &judge.Judgement{}},
		"rich":         rich(t), "many photos": manyPhotos(t), "hostile": hostile(t), "odd numbers": oddNumbers(t),
	}
	bare := rich(t)
	bare.Judgement.Storage, bare.Judgement.Old, bare.Judgement.Added, bare.Photos, bare.Unreadable = nil, nil, nil, nil, nil
	out["nothing prepared"] = bare
	for _, name := range []string{"metric.yaml", "field-day-of-mistakes.yaml", "interrupted-visit.yaml"} {
		j, p := yard(t, name)
		out[name] = report.Input{Metrics: m, Job: j, Plan: p}
	}
	for _, name := range []string{"quarry-hollow.yaml", "second-dwelling.yaml", "metric.yaml"} {
		out["planned on "+name] = planned(t, name)
	}
	return out
}

func manyPhotos(t *testing.T) report.Input {
	in := rich(t)
	one := picture(t, 64, 48)
	for i := range 40 {
		name := fmt.Sprintf("more-%02d.jpg", i)
		in.Photos[name] = photo.Prepared{File: name, Picture: one}
	}
	in.Photos["tower.jpg"] = photo.Prepared{Picture: &sheet.Picture{Wide: 3, High: 4000, JPEG: one.JPEG}}
	in.Photos["fence.jpg"] = photo.Prepared{Picture: &sheet.Picture{Wide: 4000, High: 3, JPEG: one.JPEG}}
	in.Photos["nothing.jpg"] = photo.Prepared{}
	return in
}

// hostile has texts no one should write, in every place.
func hostile(t *testing.T) report.Input {
	in := rich(t)
	long := strings.Repeat("W", 700)
	poem := strings.Repeat("a few words\nand \x00 more, \u202eturned, ü, 漢字, \xff ", 60)
	s, v := &in.Job.Site, &in.Job.Visit
	s.Name, s.Address, s.Owner, s.Permit = long, poem, long, poem
	v.By, v.Licence, v.Date, v.Notes = poem, long, "the day after", []string{long, poem, ""}
	j := in.Judgement
	j.Fine, j.Missing = []string{long, poem, "", " "}, []string{poem, long}
	for i := range j.Actions {
		j.Actions[i].What, j.Actions[i].Why, j.Actions[i].Urgency = poem, long, judge.Urgency(i*90)
	}
	j.Permit[0].What, j.Permit[1].Words, j.Capacity.FieldWords = long, poem, poem
	for i := range j.Reminders {
		j.Reminders[i].Words = poem
	}
	in.Unreadable["missing.heic"] = poem
	v.Photos = append(v.Photos, site.Photo{File: "yard.jpg", Words: poem}, site.Photo{File: long + ".jpg"})
	return in
}

func oddNumbers(t *testing.T) report.Input {
	in := rich(t)
	nan, inf := unit.Length(math.NaN()), unit.Length(math.Inf(1))
	for i := range in.Plan.Points {
		in.Plan.Points[i].Ellipse.Radius = []unit.Length{nan, inf, -1}[i%3]
	}
	j := in.Judgement
	j.Boxes[0].Outlets[1].At, j.Boxes[0].Spread, j.Levels.Heights[1].At = nan, inf, inf
	j.Storage.Now.Courses[0].Highest, j.Storage.Now.Courses[0].HighestAt = nan, -5
	j.Runs[0].Findings[0].From.Station, j.Runs[0].Findings[0].From.Radius = nan, inf
	j.Runs = append(j.Runs, look.Run{})
	j.Parts = append(j.Parts, look.Finding{})
	j.Boxes = append(j.Boxes, judge.Box{})
	return in
}

func TestEveryReportHoldsItsPromises(t *testing.T) {
	for name, in := range cases(t) {
		owner, err := report.Owner(in)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		county, err := report.County(in)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		checkPages(t, name+", owner", owner, 30)
		checkPages(t, name+", county", county, 40)
		for i, p := range owner {
			if want := fmt.Sprintf("page %d of %d", i+1, len(owner)); !strings.Contains(words([]sheet.Scene{p}), want) {
				t.Errorf("%s: page %d does not say %q", name, i+1, want)
			}
		}
	}
}

func TestTheOwnersReportIsShort(t *testing.T) {
	for _, name := range []string{"rich", "no judgement"} {
		owner, err := report.Owner(cases(t)[name])
		if err != nil || len(owner) > 5 {
			t.Errorf("%s: %d pages, error %v; expected at most 5 with the drawing and the photos", name, len(owner), err)
		}
	}
}

func TestSameInputSamePages(t *testing.T) {
	a, b := map[string]report.Input{"rich": rich(t)}, map[string]report.Input{"rich": rich(t)}
	for _, name := range []string{"rich"} {
		for what, make := range map[string]func(report.Input) ([]sheet.Scene, error){"owner": report.Owner, "county": report.County} {
			one, _ := make(a[name])
			two, _ := make(b[name])
			if !reflect.DeepEqual(one, two) {
				t.Errorf("%s, %s: two runs differ", name, what)
			}
		}
	}
}

func TestReportsSayWhatIsWrong(t *testing.T) {
	all := cases(t)
	tests := []struct{ name, owner, county string }{
		{"empty", "No plan was made from the measurements", "Not final: no plan was made"},
		{"no judgement", "3 entries of the job file could not be read", "Nothing was judged"},
		{"no judgement", "The measurements are not finished", "Not final"},
		{"rich", "save it as JPEG", "save it as JPEG"},
		{"rich", "Local code and the licensed practitioner decide.", "Local code and the licensed"},
		{"rich", "Now, at the latest by 21 May 2026", "length of Line 3"},
		{"planned on quarry-hollow.yaml", "What you plan", "Planned: Workshop"},
		{"planned on second-dwelling.yaml", "It does not fit where you want it", "It fits, but not at the stated place."},
		{"nothing prepared", "The picture was not given to the report", "The picture was not given"},
	}
	owners, counties := map[string]string{}, map[string]string{}
	for _, tt := range tests {
		if owners[tt.name] == "" {
			owner, _ := report.Owner(all[tt.name])
			county, _ := report.County(all[tt.name])
			owners[tt.name], counties[tt.name] = words(owner), words(county)
		}
		if !strings.Contains(owners[tt.name], tt.owner) {
			t.Errorf("%s: the owner is not told %q", tt.name, tt.owner)
		}
		if !strings.Contains(counties[tt.name], tt.county) {
			t.Errorf("%s: the county is not told %q", tt.name, tt.county)
		}
	}
}

func TestNoMetricsIsAnError(t *testing.T) {
	_, a := report.Owner(report.Input{})
	_, b := report.County(report.Input{})
	_, c := report.Card(report.Input{}, card.Card{Part: "D-box"})
	if a == nil || b == nil || c == nil {
		t.Errorf("errors %v, %v, %v; expected one each", a, b, c)
	}
}

func TestPaperFollowsTheJob(t *testing.T) {
	for _, tt := range []struct {
		show  site.Show
		width sheet.MM
	}{{site.Show{}, 215.9}, {site.Show{Form: unit.Metres}, 210}, {site.Show{Paper: "a3"}, 210}, {site.Show{Form: unit.Metres, Paper: "tabloid"}, 215.9}, {site.Show{Paper: "parchment"}, 215.9}} {
		pages, err := report.Owner(report.Input{Metrics: render.Metrics(), Job: &site.Job{Show: tt.show}})
		if err != nil || pages[0].Width != tt.width {
			t.Errorf("%+v: width %v, error %v; expected %v", tt.show, pages[0].Width, err, tt.width)
		}
	}
}

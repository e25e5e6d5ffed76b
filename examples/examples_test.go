package examples_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path"
	"reflect"
	"sort"
	"strconv"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/examples"
	"undersod/internal/jobfile"
)

// expectation is what one job must give, as written in testdata/expected.json.
type expectation struct {
	Verdict  string              `json:"verdict"`  // "yes", "unsure" or "no"
	Accused  []accused           `json:"accused"`  // in any order
	Open     map[site.Name]state `json:"open"`     // points that are not determined, and how
	Stray    []site.Name         `json:"stray"`    // probe hits that lie off their outline
	Problems []string            `json:"problems"` // "file:line: subject" of everything wrong in the files
}

// accused is one wrong reading, or a group, with its first explanation.
type accused struct {
	Readings []site.ReadingID      `json:"readings"`
	Kind     adjust.HypothesisKind `json:"kind"`
}

// state is a point's state in words.
type state string

var states = map[adjust.State]state{adjust.TwoAnswers: "two answers",
	adjust.Undetermined: "undetermined", adjust.Unconnected: "unconnected"}

var verdicts = map[adjust.Fill]string{adjust.FillNo: "no", adjust.FillUnsure: "unsure", adjust.FillYes: "yes"}

// read reads an example with the files beside it; it must not be refused.
func read(t *testing.T, name string) jobfile.Result {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	r, err := jobfile.ReadBeside(name, bytes.NewReader(data), os.DirFS("."))
	if err != nil {
		t.Fatalf("%s is refused: %v", name, err)
	}
	return r
}

// jobs lists the example jobs of this folder.
func jobs(t *testing.T) []string {
	t.Helper()
	var out []string
	for _, pattern := range []string{"*.yaml", "*.json"} {
		names, err := fs.Glob(os.DirFS("."), pattern)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, names...)
	}
	return out
}

func expectations(t *testing.T) map[string]expectation {
	t.Helper()
	data, err := os.ReadFile("testdata/expected.json")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]expectation{}
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&out); err != nil {
		t.Fatalf("testdata/expected.json: %v", err)
	}
	return out
}

// found puts what a plan says into the form of an expectation.
func found(r jobfile.Result, p *adjust.Plan) expectation {
	e := expectation{Verdict: verdicts[p.Verdict.Fill], Open: map[site.Name]state{}}
	if r.Mistakes() > 0 {
		e.Verdict = "no"
	}
	for _, a := range p.Search.Accused {
		one := accused{Readings: append([]site.ReadingID(nil), a.Readings...)}
		if len(a.Hypotheses) > 0 {
			one.Kind = a.Hypotheses[0].Kind
		}
		e.Accused = append(e.Accused, one)
	}
	for _, q := range p.Points {
		if q.State != adjust.Determined {
			e.Open[q.Name] = states[q.State]
		}
	}
	for _, o := range p.Outlines {
		for _, h := range o.Hits {
			if h.LiesOff {
				e.Stray = append(e.Stray, h.Point)
			}
		}
	}
	for _, q := range r.Problems {
		e.Problems = append(e.Problems, fmt.Sprintf("%s:%d: %s", q.Place.File, q.Place.Line, q.Subject))
	}
	return e.sorted()
}

// sorted returns e with its accusations in an order of their own, and empty
// lists the same as missing ones.
func (e expectation) sorted() expectation {
	for _, a := range e.Accused {
		sort.Slice(a.Readings, func(i, j int) bool { return a.Readings[i] < a.Readings[j] })
	}
	sort.Slice(e.Accused, func(i, j int) bool { return e.Accused[i].Readings[0] < e.Accused[j].Readings[0] })
	if len(e.Accused) == 0 {
		e.Accused = nil
	}
	if e.Open == nil {
		e.Open = map[site.Name]state{}
	}
	if len(e.Stray) == 0 {
		e.Stray = nil
	}
	if len(e.Problems) == 0 {
		e.Problems = nil
	}
	return e
}

func TestEveryExampleGivesWhatIsExpected(t *testing.T) {
	want := expectations(t)
	for _, name := range jobs(t) {
		t.Run(name, func(t *testing.T) {
			r := read(t, name)
			got := found(r, adjust.Solve(&r.Job, adjust.Settings{}))
			w, ok := want[name]
			if !ok {
				t.Fatalf("testdata/expected.json says nothing of it; it gives %s", asJSON(t, got))
			}
			if w = w.sorted(); !reflect.DeepEqual(got, w) {
				t.Errorf("got\n%s\nwant\n%s", asJSON(t, got), asJSON(t, w))
			}
		})
		delete(want, name)
	}
	for name := range want {
		t.Errorf("testdata/expected.json speaks of %s, and there is no such job", name)
	}
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	data, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// truth is the places the readings of a job were made from (m), in a frame of
// their own.
func truth(t *testing.T, name string) map[site.Name]planar.Vec {
	t.Helper()
	f, err := os.Open("testdata/truth-" + strings.TrimSuffix(name, path.Ext(name)) + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	out := map[site.Name]planar.Vec{}
	for _, row := range rows[1:] {
		east, err1 := strconv.ParseFloat(row[1], 64)
		north, err2 := strconv.ParseFloat(row[2], 64)
		if err1 != nil || err2 != nil {
			t.Fatalf("%s: %v is no place", f.Name(), row)
		}
		out[site.Name(row[0])] = planar.Vec{East: unit.Length(east), North: unit.Length(north)}
	}
	return out
}

// setAside returns the job with the readings that its plan accuses set aside,
// as a person would after looking at them.
func setAside(job site.Job, p *adjust.Plan) site.Job {
	wrong := map[site.ReadingID]bool{}
	for _, a := range p.Search.Accused {
		for _, id := range a.Readings {
			wrong[id] = true
		}
	}
	list := append([]site.Reading(nil), job.Visit.Readings...)
	for i, r := range list {
		if !wrong[r.Common().ID] {
			continue
		}
		switch v := r.(type) {
		case site.Tie:
			v.SetAside = "accused"
			list[i] = v
		case site.Offset:
			v.SetAside = "accused"
			list[i] = v
		}
	}
	job.Visit.Readings = list
	return job
}

// TestPlacesAreTrue holds the stated radii to the places the readings were made
// from: none is off by more than three times its 95 % radius, and over all jobs
// nearly 95 in 100 lie within it.
func TestPlacesAreTrue(t *testing.T) {
	points, within := 0, 0
	for _, name := range jobs(t) {
		r := read(t, name)
		plan := adjust.Solve(&r.Job, adjust.Settings{})
		if len(plan.Search.Accused) > 0 {
			job := setAside(r.Job, plan)
			plan = adjust.Solve(&job, adjust.Settings{})
			if n := len(plan.Search.Accused); n > 0 {
				t.Errorf("%s: with the accused readings set aside, %d more are accused", name, n)
			}
		}
		off := offTruth(t, name, plan)
		for _, q := range plan.Points {
			if q.State != adjust.Determined || q.Ellipse.Radius == 0 {
				continue
			}
			d, ok := off[q.Name]
			if !ok {
				t.Errorf("%s: there is no true place of %s", name, q.Name)
				continue
			}
			points++
			if d <= q.Ellipse.Radius {
				within++
			}
			if d > 3*q.Ellipse.Radius {
				t.Errorf("%s: %s lies %.3f m from its true place, and claims to be within %.3f m",
					name, q.Name, float64(d), float64(q.Ellipse.Radius))
			}
		}
	}
	// Points of one job err together, so the share scatters more than a count of
	// independent ones would.
	if points < 150 || float64(within) < 0.85*float64(points) {
		t.Errorf("%d of %d places lie within their 95 %% radius", within, points)
	}
	t.Logf("%d of %d places lie within their 95 %% radius", within, points)
}

// offTruth returns how far every placed point lies from its true place, once
// the truth is laid on the plan's datum.
func offTruth(t *testing.T, name string, plan *adjust.Plan) map[site.Name]unit.Length {
	t.Helper()
	places := truth(t, name)
	from, to, turn := onto(plan, places)
	out := map[site.Name]unit.Length{}
	for _, p := range plan.Points {
		q, ok := places[p.Name]
		if !ok || !p.Placed {
			continue
		}
		laid := to.Plus(q.Minus(from).Clockwise(turn))
		out[p.Name] = laid.Minus(p.At).Length()
	}
	return out
}

// onto returns how the true places are laid on the plan: from goes to to, and
// everything turns clockwise about it. A held datum keeps its mark and its
// direction; a free one is laid over all marks at once.
func onto(plan *adjust.Plan, places map[site.Name]planar.Vec) (from, to planar.Vec, turn unit.Angle) {
	var marks []adjust.Point
	for _, p := range plan.Points {
		_, known := places[p.Name]
		isMark := p.Role == site.RoleMark || p.Role == site.RoleCorner
		if plan.Frame.Kind != site.DatumFree {
			isMark = p.Name == plan.Frame.Mark || p.Name == plan.Frame.Toward
		}
		if known && isMark && p.Placed {
			marks = append(marks, p)
		}
	}
	for _, p := range marks {
		share := 1 / float64(len(marks))
		if plan.Frame.Kind != site.DatumFree {
			share = 0
			if p.Name == plan.Frame.Mark {
				share = 1
			}
		}
		from, to = from.Plus(places[p.Name].Times(share)), to.Plus(p.At.Times(share))
	}
	var along, across float64
	for _, p := range marks {
		was, found := places[p.Name].Minus(from), p.At.Minus(to)
		along += float64(was.Dot(found))
		across -= float64(was.Cross(found)) // positive when found lies clockwise
	}
	return from, to, unit.Angle(math.Atan2(across, along))
}

// TestTwinsAgree holds the JSON job to its YAML twin.
func TestTwinsAgree(t *testing.T) {
	yaml, twin := read(t, "two-corners.yaml"), read(t, "two-corners.json")
	a, b := adjust.Solve(&yaml.Job, adjust.Settings{}), adjust.Solve(&twin.Job, adjust.Settings{})
	if len(a.Points) != len(b.Points) || len(a.Readings) != len(b.Readings) {
		t.Fatalf("the twin has %d points and %d readings, the YAML job %d and %d",
			len(b.Points), len(b.Readings), len(a.Points), len(a.Readings))
	}
	at := map[site.Name]adjust.Point{}
	for _, q := range b.Points {
		at[q.Name] = q
	}
	for _, p := range a.Points {
		q := at[p.Name]
		if p.At.Minus(q.At).Length() > unit.Millimetre/100 || p.State != q.State {
			t.Errorf("%s lies at %v in the YAML job and at %v in its twin", p.Name, p.At, q.At)
		}
	}
	if !reflect.DeepEqual(a.Verdict, b.Verdict) {
		t.Errorf("the verdict is %v from YAML and %v from JSON", a.Verdict, b.Verdict)
	}
}

// TestEmbeddedJobsOpen reads the embedded jobs as the program does away from
// this folder.
func TestEmbeddedJobsOpen(t *testing.T) {
	names, err := fs.Glob(examples.Files, "*.yaml")
	if err != nil || len(names) < 10 {
		t.Fatalf("there are %d embedded jobs: %v", len(names), err)
	}
	for _, name := range names {
		data, err := fs.ReadFile(examples.Files, name)
		if err != nil {
			t.Fatal(err)
		}
		r, err := jobfile.ReadBeside(name, bytes.NewReader(data), examples.Files)
		if err != nil || len(r.Job.Site.Points) == 0 {
			t.Errorf("%s has %d points: %v", name, len(r.Job.Site.Points), err)
		}
	}
	r, err := jobfile.Read("demo", bytes.NewReader(examples.Demo()))
	if err != nil || len(r.Problems) > 0 {
		t.Errorf("the demo has problems: %v %v", err, r.Problems)
	}
}

// TestExamplesSayWhatTheyShow wants a comment at the top of every YAML job.
func TestExamplesSayWhatTheyShow(t *testing.T) {
	for _, name := range jobs(t) {
		if path.Ext(name) == ".json" {
			continue
		}
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.HasPrefix(data, []byte("undersod: 1\n\n# ")) {
			t.Errorf("%s does not say at its top what it shows", name)
		}
	}
}

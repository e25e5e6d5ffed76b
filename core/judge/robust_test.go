package judge_test

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/judge"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/examples"
	"undersod/internal/jobfile"
)

// still takes out what cannot be compared: the function that divides.
func still(j *judge.Judgement) *judge.Judgement {
	if j.Storage != nil {
		j.Storage.Run.Divide = nil
	}
	return j
}

// TestTheSameJobIsJudgedTheSame, twice from its text on.
func TestTheSameJobIsJudgedTheSame(t *testing.T) {
	entries, err := examples.Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		text, err := examples.Files.ReadFile(e.Name())
		if err != nil {
			t.Fatal(err)
		}
		once := func() *judge.Judgement {
			r, err := jobfile.ReadBeside(e.Name(), bytes.NewReader(text), examples.Files)
			if err != nil {
				t.Fatal(err)
			}
			return judge.Judge(&r.Job, adjust.Solve(&r.Job, adjust.Settings{}), nil)
		}
		a := once()
		if !reflect.DeepEqual(still(a), still(once())) {
			t.Errorf("%s is judged in two ways", e.Name())
		}
		ordered(t, a, visitOf(t, text, e.Name()))
	}
}

func visitOf(t *testing.T, text []byte, name string) string {
	t.Helper()
	r, err := jobfile.ReadBeside(name, bytes.NewReader(text), examples.Files)
	if err != nil {
		t.Fatal(err)
	}
	return r.Job.Visit.Date
}

// TestLittleOrNothing holds that what is not there stops nothing.
func TestLittleOrNothing(t *testing.T) {
	small, plan := open(t, small)
	dateless := *small
	dateless.Visit.Date = ""
	strange := *small
	strange.Visit.Date = "soon"
	for name, c := range map[string]struct {
		job  *site.Job
		plan *adjust.Plan
		pack *rules.Pack
	}{
		"empty job":       {&site.Job{}, adjust.Solve(&site.Job{}, adjust.Settings{}), nil},
		"empty plan":      {&site.Job{}, &adjust.Plan{}, nil},
		"nothing located": {small, &adjust.Plan{}, nil},
		"empty pack":      {small, plan, &rules.Pack{}},
		"no date":         {&dateless, plan, nil},
		"no calendar":     {&strange, plan, nil},
	} {
		j := judge.Judge(c.job, c.plan, c.pack)
		if j == nil || name != "empty pack" && j.Pack != rules.Default().Name {
			t.Fatalf("%s: %+v", name, j)
		}
		ordered(t, j, c.job.Visit.Date)
		if len(j.Missing) == 0 {
			t.Errorf("%s: nothing is missing", name)
		}
	}
	j := judge.Judge(&dateless, plan, nil)
	if len(j.Lives) > 0 || len(j.Reminders) > 0 || !hears(j.Missing, "enter visit: date") {
		t.Errorf("without a date: %+v, %+v, %q", j.Lives, j.Reminders, j.Missing)
	}
	if j := judge.Judge(small, &adjust.Plan{}, nil); j.Storage != nil || !hears(j.Missing, "the length of Line 1 is not known") {
		t.Errorf("nothing is located: %q", j.Missing)
	}
}

// TestJudgeLeavesItsInputAlone, so that one plan can be judged by many packs.
func TestJudgeLeavesItsInputAlone(t *testing.T) {
	text := string(examples.Demo())
	job, plan := open(t, text)
	fresh, _ := open(t, text)
	for _, p := range rules.Builtin() {
		judge.Judge(job, plan, p)
	}
	if !reflect.DeepEqual(job, fresh) {
		t.Error("the job is changed")
	}
}

// FuzzJudge reads any text as a job and judges it: it must not panic, a judged
// job must be orderly, balanced and sayable in JSON, and the words must be
// words.
func FuzzJudge(f *testing.F) {
	f.Add(small)
	f.Add(small + drawing(true, "A", "B", "C", "D-box", "Tank") + camera)
	f.Add(small + "record: {lines: 2, tank: 900 gal, spacing: 6 ft, trench length: 0 ft, distances: {D-box: {A: 54 ft}}}\n")
	f.Add("undersod: 1\n")
	f.Add("undersod: 1\nvisit: {date: 2026-05}\nparts: {T: {kind: septic tank, capacity: 1 gal}}\nhousehold: {bedrooms: 99, persons: 99}\n")
	f.Add("undersod: 1\nrules: washington\nmarks: {A: pin, B: pin}\nlines: {L: {kind: drain line, path: [A, B]}}\nboxes: {X: {}}\n")
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 20000 {
			return
		}
		r, err := jobfile.Read("job.yaml", strings.NewReader(text))
		if err != nil || len(r.Job.Site.Points) > 60 {
			return
		}
		pack, _ := rules.ByName(r.Job.Site.Rules)
		j := judge.Judge(&r.Job, adjust.Solve(&r.Job, adjust.Settings{}), pack)
		sound(t, text, j, r.Job.Visit.Date)
	})
}

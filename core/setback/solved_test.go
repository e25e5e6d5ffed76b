package setback_test

import (
	"math"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/setback"
	"undersod/core/site"
	"undersod/internal/jobfile"
)

// taped is an invented job: a box and a well far from the wall that both are
// tied to, with one tape between them. Everything else lies by offsets.
const taped = `undersod: 1
marks: {A: iron pin, B: iron pin, W: well casing}
parts: {D-box: {kind: distribution box}}
lines: {Line 1: {kind: drain line, path: [L1 start, L1 end], trench width: 3 ft}}
features: {Well: {kind: well, at: W}}
ties: {B: {A: 100 ft}, W: {D-box: 50 ft}}
offsets:
  - {baseline: A-B, point: D-box, station: 200 ft, right: 100 ft, sd: 1 ft}
  - {baseline: A-B, point: W, station: 200 ft, right: 150 ft, sd: 1 ft}
  - {baseline: A-B, point: L1 start, station: 220 ft, right: 60 ft}
  - {baseline: A-B, point: L1 end, station: 280 ft, right: 60 ft}
proposed: {Shed: {kind: structure, size: 10' x 10', at: {baseline: A-B, station: 150', right: 60'}, along: A-B}}
`

func solved(t *testing.T) (*site.Job, *adjust.Plan) {
	t.Helper()
	r, err := jobfile.Read("taped.yaml", strings.NewReader(taped))
	if err != nil || r.Mistakes() > 0 {
		t.Fatal(err, r.Problems)
	}
	return &r.Job, adjust.Solve(&r.Job, adjust.Settings{})
}

// The tape between the two says how far apart they are, whatever the offsets
// leave open: the margin is as sure as the tape, not as the two places.
func TestATapeBetweenMakesAMarginSure(t *testing.T) {
	job, plan := solved(t)
	rows := setback.Judge(job, plan, county()).Rows
	r := find(t, rows, "D-box", "Well")
	if math.Abs(r.Measured.Feet()-50) > 0.2 || r.Within > ft(0.3) {
		t.Errorf("%s", r.Words)
	}
	u, _ := r.Gap.To.At.Minus(r.Gap.From.At).Unit()
	want, ok := plan.Joint().Deviation(adjust.Pull{Point: "D-box", Along: u.Times(-1)}, adjust.Pull{Point: "W", Along: u})
	if !ok || math.Abs(float64(r.Within-1.959964*want)) > 1e-12 {
		t.Errorf("within %v, want %v", r.Within, 1.959964*want)
	}
	// To the trench's south end: half a width is exact, the rest hangs on one end.
	r = find(t, rows, "Line 1", "Well")
	u, _ = r.Gap.To.At.Minus(r.Gap.From.At).Unit()
	want, _ = plan.Joint().Deviation(adjust.Pull{Point: "L1 start", Along: u.Times(-1)}, adjust.Pull{Point: "W", Along: u})
	if math.Abs(float64(r.Within-1.959964*want)) > 1e-9 {
		t.Errorf("%s: within %v, want %v", r.Words, r.Within, 1.959964*want)
	}
}

// A shed staked out from the wall that the trench is measured from: its place by
// station and distance right of A-B, against a trench by offsets of the same.
func TestAStandHangsOnItsLine(t *testing.T) {
	job, plan := solved(t)
	r := find(t, setback.Judge(job, plan, county()).Rows, "Line 1", "Shed")
	if !r.Proposed || math.Abs(r.Measured.Feet()-65) > 0.1 {
		t.Fatalf("%s", r.Words)
	}
	a, b, start := at0(plan, "A"), at0(plan, "B"), r.Gap.From
	u, _ := r.Gap.To.At.Minus(start.At).Unit()
	e, _ := b.Minus(a).Unit()
	n := e.Right()
	k := (ft(150).Metres()*float64(u.Dot(n)) - ft(60).Metres()*float64(u.Dot(e))) / float64(b.Minus(a).Length())
	want, ok := plan.Joint().Deviation(adjust.Pull{Point: "L1 start", Along: u.Times(-1)},
		adjust.Pull{Point: "A", Along: u.Minus(n.Times(k))}, adjust.Pull{Point: "B", Along: n.Times(k)})
	if !ok || math.Abs(float64(r.Within-1.959964*want)) > 1e-6 {
		t.Errorf("within %v, want %v", r.Within, 1.959964*want)
	}
	q, problems := setback.Ask(job, plan, job.Site.Proposed[0])
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	f, err := setback.Find(job, plan, county(), q)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range f.Stated {
		if l.Thing.Name == "Line 1" && math.Abs(float64(l.Within-r.Within)) > 1e-9 {
			t.Errorf("the fit says ± %v, the table ± %v", l.Within, r.Within)
		}
	}
}

func at0(plan *adjust.Plan, name site.Name) planar.Vec {
	for _, p := range plan.Points {
		if p.Name == name {
			return p.At
		}
	}
	return planar.Vec{}
}

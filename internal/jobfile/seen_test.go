package jobfile_test

import (
	"reflect"
	"strings"
	"testing"

	"undersod/core/site"
	"undersod/core/unit"
)

// looked is a job with every key of what is looked at and on record.
const looked = `undersod: 1
visit: {date: 2026-05-14}
marks: {A: pin, B: pin, C: pin}
parts:
  Tank:
    kind: septic tank
    capacity: 1,000 gal
    material: concrete
    installed: 1996
    findings: [piece missing, {what: corroded, grade: watch, note: outlet baffle, photo: photos/baffle.jpg}]
  D-box: {kind: distribution box, installed: 1996-08}
lines:
  Tank pipe: {kind: effluent pipe, path: [Tank, D-box]}
  Line 1:
    kind: drain line
    path: [D-box, L1 bend, L1 end]
    bore: 4 in
    trench depth: 30"
    stone below: 12"
    stone above: 0 in
    porosity: 40%
    installed: 1996-08-14
    out of use: no
  Line 2: {kind: drain line, path: [D-box, L2 end], out of use: true}
features:
  Maple: {kind: tree, trunk: 18", radius: 14 ft, class: old}
instruments:
  reel: {kind: camera counter}
level points:
  TP 1: turning point on the drive
  O9:
rods:
  setup 1: {TP 1: {top: 4.52 ft}, O1: {invert: 5.10 ft}, A: {ground: 3 ft}}
cameras:
  Line 1:
    entry: D-box
    toward: L1 end
    zero: 1' 6"
    pushed: 1%
    with: reel
    sd: 3"
    ended: line end
    ended at: 61' 7"
    note: water on the lens
    findings:
      - {at: 41', what: fine roots, grade: watch, note: "by the maple, thin", photo: photos/l1-41.jpg}
      - {from: 46' 9", to: 54' 9", what: standing water, depth: 1 1/2"}
      - {at: 20', to: 23', what: flattened, percent: 12%, photo: [photos/a.jpg, {file: photos/b.jpg, words: from the far end}]}
  Line 2:
    - {ended: roots, findings: {at: 3', what: root mass, percent: 60}}
    - {entry: L2 end}
boxes:
  D-box:
    length: 18"
    width: 18"
    floor: 9"
    lid: -4"
    water: 8"
    bore: 4.06 in
    sd: 1/16"
    inlet: {line: Tank pipe, down: 2", wall: near, from left: 9"}
    outlets:
      Line 1: {bore: 4 in, rod: O1, wall: far, from left: 4", closed: yes, narrowed: 20%, sd: 1/8", note: new}
      Line 2: 3 1/4"
    rim: {near: 1/2", right: 0 in, far: -1/4", left: 1"}
record:
  source: permit T-1996-0412 and its sketch
  date: 1996-08
  lines: 3
  outlets: 4
  bedrooms: 3
  tank: 1,000 gal
  daily flow: 360 gpd
  area: 540 sq ft
  trench width: 3 ft
  trench depth: 30"
  stone below: 12"
  trench length: 60 ft
  spacing: 9 ft
  distances: {D-box: {A: 20', B: {read: 31', sd: 1'}}}
  drawing: {file: photos/sketch.png, down: true, sd: 2, points: {A: [120, 340], B: [480.5, 338]}}
household:
  bedrooms: 3
  added bedrooms: 1
  persons: 4
  grinder: yes
  daily flow: 210 gpd
  surge: 8 gpm
  hours: [0, 0, 0, 0, 0, 1, 4, 4, 2, 1, 1, 1, 1, 1, 1, 1, 2, 3, 3, 2, 1.5, 1, 1, 0]
soil: {percolation: 18 min/in, texture: sandy loam, structure: blocky, strength: moderate, loading: 0.6 gal/ft2/day, source: test pit of 1996}
care:
  - {date: 2021-06, what: pumped, by: Lowfield, note: full}
  - {date: 2016, what: pumped}
photos:
  - photos/house.jpg
  - {file: photos/box.jpg, of: D-box, words: "the box, lid off"}
  - {file: photos/maple.jpg, of: Maple}
rules: washington
proposed:
  Workshop: {kind: structure, class: slab foundation, size: 24' x 16', at: {baseline: A-B, station: 30', left: 60'},
    along: A-B, near: Maple, from property line: 10', bedrooms: 1}
  Greenhouse: {kind: structure, outline: [[0', 0'], [20', 0'], [16', 12'], [4', 12']], turn: 85°, at: D-box}
  New well: well
setbacks:
  source: permit T-1996-0412
  rows:
    - {from: well, class: private, tank: 50', distribution box: 51', field: 100', building sewer: 25', effluent pipe: 26',
       structure: 5', note: from the casing}
    - {from: well, field: 150'}
`

func TestEveryKeyOfWhatIsSeenIsRead(t *testing.T) {
	res := read(t, looked)
	for _, p := range res.Problems {
		t.Error(res.Show(p))
	}
	job := res.Job
	if len(job.Visit.Runs) != 3 || len(job.Visit.Boxes) != 1 || len(job.Visit.Photos) != 3 || len(job.Site.Care) != 2 {
		t.Fatalf("%d runs, %d boxes, %d photos, %d of care", len(job.Visit.Runs), len(job.Visit.Boxes), len(job.Visit.Photos), len(job.Site.Care))
	}
	// Every field of these was written, so none may be empty.
	for name, v := range map[string]any{
		"run": job.Visit.Runs[0], "record": *job.Site.Record, "drawing": *job.Site.Record.Drawing,
		"household": job.Site.Household, "soil": job.Site.Soil, "box": job.Visit.Boxes[0],
		"photo": job.Visit.Photos[1], "care": job.Site.Care[1], "level point": job.Site.LevelPoints[0],
		"claim": job.Site.Record.Distances[1], "setbacks": *job.Site.Setbacks, "setback": job.Site.Setbacks.Rows[0],
	} {
		s := reflect.ValueOf(v)
		for i := range s.NumField() {
			if s.Field(i).IsZero() {
				t.Errorf("%s: %s is empty", name, s.Type().Field(i).Name)
			}
		}
	}
}

// near tells lengths that agree to a micrometre.
func near(a, b unit.Length) bool { return (a - b).Abs() < 1e-6*unit.Metre }

func TestWhatIsSeenMeansWhatIsWritten(t *testing.T) {
	job := read(t, looked).Job
	run := job.Visit.Runs[0]
	if run.ID != "camera Line 1" || !near(run.Zero.Length, 1.5*unit.Foot) || run.Pushed != 0.01 || !near(*run.SD, 3*unit.Inch) ||
		run.Ended != site.ReachedEnd || run.EndedAt.Text != `61' 7"` || run.Instrument != "reel" {
		t.Errorf("run %+v", run)
	}
	f := run.Findings[0]
	if f.What != site.FineRoots || f.Grade != site.Watch || !near(f.At.Length, 41*unit.Foot) || f.To != nil || f.Photos[0].File != "photos/l1-41.jpg" {
		t.Errorf("finding %+v", f)
	}
	if f = run.Findings[1]; f.At.Text != `46' 9"` || f.To.Text != `54' 9"` || !near(f.Depth.Length, 1.5*unit.Inch) {
		t.Errorf("finding %+v", f)
	}
	if f = run.Findings[2]; *f.Percent != 12 || len(f.Photos) != 2 || f.Photos[1].Words != "from the far end" {
		t.Errorf("finding %+v", f)
	}
	if id := job.Visit.Runs[2].ID; id != "camera Line 2 #2" {
		t.Errorf("the second run is called %q", id)
	}
	box := job.Visit.Boxes[0]
	one, two := box.Outlets[0], box.Outlets[1]
	if one.Line != "Line 1" || !near(one.Bore, 4*unit.Inch) || one.Rod != "O1" || one.Wall != site.EdgeFar || !one.Closed ||
		one.Narrowed != 0.2 || !near(*one.SD, unit.Inch/8) || one.Down != nil {
		t.Errorf("outlet %+v", one)
	}
	if !near(two.Bore, 4.06*unit.Inch) || !near(*two.SD, unit.Inch/16) || !near(two.Down.Length, 3.25*unit.Inch) {
		t.Errorf("the outlet does not take what the box says for all: %+v", two)
	}
	if box.Inlet.Line != "Tank pipe" || !near(box.Rim[site.EdgeFar].Length, -unit.Inch/4) || len(box.Rim) != 4 || !near(box.Lid.Length, -4*unit.Inch) {
		t.Errorf("box %+v", box)
	}
	rec := job.Site.Record
	if c := rec.Distances[1]; rec.Lines != 3 || c.From != "B" || c.To != "D-box" || !near(*c.SD, unit.Foot) || rec.Drawing.Points[1].X != 480.5 {
		t.Errorf("record %+v", rec)
	}
	if h := job.Site.Household; h.AddedBedrooms != 1 || len(h.Hours) != 24 || (h.Surge-8*unit.GallonPerMinute) > 1e-12 || !h.Grinder {
		t.Errorf("household %+v", h)
	}
	line := job.Site.Lines[1]
	if line.Porosity != 0.4 || !near(line.Bore, 4*unit.Inch) || line.OutOfUse || !job.Site.Lines[2].OutOfUse || line.Installed != "1996-08-14" {
		t.Errorf("line %+v", line)
	}
	if care := job.Site.Care; care[0].Date != "2016" || care[1].By != "Lowfield" {
		t.Errorf("care is not in the order of its dates: %+v", care)
	}
	if tank := job.Site.Parts[0]; (tank.Capacity/unit.Gallon-1000) > 1e-9 || len(tank.Findings) != 2 || tank.Findings[0].What != site.PieceMissing {
		t.Errorf("tank %+v", tank)
	}
}

// An opening that the rod read needs no other declaration of its level point.
func TestAnOpeningBringsItsLevelPoint(t *testing.T) {
	job := read(t, looked).Job
	var names []string
	for _, p := range job.Site.LevelPoints {
		names = append(names, string(p.Name)+"|"+p.Words)
	}
	want := "TP 1|turning point on the drive, O9|, O1|invert of the outlet of D-box to Line 1"
	if got := strings.Join(names, ", "); got != want {
		t.Errorf("level points %s, want %s", got, want)
	}
	if len(job.Visit.Readings) != 3 {
		t.Errorf("%d rod readings, want 3", len(job.Visit.Readings))
	}
}

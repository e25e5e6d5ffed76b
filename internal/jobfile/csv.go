package jobfile

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"

	"undersod/core/english"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile/table"
	"undersod/internal/jobfile/tell"
	"undersod/internal/jobfile/tree"
)

// columns lists every column that a table of readings may have.
func columns() []string {
	return []string{"kind", "from", "to", "point", "line", "setup", "on", "read", "station", "right", "left",
		"latitude", "longitude", "east", "north", "held", "drop", "corrected", "with", "sd", "note", "set aside"}
}

// rowKind is one kind of row: the columns that name things, and the group of
// keys that its other columns make.
type rowKind struct {
	kind  string
	names []string
	group string
}

func rowKinds() []rowKind {
	return []rowKind{
		{"tie", []string{"from", "to"}, inTie},
		{"offset", []string{"from", "to", "point"}, inOffset},
		{"bearing", []string{"from", "to"}, inBearing},
		{"fix", []string{"point"}, inFix},
		{"depth", []string{"point"}, inDepth},
		{"rod", []string{"setup", "point", "on"}, inRodReading},
		{"footage", []string{"line", "to"}, inFootage},
	}
}

// ReadCSV reads a table of readings for a known job, as docs/jobfile.md
// describes; bare is what a number without a unit means. The result's Job is
// the known one with the readings added at the end; the Problems are those of
// the table alone. The error is as of Read.
func ReadCSV(name string, r io.Reader, known site.Job, bare unit.Form) (result Result, err error) {
	src, err := readAll(name, r)
	if err != nil {
		return Result{}, err
	}
	defer rescue(name, &result, &err)
	rd := newReader(name, src, nil)
	rd.adopt(known)
	rd.Bare = bare
	before := map[site.Problem]bool{}
	for _, p := range site.Validate(known) {
		before[p] = true
	}
	if err := rd.table(src); err != nil {
		return Result{}, err
	}
	result = rd.result()
	result.Problems = slices.DeleteFunc(result.Problems, func(p site.Problem) bool { return before[p] })
	return result, nil
}

// adopt takes over the names of a job read before.
func (r *reader) adopt(job site.Job) {
	r.job = job
	r.job.Site.Points = append([]site.Point(nil), job.Site.Points...)
	r.job.Visit.Readings = append([]site.Reading(nil), job.Visit.Readings...)
	for i, p := range job.Site.Points {
		r.points[p.Name] = i
	}
	for _, p := range job.Site.Parts {
		if _, isPoint := r.points[p.Name]; !isPoint {
			r.outlined[p.Name] = p
		}
		r.partOf[p.Name] = true
	}
	for _, l := range job.Site.Lines {
		r.lineOf[l.Name] = true
	}
	for i, l := range job.Site.LevelPoints {
		r.levels[l.Name] = i
	}
	for _, in := range job.Visit.Instruments {
		r.tools[in.Name] = true
	}
	for _, x := range job.Visit.Readings {
		r.ids[x.Common().ID] = true
	}
}

// readImports reads the tables that the job names, from beside the job file.
func (r *reader) readImports(n *node) {
	for _, item := range tree.Elements(n) {
		name, ok := r.Text(item, "import")
		if !ok {
			continue
		}
		if err := r.readImport(item, name); err != nil {
			p := site.Problem{Place: r.At(item), Subject: "import", Found: tell.Clip(name), Advice: err.Error()}
			errors.As(err, &p)
			r.Tell(p)
		}
	}
}

// readImport reads one table; nothing outside the job's own folder is opened.
func (r *reader) readImport(n *node, name string) error {
	problem := site.Problem{Place: r.At(n), Subject: "import", Found: tell.Clip(name), Example: "field-day.csv"}
	switch {
	case !fs.ValidPath(name) || name == "." || strings.ContainsAny(name, "\\:"):
		problem.Expected = "the name of a file in the job's own folder, without .. and not starting with /"
		return problem
	case !strings.EqualFold(path.Ext(name), ".csv"):
		problem.Expected = "a file whose name ends in .csv"
		return problem
	case r.sources[name] != nil:
		problem.Expected = "each file once"
		return problem
	case r.beside == nil:
		problem.Expected = "no import: other files cannot be opened from here"
		problem.Advice = "Open the job from its folder, or put the readings into the job file."
		return problem
	}
	file, err := r.beside.Open(name)
	if err != nil {
		problem.Expected = "a file that is there and may be read"
		return problem
	}
	defer file.Close()
	src, err := readAll(name, file)
	if err != nil {
		return err
	}
	r.sources[name] = src
	return r.Within(name, src, func() error { return r.table(src) })
}

// table reads the rows of a CSV file.
func (r *reader) table(src []byte) error {
	return table.Read(r.Reader, src, columns(), r.reading)
}

// reading sorts a row by its kind and hands it to what reads job files.
func (r *reader) reading(named map[string]*node, value *node) {
	kinds := rowKinds()
	var known []string
	for _, k := range kinds {
		known = append(known, k.kind)
	}
	if named["kind"] == nil {
		r.Wrong(value, "a row of the table", "a kind: "+english.Or(known), "tie")
		return
	}
	word, ok := r.Choice(named["kind"], "kind of a row", known)
	if !ok {
		return
	}
	for _, k := range kinds {
		if k.kind == word {
			if who, ok := r.rowNames(k, named, value); ok {
				value.Drop(append([]string{"kind"}, k.names...))
				r.dispatch(k.kind, who, value)
			}
		}
	}
}

// rowNames reads the cells that name things.
func (r *reader) rowNames(k rowKind, named map[string]*node, value *node) (map[string]entry, bool) {
	who, all := map[string]entry{}, true
	for _, column := range k.names {
		n := named[column]
		if n == nil {
			r.Tell(site.Problem{Place: r.At(value), Subject: "a row of kind " + k.kind, Found: "no " + column,
				Expected: "the columns " + strings.Join(k.names, ", ") + " filled in"})
			all = false
			continue
		}
		name, ok := r.Name(n, column+" of a row")
		who[column], all = entry{Key: n, Name: name}, all && ok
	}
	return who, all
}

func (r *reader) dispatch(kind string, who map[string]entry, value *node) {
	switch kind {
	case "tie":
		r.oneTie(who["to"], who["from"], value)
	case "bearing":
		r.oneBearing(who["to"], who["from"], value)
	case "footage":
		r.oneFootage(who["line"], who["to"], value)
	case "offset":
		r.rowOffset(who, value)
	default:
		r.rowAtPoint(kind, who, value)
	}
}

func (r *reader) rowOffset(who map[string]entry, value *node) {
	o := site.Offset{From: who["from"].Name, To: who["to"].Name, Point: who["point"].Name}
	subject := fmt.Sprintf("offset of %s from %s-%s", o.Point, o.From, o.To)
	known := true
	for _, column := range []string{"from", "to", "point"} {
		known = r.mustExist(who[column].Key, who[column].Name, subject) && known
	}
	if r.offset(value, subject, &o) && known {
		r.keep(value, o)
	}
}

func (r *reader) rowAtPoint(kind string, who map[string]entry, value *node) {
	point := who["point"]
	must := r.mustExist
	if kind == "rod" {
		must = r.mustStand
	}
	known := must(point.Key, point.Name, kind+" of "+string(point.Name))
	switch kind {
	case "fix":
		r.oneFix(point.Name, value, known)
	case "depth":
		r.oneDepth(point.Name, value, known)
	case "rod":
		if on, ok := r.Choice(who["on"].Key, "on of a row", rodFeet()); ok {
			r.oneRod(site.Rod{Setup: who["setup"].Name, Point: point.Name, On: site.RodOn(on)}, value, known)
		}
	}
}

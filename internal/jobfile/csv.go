package jobfile

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"undersod/core/english"
	"undersod/core/site"
	"undersod/core/unit"
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
	defer func() {
		if p := recover(); p != nil {
			result = Result{}
			err = tree.Refusal(name, 0, 0, "", "", fmt.Sprintf("Reading it failed inside the program (%v). Please report this with the file.", p))
		}
	}()
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
	kept := result.Problems[:0]
	for _, p := range result.Problems {
		if !before[p] {
			kept = append(kept, p)
		}
	}
	result.Problems = kept
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
	}
	for _, l := range job.Site.Lines {
		r.lineOf[l.Name] = true
	}
	for _, p := range job.Site.Parts {
		r.partOf[p.Name] = true
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
	if at := tree.NotText(src); at >= 0 {
		return tree.Refusal(r.File, bytes.Count(src[:at], []byte("\n"))+1, 1, "bytes that are no text", "text in UTF-8", "Save the table as CSV in UTF-8.")
	}
	c := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(src, []byte("\xef\xbb\xbf"))))
	c.FieldsPerRecord = -1
	c.LazyQuotes = true // an inch mark in a cell without quotes is common
	c.ReuseRecord = true
	c.Comma = separator(src)
	header, ok := r.header(c)
	if !ok {
		return nil
	}
	for {
		cells, err := c.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return r.tableWords(c, err)
		}
		r.row(c, header, cells)
	}
}

func (r *reader) tableWords(c *csv.Reader, err error) error {
	line, column := 0, 0
	var pe *csv.ParseError
	if errors.As(err, &pe) {
		line, column = pe.Line, pe.Column
	}
	return tree.Refusal(r.File, line, max(column, 1), tell.Clip(r.Line(line)), "a row of cells with commas between", "Look for a quote mark that is not closed.")
}

// separator tells which character parts the cells of the first row.
func separator(src []byte) rune {
	first := tell.SourceLine(src, 1)
	for _, c := range ",;\t" {
		if strings.ContainsRune(first, c) {
			return c
		}
	}
	return ','
}

// cell makes a node of a cell. The csv package counts columns in bytes.
func (r *reader) cell(c *csv.Reader, i int, text string) *node {
	line, column := c.FieldPos(i)
	source := r.Line(line)
	if column-1 <= len(source) {
		column = utf8.RuneCountInString(source[:column-1]) + 1
	}
	text = strings.TrimSpace(text)
	return &node{Text: text, Null: text == "", Line: line, Column: column}
}

// header reads the names of the columns.
func (r *reader) header(c *csv.Reader) ([]string, bool) {
	cells, err := c.Read()
	if err != nil {
		r.Tell(site.Problem{Place: site.Place{File: r.File, Line: 1, Column: 1}, Subject: "the table",
			Expected: "a first row that names the columns", Example: "kind,from,to,read,with,note"})
		return nil, false
	}
	known := columns()
	header := make([]string, len(cells))
	seen := map[string]bool{}
	for i, text := range cells {
		n := r.cell(c, i, strings.ToLower(text))
		switch {
		case n.Null:
		case seen[n.Text]:
			r.Wrong(n, "the columns of the table", "each column once", "")
		case !slices.Contains(known, n.Text):
			p := site.Problem{Place: r.At(n), Subject: "the columns of the table", Found: n.Shown(), Expected: "one of " + english.Or(known)}
			if near, ok := english.Nearest(n.Text, known); ok {
				p.Advice = fmt.Sprintf("Did you mean %q?", near)
			}
			r.Tell(p)
		default:
			header[i] = n.Text
			seen[n.Text] = true
		}
	}
	if !seen["kind"] {
		r.Tell(site.Problem{Place: site.Place{File: r.File, Line: 1, Column: 1}, Subject: "the columns of the table",
			Expected: "a column named kind", Example: "kind,from,to,read,with,note"})
	}
	return header, seen["kind"]
}

// row reads one reading.
func (r *reader) row(c *csv.Reader, header, cells []string) {
	line, _ := c.FieldPos(0)
	value := &node{Form: tree.Dict, Line: line, Column: 1}
	named := map[string]*node{}
	for i, text := range cells {
		n := r.cell(c, i, text)
		if n.Null {
			continue
		}
		if i >= len(header) || header[i] == "" {
			if i >= len(header) {
				r.Wrong(n, "a row of the table", fmt.Sprintf("at most %d cells, as the first row has", len(header)), "")
			}
			continue
		}
		named[header[i]] = n
		value.Keys = append(value.Keys, &node{Text: header[i], Line: n.Line, Column: n.Column})
		value.Items = append(value.Items, n)
	}
	if len(value.Keys) == 0 {
		return
	}
	r.reading(named, value)
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

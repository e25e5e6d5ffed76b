// Package jobfile reads job files: one property and one visit in YAML or JSON,
// as docs/jobfile.md describes, with further readings from CSV files. What is
// right is used, what is wrong is listed with its place; nothing is rewritten.
package jobfile

import (
	"fmt"
	"io"
	"io/fs"
	"sort"

	"undersod/core/site"
	"undersod/internal/jobfile/tree"
	"undersod/internal/jobfile/values"
)

// Result is a job as far as it could be read, with everything that is wrong in
// it.
type Result struct {
	// Job holds what is right. A reading whose value cannot be right is in it
	// with SetAside saying why; a reading of points that do not exist is not.
	Job site.Job
	// Problems lists mistakes and remarks by file, line and column, the job
	// file before the files it imports.
	Problems []site.Problem
	// Sources holds the text of every file read, by name, for Show.
	Sources map[string][]byte
}

// Mistakes tells how many of the problems are mistakes; the rest are remarks.
func (r Result) Mistakes() int {
	n := 0
	for _, p := range r.Problems {
		if p.Severity == site.Mistake {
			n++
		}
	}
	return n
}

// Show prints a problem with its line out of the file it stands in; see Show.
func (r Result) Show(p site.Problem) string { return Show(r.Sources[p.Place.File], p) }

// Read reads a job file of at most 4 MB. The name is used in messages only.
// The error is a site.Problem, for a file that is no YAML or JSON at all or is
// too large, or what r gave; everything else wrong is in the result's Problems.
// A job that imports other files is told to be read with ReadBeside.
func Read(name string, r io.Reader) (Result, error) { return ReadBeside(name, r, nil) }

// ReadBeside is like Read and opens the files that the job imports in beside,
// the folder of the job file. Names that lead out of it are mistakes.
func ReadBeside(name string, r io.Reader, beside fs.FS) (Result, error) {
	src, err := readAll(name, r)
	if err != nil {
		return Result{}, err
	}
	root, extra, err := tree.Parse(name, src)
	if err != nil {
		return Result{}, err
	}
	return read(name, src, beside, root, extra)
}

// read fills the job.
func read(name string, src []byte, beside fs.FS, root *node, extra int) (result Result, err error) {
	defer rescue(name, &result, &err)
	rd := newReader(name, src, beside)
	if extra > 0 {
		rd.Tell(site.Problem{Place: site.Place{File: name, Line: extra, Column: 1}, Subject: "the file",
			Found: "a second document after ---", Expected: "one job in one file", Advice: "Only the first is used."})
	}
	rd.all(root)
	return rd.result(), nil
}

// rescue turns a fault in this package into words: it must not take down a
// server or lose a person's open file.
func rescue(name string, result *Result, err *error) {
	if p := recover(); p != nil {
		*result = Result{}
		*err = tree.Refusal(name, 0, 0, "", "", fmt.Sprintf("Reading it failed inside the program (%v). Please report this with the file.", p))
	}
}

// readAll reads at most the limit and one byte more.
func readAll(name string, r io.Reader) ([]byte, error) {
	src, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	if len(src) > maxBytes {
		return nil, tree.Refusal(name, 0, 0, "a file of more than 4 MB", "at most 4 MB",
			"A job holds one property and one visit; photographs and drawings stay in files of their own.")
	}
	return src, nil
}

// result checks the job as a whole and orders what was told by place.
func (r *reader) result() Result {
	job, found := site.Usable(r.job)
	for _, p := range found {
		r.Tell(p)
	}
	sort.SliceStable(r.Problems, func(i, j int) bool {
		a, b := r.Problems[i].Place, r.Problems[j].Place
		if a.File != b.File {
			if (a.File == r.File) != (b.File == r.File) {
				return a.File == r.File
			}
			return a.File < b.File
		}
		if a.Line != b.Line {
			return a.Line < b.Line
		}
		return a.Column < b.Column
	})
	if more := r.Told - len(r.Problems); more > 0 {
		r.Problems = append(r.Problems, site.Problem{Place: site.Place{File: r.File}, Subject: "the file",
			Found: fmt.Sprintf("%d more problems", more), Expected: "a file with fewer than that",
			Advice: "Mend the first ones and read the file again."})
	}
	return Result{Job: job, Problems: r.Problems, Sources: r.sources}
}

// section reads one part of the file.
type section struct {
	key  string
	read func(*reader, *node)
}

// early holds the sections that later ones rest on.
func early() []section {
	return []section{
		{"bare", (*reader).readBare},
		{"site", (*reader).readSite},
		{"visit", (*reader).readVisit},
		{"show", (*reader).readShow},
		{"accuracy", (*reader).readAccuracy},
		{"declination", (*reader).readDeclination},
		{"instruments", (*reader).readInstruments},
	}
}

// things holds the sections about what stands and lies on the property, read
// once every name is known.
func things() []section {
	return []section{
		{"buildings", (*reader).readBuildings},
		{"marks", (*reader).readMarks},
		{"parts", (*reader).readParts},
		{"points", (*reader).readPoints},
		{"lines", (*reader).readLines},
		{"features", (*reader).readFeatures},
		{"datum", (*reader).readDatum},
	}
}

// seen holds the sections about what was looked at and what is on record, read
// once the things they speak of are known.
func seen() []section {
	return []section{
		{"cameras", (*reader).readCameras},
		{"boxes", (*reader).readBoxes},
		{"level points", (*reader).readLevelPoints},
		{"record", (*reader).readRecord},
		{"household", (*reader).readHousehold},
		{"soil", (*reader).readSoil},
		{"care", (*reader).readCare},
		{"photos", (*reader).readPhotos},
		{"rules", (*reader).readRules},
	}
}

// planned holds the sections about what is wanted, read last: a reading may have
// made a point of a part that was found by its outline.
func planned() []section {
	return []section{
		{"proposed", (*reader).readProposed},
		{"setbacks", (*reader).readSetbacks},
	}
}

// readings holds the sections of readings, read in the order of the file.
func readings() []section {
	return []section{
		{"ties", (*reader).readTies},
		{"offsets", (*reader).readOffsets},
		{"bearings", (*reader).readBearings},
		{"fixes", (*reader).readFixes},
		{"depths", (*reader).readDepths},
		{"rods", (*reader).readRods},
		{"footages", (*reader).readFootages},
		{"import", (*reader).readImports},
	}
}

func (r *reader) all(root *node) {
	top, ok := r.Fields(root, "the job", inJob)
	if !ok {
		return
	}
	r.readVersion(root, top)
	r.sections(top, early())
	r.gather(top)
	r.gatherLevelPoints(top.Get("level points"), top.Get("boxes"))
	r.sections(top, append(things(), seen()...))
	byKey := map[string]func(*reader, *node){}
	for _, s := range readings() {
		byKey[s.key] = s.read
	}
	for i, k := range root.Keys {
		// The first of repeated keys is the one in top.
		key := values.SectionKey(string(tidy(k.Text)))
		if do := byKey[key]; do != nil && top.Get(key) == root.Items[i] {
			do(r, root.Items[i])
		}
	}
	r.sections(top, planned())
}

// sections reads those that are there, in the order of the list.
func (r *reader) sections(top fields, list []section) {
	for _, s := range list {
		if n := top.Get(s.key); n != nil {
			s.read(r, n)
		}
	}
}

// readVersion holds the file to the one version of the format there is.
func (r *reader) readVersion(root *node, top fields) {
	n := top.Get("undersod")
	switch {
	case n == nil:
		r.Tell(site.Problem{Place: site.Place{File: r.File, Line: 1, Column: 1}, Subject: "the job",
			Expected: "the version of the format on a line of its own", Example: "undersod: 1",
			Advice: "The file is read as version 1."})
	case n.Form != tree.Scalar || n.Text != "1":
		r.Wrong(n, "undersod", "1, the version of the format", "undersod: 1")
	}
}

package jobfile

import (
	"io/fs"

	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile/tell"
	"undersod/internal/jobfile/tree"
	"undersod/internal/jobfile/values"
)

// Limits that keep a hostile or broken file from taking the machine: far above
// what one property needs.
const (
	maxBytes    = 4 << 20
	maxPoints   = 20_000
	maxReadings = 100_000
	maxFindings = 10_000 // findings, camera runs, pictures and what is on record or planned
)

type (
	node   = tree.Node
	entry  = values.Entry
	fields = values.Fields
)

// reader walks the nodes of one job and fills it.
type reader struct {
	*values.Reader
	beside fs.FS
	job    site.Job

	points   map[site.Name]int       // index into job.Site.Points
	outlined map[site.Name]site.Part // parts with an outline whose name is no point yet
	lineOf   map[site.Name]bool      // lines in the file, usable or not
	partOf   map[site.Name]bool      // parts in the file, usable or not
	featured map[site.Name]bool      // features in the file, usable or not
	built    map[site.Name]bool      // buildings in the file, usable or not
	levels   map[site.Name]int       // index into job.Site.LevelPoints
	tools    map[site.Name]bool      // instruments in the file, usable or not
	ids      map[site.ReadingID]bool
	repeats  map[site.ReadingID]int
	seen     int  // findings, camera runs and pictures so far
	full     bool // a limit of points or readings was told
	sources  map[string][]byte
}

func newReader(file string, source []byte, beside fs.FS) *reader {
	return &reader{
		Reader:   &values.Reader{File: file, Source: source, Keys: keyTable, Lenient: inJob},
		beside:   beside,
		job:      site.Job{Show: site.Show{Form: unit.FeetInches, Denominator: 8}},
		points:   map[site.Name]int{},
		outlined: map[site.Name]site.Part{},
		lineOf:   map[site.Name]bool{},
		partOf:   map[site.Name]bool{},
		featured: map[site.Name]bool{},
		built:    map[site.Name]bool{},
		levels:   map[site.Name]int{},
		tools:    map[site.Name]bool{},
		ids:      map[site.ReadingID]bool{},
		repeats:  map[site.ReadingID]int{},
		sources:  map[string][]byte{file: source},
	}
}

// Show prints a problem for a person: where it stands, the line itself with a
// caret under the place, what was expected, an example. What would steer a
// terminal is shown as a dot. source is the text of the file that the problem's
// place names; without it the line is left out.
func Show(source []byte, p site.Problem) string { return tell.Show(source, p) }

// Visible returns text of a job as a terminal may safely show it: a character
// that would steer the terminal or turn the direction of the writing is shown
// as a dot in the middle of the line, a tab as a blank.
func Visible(text string) string { return tell.Visible(text) }

package ties

import (
	"strings"

	"undersod/core/site"
)

// Row is how one part is found again.
type Row struct {
	Name  string
	Cells []string // "A 23' 4 1/2\"", and how deep and how high where that was measured
	Alone int      // how many of the first cells take a line of their own
	Sure  string   // its 95 % radius, or why that is not told
}

// Table is how the parts are found again, with the footnotes that its marks need.
type Table struct {
	Rows  []Row
	Notes []string
	High  []string // the rows with a height
	Bench string   // the bench mark of those heights, empty where there are none
}

// Of makes the table of a job, its parts in the order of the plan and after them
// the tanks found with a probe.
func Of(x *Index) Table {
	f := &finder{x: x, say: NewWording(x.job.Show), notesUsed: map[string]bool{}, heights: x.heights()}
	t := Table{Rows: f.rows(), High: f.high}
	for _, n := range footnotes {
		if f.notesUsed[n.mark] {
			t.Notes = append(t.Notes, n.mark+" "+n.words)
		}
	}
	if len(t.High) > 0 {
		t.Bench = Clean(string(f.heights.bench[0].Point))
		t.Notes = append(t.Notes, f.heights.note())
	}
	return t
}

// finder makes a table.
type finder struct {
	x      *Index
	say    Wording
	states map[site.ReadingID]int // index of a reading in the plan

	notesUsed map[string]bool // marks of the table's footnotes that are used
	heights   heights
	high      []string // names of the rows with a height
}

// rows lists the parts with the readings that find them again.
func (f *finder) rows() []Row {
	taken := f.readings()
	var out []Row
	for _, p := range f.x.plan.Points {
		if !f.x.Judged(p) || f.x.Outlined(p.Name) {
			continue
		}
		if _, ok := f.x.Located(p.Name); !ok {
			continue
		}
		r := Row{Name: Clean(string(p.Name)), Sure: "?"}
		r.Cells = f.found(p, taken)
		if d := taken.depth[p.Name]; d != "" {
			r.Cells = append(r.Cells, d+" deep")
		}
		f.rise(&r, p.Name)
		r.Sure = f.sure(p)
		out = append(out, r)
	}
	return append(out, f.probed()...)
}

// rise adds the heights of a part to its row, and those of a box's openings.
func (f *finder) rise(r *Row, n site.Name) {
	cells := f.heights.cells(n, "")
	for _, b := range f.x.job.Visit.Boxes {
		if b.Part != n {
			continue
		}
		if b.Inlet != nil && b.Inlet.Rod != n {
			cells = append(cells, f.heights.cells(b.Inlet.Rod, "inlet ")...)
		}
		for _, o := range b.Outlets {
			if o.Rod != n {
				cells = append(cells, f.heights.cells(o.Rod, Clean(string(o.Line))+" ")...)
			}
		}
	}
	if len(cells) > 0 {
		r.Cells, f.high = append(r.Cells, cells...), append(f.high, r.Name)
	}
}

// Doubted tells whether the row gives no 95 % radius because of doubt.
func (r Row) Doubted() bool { return strings.HasPrefix(r.Sure, InDoubt) }

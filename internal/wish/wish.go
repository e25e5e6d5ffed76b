// Package wish reads what a person asks for on the command line, a footprint
// and where it shall stand, into the same words that a job file has for it.
package wish

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"undersod/core/english"
	"undersod/core/site"
	"undersod/core/unit"
)

// Flags is what was typed, each empty where it was not.
type Flags struct {
	Size     string // 24x16, 24' x 16', 7.5m x 5m
	Outline  string // 0,0; 24',0; 24',16'; 0,16'
	Kind     string // structure, pool, well or driveway
	Class    string
	Turn     string // any, or an azimuth
	Step     string // of the turns tried, as 5
	Along    string // F-E
	Near     string
	At       string // a point, or F-E 30' right 60'
	FromLot  string
	Bedrooms int // NotTyped where it was not
}

// NotTyped is the count of bedrooms that nobody typed.
const NotTyped = math.MinInt

// Sized tells whether the flags describe a footprint of their own.
func (f Flags) Sized() bool { return f.Size != "" || f.Outline != "" || f.Kind != "" }

// Any tells whether anything was typed.
func (f Flags) Any() bool {
	return f != Flags{Bedrooms: NotTyped}
}

// Apply sets what was typed in p, which may hold what a job proposes. Names are
// those of the job, and numbers without a unit are in the job's. The error says
// which flag, what was read and what would be right.
func Apply(f Flags, job *site.Job, p *site.Proposed) error {
	r := reader{job: job, bare: Bare(job)}
	r.kind(f, p)
	r.size(f, p)
	r.turn(f, p)
	r.place(f, p)
	if f.FromLot != "" {
		p.FromLot = r.length("--from-property-line", f.FromLot)
	}
	r.bedrooms(f, p)
	return r.err
}

// manyBedrooms is more than one building has.
const manyBedrooms = 99

func (r *reader) bedrooms(f Flags, p *site.Proposed) {
	switch {
	case f.Bedrooms == NotTyped:
		return
	case f.Bedrooms < 0 || f.Bedrooms > manyBedrooms:
		r.wrong("--bedrooms %d: write how many it adds, from 0 to %d", f.Bedrooms, manyBedrooms)
	case f.Bedrooms > 0 && p.Kind != site.Structure:
		r.wrong("--bedrooms %d: a %s has none; only a structure adds bedrooms", f.Bedrooms, p.Kind)
	}
	p.Bedrooms = f.Bedrooms
}

// Bare is what a number without a unit is in: feet, or metres in a metric job.
func Bare(job *site.Job) unit.Form {
	if job.Show.Form == unit.Metres {
		return unit.Metres
	}
	return unit.FeetInches
}

// Example is a size as a person of the job would type it.
func Example(job *site.Job) string {
	if Bare(job) == unit.Metres {
		return "--size 7.5x5"
	}
	return "--size 24x16"
}

// Step reads the step of the turns that are tried, from 0.1 to 90 degrees.
func Step(text string) (unit.Angle, error) {
	a, err := unit.ParseAngle(text)
	if err != nil || a < unit.Degree/10 || a > 90*unit.Degree {
		return 0, fmt.Errorf("--step %s is not understood; write degrees from 0.1 to 90, as --step 5", text)
	}
	return a, nil
}

// reader keeps the first thing that is wrong.
type reader struct {
	job  *site.Job
	bare unit.Form
	err  error
}

func (r *reader) wrong(format string, args ...any) {
	if r.err == nil {
		r.err = fmt.Errorf(format, args...)
	}
}

func (r *reader) kind(f Flags, p *site.Proposed) {
	if f.Class != "" {
		p.Class = f.Class
	}
	if f.Kind == "" {
		return
	}
	kinds := site.ProposedKinds()
	if !slices.Contains(kinds, site.FeatureKind(f.Kind)) {
		r.wrong("--kind %s is not known; there are %s", f.Kind, english.And(kinds))
		return
	}
	p.Kind = site.FeatureKind(f.Kind)
}

func (r *reader) size(f Flags, p *site.Proposed) {
	switch {
	case f.Size != "" && f.Outline != "":
		r.wrong("--size and --outline say the same twice: keep one of them")
	case p.Kind == site.Well && (f.Size != "" || f.Outline != ""):
		r.wrong("a well has no size: leave --size and --outline away")
	case p.Kind == site.Well:
		p.Length, p.Width, p.Outline = nil, nil, nil
	case f.Size != "":
		p.Outline = nil
		p.Length, p.Width = r.sides(f.Size)
	case f.Outline != "":
		p.Length, p.Width = nil, nil
		p.Outline = r.corners(f.Outline)
	}
}

// sides reads a length and a width.
func (r *reader) sides(text string) (length, width *unit.Written) {
	parts := strings.FieldsFunc(text, func(c rune) bool { return c == 'x' || c == 'X' || c == '×' })
	if len(parts) != 2 {
		r.wrong("--size %s is not understood; write length and width, as %s, --size \"24' x 16'\" or --size \"7.5m x 5m\"", text, Example(r.job))
		return nil, nil
	}
	length, width = r.length("--size", parts[0]), r.length("--size", parts[1])
	for _, l := range []*unit.Written{length, width} {
		if l != nil && !(l.Length > 0) {
			r.wrong("--size %s: both sides must be longer than nothing", text)
		}
	}
	return length, width
}

// manyCorners is more than any building has; a longer list is a slip.
const manyCorners = 200

// corners reads steps along and to the right, parted by commas, a corner by
// semicolons; the brackets of a job file may stand round them.
func (r *reader) corners(text string) []site.Stake {
	const example = `--outline "0,0; 24',0; 24',16'; 0,16'"`
	plain := strings.NewReplacer("[", "", "],", ";", "]", "").Replace(strings.ReplaceAll(text, "] ,", "],"))
	parts := strings.Split(strings.TrimRight(plain, "; "), ";")
	if len(parts) < 3 || len(parts) > manyCorners {
		r.wrong("--outline has %d corners; write 3 to %d, each a step along its length and one to the right of it, as %s", len(parts), manyCorners, example)
		return nil
	}
	var out []site.Stake
	for i, corner := range parts {
		along, right, ok := strings.Cut(corner, ",")
		if !ok {
			r.wrong("--outline: corner %d, %q, is not understood; write a step along its length and one to the right of it, as %s", i+1, strings.TrimSpace(corner), example)
			return nil
		}
		a, b := r.length("--outline", along), r.length("--outline", right)
		if a == nil || b == nil {
			return nil
		}
		out = append(out, site.Stake{Along: a.Length, Right: b.Length})
	}
	return out
}

func (r *reader) turn(f Flags, p *site.Proposed) {
	switch {
	case f.Turn != "" && f.Along != "":
		r.wrong("--turn and --along both say how its length runs: keep one of them")
	case f.Turn == "any":
		p.Turn, p.Along = nil, nil
	case f.Turn != "":
		a, err := unit.ParseBearing(f.Turn)
		if err != nil {
			r.wrong("--turn %s: %v; or --turn any", f.Turn, err)
			return
		}
		p.Turn, p.Along = &a.Angle, nil
	case f.Along != "":
		from, to, ok := r.baseline(f.Along)
		if !ok {
			r.wrong("--along %s is not understood; write two points of the job with a hyphen between, as --along A-B", f.Along)
			return
		}
		p.Along, p.Turn = &[2]site.Name{from, to}, nil
	}
}

func (r *reader) place(f Flags, p *site.Proposed) {
	if f.Near != "" && f.At != "" {
		r.wrong("--near seeks the place and --at states it: keep one of them")
		return
	}
	if f.Near != "" {
		p.Near, p.At = tidy(f.Near), nil
		r.named("--near", p.Near)
	}
	if f.At != "" {
		p.At, p.Near = r.stand(f.At), ""
	}
}

// stand reads a point, or a baseline, a station and a distance right or left.
func (r *reader) stand(text string) *site.Stand {
	if name := tidy(text); r.isPoint(name) {
		return &site.Stand{Point: name}
	}
	base, across, left := text, "", false
	for _, side := range []string{" right ", " left "} {
		if i := strings.LastIndex(text, side); i >= 0 {
			base, across, left = text[:i], text[i+len(side):], side == " left "
		}
	}
	if across == "" {
		r.wrong("--at %s is not understood; write a point of the job%s, or two points, a station and a distance, as --at \"F-E 30' right 60'\"", text, r.meant(tidy(text), r.points()))
		return nil
	}
	s, ok := r.station(base)
	w, err := unit.ParseLength(across, r.bare)
	if !ok || err != nil {
		r.wrong("--at %s is not understood; write two points of the job, a station and a distance right or left, as --at \"F-E 30' right 60'\"", text)
		return nil
	}
	if s.Right = w; left {
		s.Right.Length = -w.Length
	}
	return &s
}

// station reads "Pin 1-Pin 2 30'". Names may hold blanks, so that every blank
// is tried.
func (r *reader) station(text string) (site.Stand, bool) {
	text = string(tidy(text))
	for i, c := range text {
		if c != ' ' {
			continue
		}
		w, err := unit.ParseLength(text[i+1:], r.bare)
		if err != nil {
			continue
		}
		if from, to, ok := r.baseline(text[:i]); ok {
			return site.Stand{From: from, To: to, Station: w}, true
		}
	}
	return site.Stand{}, false
}

// baseline takes "A-B" apart at the hyphen that leaves a known name on both
// sides; names may hold hyphens themselves.
func (r *reader) baseline(text string) (from, to site.Name, ok bool) {
	for i, c := range text {
		if c != '-' && c != '–' {
			continue
		}
		a, b := tidy(text[:i]), tidy(strings.TrimLeft(text[i:], string(c)))
		if a != b && r.isPoint(a) && r.isPoint(b) {
			return a, b, true
		}
	}
	return "", "", false
}

func (r *reader) length(flag, text string) *unit.Written {
	w, err := unit.ParseLength(text, r.bare)
	if err != nil {
		r.wrong("%s %s: %v", flag, strings.TrimSpace(text), err)
		return nil
	}
	if _, err := strconv.ParseFloat(w.Text, 64); err == nil { // told with its unit
		w.Text += map[unit.Form]string{unit.Metres: " m", unit.FeetInches: "'"}[r.bare]
	}
	return &w
}

// points lists what has a place of its own: points, and parts with an outline.
func (r *reader) points() []string {
	var out []string
	for _, p := range r.job.Site.Points {
		out = append(out, string(p.Name))
	}
	for _, p := range r.job.Site.Parts {
		out = append(out, string(p.Name))
	}
	return out
}

func (r *reader) isPoint(name site.Name) bool { return slices.Contains(r.points(), string(name)) }

// named tells a name of nothing.
func (r *reader) named(flag string, name site.Name) {
	known := r.points()
	for _, b := range r.job.Site.Buildings {
		known = append(known, string(b.Name))
	}
	for _, f := range r.job.Site.Features {
		known = append(known, string(f.Name))
	}
	if !slices.Contains(known, string(name)) {
		r.wrong("%s %s: the job has no point, part, building or feature of that name%s", flag, name, r.meant(name, known))
	}
}

// meant names what was likely meant.
func (r *reader) meant(name site.Name, known []string) string {
	if len(name) < 100 {
		if near, ok := english.Nearest(string(name), known); ok {
			return fmt.Sprintf(" (did you mean %q?)", near)
		}
	}
	return ""
}

func tidy(s string) site.Name { return site.Name(strings.Join(strings.Fields(s), " ")) }

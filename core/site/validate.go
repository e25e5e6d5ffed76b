package site

import (
	"fmt"
	"slices"
)

// Validate checks a job as a whole and returns everything wrong in it, in the
// order of the job: names used twice, names of nothing, buildings and lines
// that cannot be, readings, camera runs and boxes that cannot be right. A building whose sides do not
// close is not among them: the adjustment says so, with the misclosure.
func Validate(job Job) []Problem {
	_, problems := Usable(job)
	return problems
}

// Usable returns the job with what cannot be used taken out, and everything
// wrong in it. Buildings, lines, outlines and hints in error are left out, as
// are readings of points, lines or instruments that do not exist. A reading
// whose value cannot be right stays as written: the adjustment names it and
// does not use it. The job given is not changed.
func Usable(job Job) (Job, []Problem) {
	c := newChecker(job)
	c.instruments(&job)
	c.points(&job)
	c.buildings(&job)
	c.parts(&job)
	c.lines(&job)
	c.features(&job)
	c.levelPoints(&job)
	c.datum(&job)
	c.readings(&job)
	c.seen(&job)
	c.proposed(&job)
	c.setbacks(&job)
	return job, c.problems
}

// seen checks what was looked at, what is on record and who lives there.
func (c *checker) seen(job *Job) {
	c.runs(job)
	c.atParts(job)
	c.built(job)
	c.boxes(job)
	c.photos(job)
	c.record(job)
	c.lived(job)
	c.care(job)
}

// checker collects problems while it walks a job.
type checker struct {
	problems []Problem
	pointSet map[Name]bool
	outlined map[Name]bool // parts that have an outline
	lineSet  map[Name]Line
	badLine  map[Name]bool // lines left out, which was told
	levelSet map[Name]bool // level points
	rodded   map[Name]bool // on whose invert a rod stood
	tools    map[Name]bool
	walls    map[[2]Name]bool // every building's sides, both ways
	turned   bool             // the visit states a declination
	noNorth  bool             // the missing declination was told
}

func newChecker(job Job) *checker {
	c := &checker{pointSet: make(map[Name]bool, len(job.Site.Points)), outlined: map[Name]bool{}, lineSet: map[Name]Line{}, badLine: map[Name]bool{},
		levelSet: map[Name]bool{}, rodded: map[Name]bool{},
		tools: map[Name]bool{}, walls: map[[2]Name]bool{}, turned: job.Visit.Declination != nil}
	for _, p := range job.Site.Points {
		c.pointSet[p.Name] = true
	}
	for _, p := range job.Site.Parts {
		c.outlined[p.Name] = p.Outline != nil
	}
	for _, b := range job.Site.Buildings {
		for i, from := range b.Corners {
			to := b.Corners[(i+1)%len(b.Corners)]
			c.walls[[2]Name{from, to}], c.walls[[2]Name{to, from}] = true, true
		}
	}
	return c
}

// tell adds a mistake.
func (c *checker) tell(at Place, subject, found, expected, example string) {
	c.problems = append(c.problems, Problem{Place: at, Subject: subject, Found: found, Expected: expected, Example: example})
}

// remark adds something to look at.
func (c *checker) remark(at Place, subject, found, expected, advice string) {
	c.problems = append(c.problems, Problem{Place: at, Subject: subject, Found: found, Expected: expected,
		Advice: advice, Severity: Remark})
}

// count prints a number of things in words.
func count(n int, thing string) string {
	switch n {
	case 0:
		return "no " + thing
	case 1:
		return "only one " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// exists tells a name that no point has.
func (c *checker) exists(at Place, subject string, name Name) bool {
	if c.pointSet[name] {
		return true
	}
	c.tell(at, subject, string(name), "the name of a point of the site", "")
	return false
}

// once keeps the things whose name was not used before in their group.
func once[T any](c *checker, what string, list []T, of func(T) (Name, Place)) []T {
	seen := make(map[Name]bool, len(list))
	return slices.DeleteFunc(slices.Clone(list), func(x T) bool {
		name, at := of(x)
		if !seen[name] {
			seen[name] = true
			return false
		}
		c.tell(at, what+" "+string(name), string(name), "a name that no other "+what+" has", "")
		return true
	})
}

func (c *checker) instruments(job *Job) {
	list := once(c, "instrument", job.Visit.Instruments, func(in Instrument) (Name, Place) { return in.Name, in.Place })
	for i := range list {
		in := &list[i]
		c.tools[in.Name] = true
		bad := in.Fixed != nil && !(*in.Fixed >= 0) || in.PerUnit != nil && !(*in.PerUnit >= 0) ||
			in.Angle != nil && !(*in.Angle > 0)
		nothing := in.Fixed != nil && *in.Fixed == 0 && (in.PerUnit == nil || *in.PerUnit == 0)
		if bad || nothing {
			c.tell(in.Place, "sd of instrument "+string(in.Name), "zero or less", "a standard deviation above zero", "0.05 ft + 0.1%")
			in.Fixed, in.PerUnit, in.Angle = nil, nil, nil
		}
	}
	for _, k := range InstrumentKinds() {
		c.tools[Name(k)] = true
	}
	job.Visit.Instruments = list
}

func (c *checker) points(job *Job) {
	job.Site.Points = once(c, "point", job.Site.Points, func(p Point) (Name, Place) { return p.Name, p.Place })
	for i := range job.Site.Points {
		c.hints(&job.Site.Points[i])
	}
}

// hints checks the side hints and the rough position of a point.
func (c *checker) hints(p *Point) {
	p.Sides = slices.DeleteFunc(slices.Clone(p.Sides), func(s Side) bool { return !c.side(p, s) })
	for i, s := range p.Sides {
		for _, before := range p.Sides[:i] {
			if contradict(before, s) {
				c.tell(s.Place, "side of "+string(p.Name), s.Text,
					fmt.Sprintf("hints that agree: %q says the other side", before.Text), "")
				p.Sides = nil // neither can be trusted
				break
			}
		}
		if p.Sides == nil {
			break
		}
	}
	if r := p.Rough; r != nil && r.From != "" && !c.baseline(r.Place, "rough position of "+string(p.Name), r.From, r.To) {
		p.Rough = nil
	}
}

func (c *checker) side(p *Point, s Side) bool {
	subject := "side of " + string(p.Name)
	if !c.baseline(s.Place, subject, s.From, s.To) {
		return false
	}
	if s.From == p.Name || s.To == p.Name {
		c.tell(s.Place, subject, s.Text, "a baseline that the point itself is no end of", "lawn side of A-B")
		return false
	}
	if s.Kind == Outside && !c.walls[[2]Name{s.From, s.To}] {
		c.tell(s.Place, subject, s.Text, "a wall of a building: two corners next to each other",
			fmt.Sprintf("left of %s-%s", s.From, s.To))
		return false
	}
	return true
}

// contradict tells whether two hints name opposite sides of one line.
func contradict(a, b Side) bool {
	if a.Kind == Outside || b.Kind == Outside {
		return false
	}
	same := a.From == b.From && a.To == b.To
	turned := a.From == b.To && a.To == b.From
	return same && a.Kind != b.Kind || turned && a.Kind == b.Kind
}

// baseline checks that both ends exist and differ.
func (c *checker) baseline(at Place, subject string, from, to Name) bool {
	ok := c.exists(at, subject, from)
	ok = c.exists(at, subject, to) && ok
	if ok && from == to {
		c.tell(at, subject, fmt.Sprintf("%s-%s", from, to), "a baseline between two different points", "A-B")
		return false
	}
	return ok
}

func (c *checker) datum(job *Job) {
	d := &job.Datum
	if d.Kind != DatumBaseline {
		return
	}
	if !c.baseline(d.Place, "datum", d.Mark, d.Toward) {
		*d = Datum{Place: d.Place}
	}
}

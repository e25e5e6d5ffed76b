package judge

import (
	"fmt"
	"math"

	"undersod/core/english"
	"undersod/core/hydraulic"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/storage"
	"undersod/core/unit"
)

// How long and how finely the field is followed. The step does not change the
// answer within a step: the course is exact.
const (
	followedDays = 7
	followedStep = storage.Seconds(600)
)

// Where a job states no other; common practice, no source: cautious for washed
// stone, for which 0.35 to 0.40 is usual.
const commonPorosity = 0.35

// storage follows the field through a week from empty, as it is and with each
// line out of use.
func (w *work) storage() {
	run, notes, missing := w.run()
	if missing != "" {
		w.miss("How the field fills and drains: " + missing)
		return
	}
	s := &Storage{Run: run, Assumptions: notes}
	var err error
	if s.Now, err = storage.Follow(run); err != nil {
		w.miss("How the field fills and drains: " + err.Error() + ".")
		return
	}
	s.Words = w.courses(s.Now, run)
	inUse := 0
	for _, t := range run.Trenches {
		if !t.OutOfUse {
			inUse++
		}
	}
	for i := range run.Trenches {
		if inUse < 2 || run.Trenches[i].OutOfUse {
			continue
		}
		one := run
		one.Trenches = append([]storage.Trench(nil), run.Trenches...)
		one.Trenches[i].OutOfUse = true
		one.Divide = w.divider(one.Trenches)
		if r, err := storage.Follow(one); err == nil {
			s.Without = append(s.Without, Without{Line: site.Name(one.Trenches[i].Name), Result: r})
			s.Words = append(s.Words, fmt.Sprintf("With %s out of use: %s", one.Trenches[i].Name, w.worst(r, one)))
		}
	}
	w.out.Storage = s
}

// run gathers what is followed, what was assumed, and what keeps it from being
// known.
func (w *work) run() (r storage.Run, notes []string, missing string) {
	daily, words := w.daily()
	rate, from := w.rate()
	switch {
	case len(w.drains()) == 0:
		return r, nil, "the job has no drain line."
	case daily <= 0:
		return r, nil, "the daily flow is not known; enter household: bedrooms, or where the rule pack has no flow of its own record: daily flow, or household: daily flow."
	case rate <= 0:
		return r, nil, "the rate at which the soil takes water is not known; enter soil: loading, or choose a rule pack that states loading rates."
	}
	notes = append(notes, "Inflow: "+words+", by "+w.hoursWords()+".",
		fmt.Sprintf("The soil takes %s, %s.", w.say.FormatLoading(rate), from))
	bottom, side := w.faces()
	for _, l := range w.drains() {
		t, note, lacking := w.store(l, rate)
		if lacking != "" && l.OutOfUse {
			continue // nothing flows into it, whatever its size
		}
		if lacking != "" {
			return r, nil, lacking
		}
		t.Bottom, t.Side = bottom, side
		r.Trenches = append(r.Trenches, t)
		notes = append(notes, note...)
	}
	if len(r.Trenches) == 0 {
		return r, nil, "no drain line is in use."
	}
	notes = append(notes, "Water soaks away through "+facesWords(bottom, side)+". Every trench starts empty, and its bottom is taken as level.")
	r.Daily, r.Hours = unit.Volume(daily)*86400, w.hours()
	r.Days, r.Step, r.Divide = followedDays, followedStep, w.divider(r.Trenches)
	if r.Divide == nil {
		notes = append(notes, "How the box divides the flow is not known: equal shares are taken.")
	}
	return r, unique(notes), ""
}

// rate is the loading rate of the soil: the permit's own, or the pack's where
// its method has one.
func (w *work) rate() (unit.Loading, string) {
	if l := w.job.Site.Soil.Loading; l > 0 {
		return l, "the loading rate that the job states"
	}
	if r := w.out.Capacity.Required; r.Known && r.Loading > 0 {
		if r.Guide {
			return r.Loading, "by " + r.Source.Title + ", as a guide: the rule does not cover this flow"
		}
		return r.Loading, "by " + r.Source.Title
	}
	return 0, ""
}

// faces are the faces of a trench that count by the pack.
func (w *work) faces() (bottom, side bool) {
	if w.pack.Field == nil {
		return true, false
	}
	c := w.pack.Field.Counts
	return c != rules.CountSides, c == rules.CountSides || c == rules.CountBoth
}

func facesWords(bottom, side bool) string {
	switch {
	case bottom && side:
		return "the bottom and the wetted sides of each trench"
	case side:
		return "the wetted sides of each trench"
	}
	return "the bottom of each trench"
}

// store is one line as a store of water.
func (w *work) store(l site.Line, rate unit.Loading) (t storage.Trench, notes []string, missing string) {
	a := w.trench(l)
	switch {
	case a.Length <= 0:
		return t, nil, fmt.Sprintf("the length of %s is not known.", l.Name)
	case a.Width <= 0:
		return t, nil, fmt.Sprintf("the width of the trench of %s is not known; enter its trench width.", l.Name)
	case a.StoneBelow <= 0:
		return t, nil, fmt.Sprintf("the depth of stone under %s is not known; enter its stone below.", l.Name)
	}
	bore := w.bore(l)
	t = storage.Trench{Name: string(l.Name), Length: a.Length, Width: a.Width, Height: a.StoneBelow + bore,
		Porosity: l.Porosity, Rate: rate, OutOfUse: l.OutOfUse}
	if t.Porosity == 0 {
		t.Porosity = commonPorosity
		notes = append(notes, fmt.Sprintf("Voids of the stone: %s (common practice, no source).", percent(commonPorosity)))
	}
	if bore == 0 {
		return t, append(notes, fmt.Sprintf("%s holds water up to the bottom of its pipe, %s over the trench's bottom: the bore of its pipe is not known.", l.Name, w.say.Format(t.Height))), ""
	}
	notes = append(notes, fmt.Sprintf("%s holds water up to the top of its pipe, %s over the trench's bottom.", l.Name, w.say.Format(t.Height)))
	return t, notes, ""
}

// bore is the inside diameter of a line's pipe, or of its opening in the box.
func (w *work) bore(l site.Line) unit.Length {
	if l.Bore > 0 {
		return l.Bore
	}
	for _, b := range w.job.Visit.Boxes {
		for _, o := range b.Outlets {
			if o.Line == l.Name {
				return o.Bore
			}
		}
		if b.Inlet != nil && b.Inlet.Line == l.Name {
			return b.Inlet.Bore
		}
	}
	return 0
}

// divider sends flow by the box that feeds all the trenches, nil where there is
// none whose split is known.
func (w *work) divider(trenches []storage.Trench) storage.Divider {
	openings := w.feeding(trenches)
	if openings == nil {
		return nil
	}
	type key struct {
		flow unit.Flow
		full string
	}
	known := map[key][]float64{}
	return func(inflow unit.Flow, full []bool) []float64 {
		k := key{inflow, mask(full)}
		if s, ok := known[k]; ok {
			return s
		}
		s := shares(openings, trenches, inflow, full)
		known[k] = s
		return s
	}
}

func mask(full []bool) string {
	b := make([]byte, len(full))
	for i, f := range full {
		if f {
			b[i] = 1
		}
	}
	return string(b)
}

// shares is the split with what is full or out of use closed; equal among the
// rest where the split fails.
func shares(openings []hydraulic.Opening, trenches []storage.Trench, inflow unit.Flow, full []bool) []float64 {
	open := append([]hydraulic.Opening(nil), openings...)
	out := make([]float64, len(open))
	some := 0
	for i := range open {
		open[i].Closed = open[i].Closed || full[i] || trenches[i].OutOfUse
		if !open[i].Closed {
			some++
		}
	}
	if some == 0 {
		return out
	}
	s, err := hydraulic.Divide(open, inflow)
	for i := range out {
		switch {
		case err == nil:
			out[i] = s.Shares[i].Share
		case !open[i].Closed:
			out[i] = 1 / float64(some)
		}
	}
	return out
}

// feeding finds the openings of the one box that feeds every trench, in the
// order of the trenches.
func (w *work) feeding(trenches []storage.Trench) []hydraulic.Opening {
	for _, b := range w.out.Boxes {
		if !w.known[b.Part] {
			continue
		}
		var out []hydraulic.Opening
		for _, t := range trenches {
			for _, o := range b.Openings {
				if o.Name == t.Name {
					out = append(out, o)
				}
			}
		}
		if len(out) == len(trenches) {
			return out
		}
	}
	return nil
}

// courses tells of each line how far it fills.
func (w *work) courses(r storage.Result, run storage.Run) []string {
	var out []string
	for i, c := range r.Courses {
		t := run.Trenches[i]
		switch {
		case t.OutOfUse:
			out = append(out, fmt.Sprintf("%s is out of use and takes no flow.", c.Name))
		case c.Full:
			out = append(out, fmt.Sprintf("%s ponds to its top after %s.", c.Name, timeWords(c.FullAt)))
		default:
			out = append(out, fmt.Sprintf("%s ponds at most %s of its %s.%s", c.Name, w.say.Format(c.Highest), w.say.Format(t.Height), w.gains(c, t)))
		}
	}
	if r.Backed > 0 {
		out = append(out, fmt.Sprintf("After %s every line is full and water backs up, %s in all.", timeWords(r.BackAt), w.say.FormatVolume(r.Backed)))
	}
	return out
}

// gains says when a line that keeps rising from day to day would be full.
func (w *work) gains(c storage.Course, t storage.Trench) string {
	day := int(86400 / float64(followedStep))
	n := len(c.Level)
	if n < 2*day {
		return ""
	}
	gain := c.Level[n-1] - c.Level[n-1-day]
	if gain <= t.Height/200 {
		return ""
	}
	days := float64(followedDays) + float64((t.Height-c.Level[n-1])/gain)
	return fmt.Sprintf(" It gains %s a day and would be full in about %.0f days.", w.fineLength(gain), math.Ceil(days))
}

// worst tells the outcome of a field in one sentence.
func (w *work) worst(r storage.Result, run storage.Run) string {
	full, first := 0, ""
	at := storage.Seconds(math.Inf(1))
	for i, c := range r.Courses {
		if c.Full && !run.Trenches[i].OutOfUse {
			full++
			if c.FullAt < at {
				at, first = c.FullAt, c.Name
			}
		}
	}
	switch {
	case r.Backed > 0:
		return fmt.Sprintf("water backs up after %s.", timeWords(r.BackAt))
	case full > 0:
		return fmt.Sprintf("%s ponds to its top first, after %s.", first, timeWords(at))
	}
	return fmt.Sprintf("no line ponds to its top within %d days.", followedDays)
}

// timeWords prints a time span as days and hours.
func timeWords(s storage.Seconds) string {
	hours := int(math.Round(float64(s) / 3600))
	switch d, h := hours/24, hours%24; {
	case d == 0:
		return english.Count(max(h, 1), "hour")
	case h == 0:
		return english.Count(d, "day")
	default:
		return english.Count(d, "day") + " and " + english.Count(h, "hour")
	}
}

func unique(list []string) []string {
	var out []string
	seen := map[string]bool{}
	for _, s := range list {
		if !seen[s] {
			seen[s] = true
			out = append(out, s)
		}
	}
	return out
}

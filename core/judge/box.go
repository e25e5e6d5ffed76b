package judge

import (
	"fmt"
	"math"
	"slices"

	"undersod/core/english"
	"undersod/core/hydraulic"
	"undersod/core/level"
	"undersod/core/site"
	"undersod/core/storage"
	"undersod/core/unit"
)

// Where a job says nothing else.
const (
	// commonSurge is a washing machine or a bath emptying; common practice, no
	// source.
	commonSurge = 5 * unit.GallonPerMinute
	// splitTolerance is how far a share may be from the wanted one before a
	// correction is proposed. It is no rule's: published rules ask for equal
	// levels and give no tolerance.
	splitTolerance = 0.05
	// correctionStep is what a person can set with an adjustable outlet, and
	// metricStep in a metric job.
	correctionStep = unit.Inch / 16
	metricStep     = unit.Millimetre
	// sensitivityStep is what an outlet is moved by to show what it does.
	sensitivityStep = unit.Inch / 8
)

// boxes judges every opened box.
func (w *work) boxes() {
	for i := range w.job.Visit.Boxes {
		w.out.Boxes = append(w.out.Boxes, w.box(w.job.Visit.Boxes[i]))
	}
}

func (w *work) box(measured site.Box) Box {
	b := Box{Box: level.Measure(measured, w.plan.Net, w.say)}
	b.Openings, b.Missing = w.openings(measured, b.Box)
	for _, m := range b.Missing {
		w.miss(m)
	}
	if len(b.Missing) > 0 || len(b.Openings) == 0 {
		return b
	}
	w.known[b.Part] = true
	for _, f := range w.inflows() {
		if s, err := hydraulic.Divide(b.Openings, f.Split.Inflow); err == nil {
			f.Split = s
			b.Splits = append(b.Splits, f)
		} else {
			b.Missing = unique(append(b.Missing, fmt.Sprintf("How %s divides its flow: %s.", measured.Part, err)))
		}
	}
	for _, m := range b.Missing {
		w.miss(m)
	}
	w.correct(&b)
	return b
}

// correct proposes what would make the shares as wanted, at the inflow that
// stands first, and says what one step does.
func (w *work) correct(b *Box) {
	if len(b.Splits) == 0 || len(b.Openings) < 2 {
		return
	}
	at, _ := b.Reference()
	step := correctionStep
	if w.say.Form == unit.Metres {
		step = metricStep
	}
	if c, err := hydraulic.Correct(b.Openings, at.Split.Inflow, splitTolerance, step); err == nil {
		b.Correction = &c
	}
	if c, err := hydraulic.Correct(alike(b.Openings), at.Split.Inflow, splitTolerance, step); err == nil {
		b.Level = &c
	}
	if s, err := hydraulic.Sense(b.Openings, at.Split.Inflow, sensitivityStep); err == nil {
		b.Sensitivity = s
	}
	low, high := 1.0, 0.0
	for _, s := range at.Split.Shares {
		low, high = min(low, s.Share), max(high, s.Share)
	}
	b.SpreadWords = fmt.Sprintf("The outlets of %s differ by %s, within %s. At %s (%s) the shares run from %.0f %% to %.0f %%. "+
		"Published rules ask for equal levels and state no tolerance in inches.",
		b.Part, w.fineLength(b.Spread), w.fineLength(unit.Length(normal95)*b.SpreadSD), w.say.FormatPumpFlow(at.Split.Inflow), at.Name, 100*low, 100*high)
}

// alike are openings of which every one should have an equal share.
func alike(list []hydraulic.Opening) []hydraulic.Opening {
	out := slices.Clone(list)
	for i := range out {
		out[i].Wanted = 0
	}
	return out
}

// Above says what the water of a split reaches besides the outlets, empty where
// it stays below inlet and lid.
func (b Box) Above(s hydraulic.Split) string {
	level := s.Lowest + s.Water
	switch {
	case b.Lid != nil && level >= *b.Lid:
		return "the box would overflow at the lid"
	case b.Inlet != nil && b.Inlet.Known && level > b.Inlet.At:
		return "the water would stand in the inlet pipe"
	}
	return ""
}

// fineLength prints a small length to the sixteenth of an inch.
func (w *work) fineLength(l unit.Length) string { return w.say.Small().Format(l) }

// openings are the outlets of a box as the split takes them. Missing says what
// keeps the split from being known.
func (w *work) openings(measured site.Box, found level.Box) (out []hydraulic.Opening, missing []string) {
	if len(measured.Outlets) != len(found.Outlets) {
		return nil, nil
	}
	if len(measured.Outlets) == 0 {
		return nil, []string{fmt.Sprintf("How %s divides its flow: no outlet was entered; enter its outlets, each with its down reading and bore.", measured.Part)}
	}
	wanted := w.wanted(measured)
	for i, o := range measured.Outlets {
		line, _ := w.line(o.Line)
		h := hydraulic.Opening{Name: string(o.Line), Invert: found.Outlets[i].At, Bore: o.Bore,
			Closed: o.Closed || line.OutOfUse || o.Narrowed >= 1, Narrowed: o.Narrowed, Wanted: wanted[i]}
		switch {
		case h.Closed:
			h.Narrowed = 0
		case !found.Outlets[i].Known:
			missing = append(missing, fmt.Sprintf("How %s divides its flow: the level of the outlet of %s is not known; enter its down reading, or a rod reading on its invert.", measured.Part, o.Line))
		case o.Bore <= 0:
			missing = append(missing, fmt.Sprintf("How %s divides its flow: the inside diameter of the outlet of %s is not known; enter its bore.", measured.Part, o.Line))
		}
		out = append(out, h)
	}
	return out, missing
}

// wanted weighs each outlet by the absorption area behind it, or all alike
// where one is not known.
func (w *work) wanted(b site.Box) []float64 {
	out := make([]float64, len(b.Outlets))
	for i, o := range b.Outlets {
		a, ok := w.areas[o.Line]
		if line, known := w.line(o.Line); known && line.OutOfUse || o.Closed {
			continue
		}
		if !ok || !a.Known || a.Counted <= 0 {
			return make([]float64, len(b.Outlets))
		}
		out[i] = float64(a.Counted)
	}
	return out
}

// inflows are the inflows at which a box is judged, with where they come from.
func (w *work) inflows() []NamedSplit {
	var out []NamedSplit
	at := func(name, words string, f unit.Flow) {
		out = append(out, NamedSplit{Name: name, Words: words, Split: hydraulic.Split{Inflow: f}})
	}
	h := w.job.Site.Household
	if daily, words := w.daily(); daily > 0 {
		at("daily average", words+", spread over the whole day", daily)
		hours, sum, most := w.hours(), 0.0, 0.0
		for _, v := range hours {
			sum += v
			most = max(most, v)
		}
		at("busiest hour", fmt.Sprintf("%.0f %% of the day in one hour, by %s", 100*most/sum, w.hoursWords()), daily*unit.Flow(24*most/sum))
	}
	if h.Surge > 0 {
		at("surge", "as the job states", h.Surge)
	} else {
		at("surge", "a washing machine or a bath emptying; common practice, no source", commonSurge)
	}
	return out
}

// Reference is the split that corrections are reckoned at: the busiest hour
// where the day is known, else the surge. It is false where there is none.
func (b Box) Reference() (NamedSplit, bool) {
	for _, s := range b.Splits {
		if s.Name == "busiest hour" {
			return s, true
		}
	}
	if len(b.Splits) == 0 {
		return NamedSplit{}, false
	}
	return b.Splits[len(b.Splits)-1], true
}

// WithInflow reckons one more inflow for every box, in front of the others, and
// leaves the judgement as it is; one of 0 adds nothing.
func (j *Judgement) WithInflow(inflow unit.Flow) *Judgement {
	if inflow <= 0 {
		return j
	}
	own := *j
	own.Boxes = slices.Clone(j.Boxes)
	for i := range own.Boxes {
		b := &own.Boxes[i]
		if len(b.Missing) > 0 {
			continue
		}
		if s, err := hydraulic.Divide(b.Openings, inflow); err == nil {
			b.Splits = append([]NamedSplit{{Name: AskedFor, Words: "as asked for", Split: s}}, b.Splits...)
		} else {
			b.Missing = []string{english.Capital(err.Error()) + "."}
		}
	}
	return &own
}

// daily is the flow of a day, and where it comes from. What a meter read wins
// over the design flow.
func (w *work) daily() (unit.Flow, string) {
	if f := w.job.Site.Household.DailyFlow; f > 0 {
		return f, w.say.FormatFlow(f) + " as measured"
	}
	if f := w.out.Capacity.Flow; f.Known && f.Daily > 0 {
		return f.Daily, f.Words
	}
	return 0, ""
}

// hours are the day's 24 weights.
func (w *work) hours() []float64 {
	if h := w.job.Site.Household.Hours; len(h) == 24 {
		return h
	}
	d := storage.DefaultHours()
	return d[:]
}

func (w *work) hoursWords() string {
	if len(w.job.Site.Household.Hours) == 24 {
		return "the hours that the job states"
	}
	return "a usual household's day (common practice, no source)"
}

// percent prints a share.
func percent(v float64) string { return fmt.Sprintf("%d %%", int(math.Round(100*v))) }

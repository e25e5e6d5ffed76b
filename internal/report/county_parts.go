package report

import (
	"fmt"
	"math"
	"strings"

	"undersod/core/adjust"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/report/flow"
)

// ground prints a coordinate as a plain number of the unit that ground names.
func (r *report) ground(l unit.Length) string {
	v := l.Feet()
	if metric(r.say) {
		v = l.Metres()
	}
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "unknown"
	}
	return fmt.Sprintf("%.2f", v)
}

func (r *report) groundUnit() string {
	if metric(r.say) {
		return "m"
	}
	return "ft"
}

// off prints a small difference with its sign, finer than the job's lengths.
func (r *report) off(l unit.Length) string {
	switch {
	case math.IsNaN(float64(l)) || math.IsInf(float64(l), 0):
		return "unknown"
	case metric(r.say):
		return fmt.Sprintf("%+.1f cm", l.Metres()*100)
	case r.say.Form == unit.DecimalFeet:
		return fmt.Sprintf("%+.2f ft", l.Feet())
	}
	return fmt.Sprintf("%+.1f\"", l.Inches())
}

// small prints a small level or bore as finely as the words beside it do: to the
// sixteenth of an inch, the millimetre or the thousandth of a foot.
func (r *report) small(l unit.Length) string { return r.fine().Format(l) }

// small95 prints the 95 % bound of such a level from its standard deviation;
// nothing for the one that the others count from.
func (r *report) small95(sd unit.Length) string {
	if sd == 0 {
		return ""
	}
	return strings.TrimPrefix(r.fine().FormatDeviation(normal95*sd), "±")
}

// height prints a height or a fall as the words of the levels do, which know
// metres to the millimetre.
func (r *report) height(l unit.Length) string { return r.level().Format(l) }

func (r *report) height95(sd unit.Length) string {
	if sd == 0 {
		return ""
	}
	return strings.TrimPrefix(r.level().FormatDeviation(normal95*sd), "±")
}

func (r *report) level() unit.Style {
	if metric(r.say) {
		return unit.Style{Form: unit.Metres, Digits: 3}
	}
	return r.fine()
}

// turn prints by how much to move an outlet, as what is to be done tells it:
// inches also where lengths are in feet with decimals.
func (r *report) turn(by unit.Length) string {
	s := r.fine()
	if s.Form == unit.DecimalFeet {
		s.Form, s.Denominator = unit.Inches, 16
	}
	return s.Format(by.Abs())
}

// fine is the style of small levels.
func (r *report) fine() unit.Style {
	s := r.say
	switch {
	case metric(s):
		s.Form, s.Digits = unit.Millimetres, 0
	case s.Form == unit.DecimalFeet:
		s.Digits = 3
	default:
		s.Denominator = 16
	}
	return s
}

// partTable lists where the parts lie.
func (r *report) partTable() {
	all := r.parts()
	if len(all) == 0 {
		return
	}
	r.Heading("Where the parts lie")
	detail, depth := r.details(), r.depths()
	t := flow.Table{Columns: []flow.Column{{Title: "Part", Bold: true}, {Title: "What it is"}, {Title: "East, " + r.groundUnit(), Right: true},
		{Title: "North, " + r.groundUnit(), Right: true}, {Title: "95 % within", Right: true}, {Title: "Depth", Right: true}, {Title: "Remark"}}}
	for _, p := range all {
		east, north, radius := "", "", ""
		if p.Placed && p.State != adjust.Undetermined && p.State != adjust.Unconnected {
			east, north = r.ground(p.At.East), r.ground(p.At.North)
		}
		if p.Placed && p.State == adjust.Determined && p.Doubt <= p.Ellipse.Radius {
			radius = within(r.say, p.Ellipse.Radius)
		}
		remark := stateWords(p)
		if p.State != adjust.Determined && p.Why != "" {
			remark += ": " + tidy(p.Why)
		}
		t.Row(tidy(string(p.Name)), detail[p.Name], east, north, radius, depth[p.Name], remark)
	}
	r.Table(t)
	r.Note("Counted on the ground plane from " + r.origin() + ". The radius is left out where readings disagree about a part, because it would not hold.")
}

// origin says where coordinates count from.
func (r *report) origin() string {
	if m := tidy(string(r.in.Plan.Frame.Mark)); m != "" {
		return m
	}
	return "the point that holds the plan"
}

// details says what each point of the system is.
func (r *report) details() map[site.Name]string {
	out := map[site.Name]string{}
	for _, p := range r.in.Job.Site.Points {
		out[p.Name] = tidy(p.Kind)
	}
	for _, l := range r.in.Job.Site.Lines {
		for i, n := range l.Path {
			if out[n] == "" {
				out[n] = either(i == len(l.Path)-1, "end of ", "bend of ") + tidy(string(l.Name))
			}
		}
	}
	for _, p := range r.in.Job.Site.Parts {
		words := tidy(string(p.Kind))
		if d := tidy(p.Detail); d != "" {
			words += ", " + d
		}
		if words != "" {
			out[p.Name] = words
		}
	}
	return out
}

// depths lists the depths as written.
func (r *report) depths() map[site.Name]string {
	out := map[site.Name]string{}
	for _, reading := range r.in.Job.Visit.Readings {
		if d, is := reading.(site.Depth); is && d.SetAside == "" && out[d.Point] == "" {
			out[d.Point] = tidy(d.Read.Text)
		}
	}
	return out
}

// outlineTable lists the tanks found with a probe.
func (r *report) outlineTable() {
	if r.in.Plan == nil || len(r.in.Plan.Outlines) == 0 {
		return
	}
	r.Heading("Outlines found with a probe")
	t := flow.Table{Columns: []flow.Column{{Title: "Part", Bold: true}, {Title: "Middle, east", Right: true}, {Title: "north, " + r.groundUnit(), Right: true},
		{Title: "Length", Right: true}, {Title: "Width", Right: true}, {Title: "Direction", Right: true}, {Title: "Remark"}}}
	for _, o := range r.in.Plan.Outlines {
		if !o.Fitted {
			t.Row(tidy(string(o.Part)), "", "", "", "", "", "not fitted: "+tidy(o.Why))
			continue
		}
		off := 0
		for _, h := range o.Hits {
			if h.LiesOff {
				off++
			}
		}
		remark := count(len(o.Hits), "probe hit", "probe hits")
		if off > 0 {
			remark += fmt.Sprintf(", %d of them off the outline", off)
		}
		t.Row(tidy(string(o.Part)), r.ground(o.Centre.East), r.ground(o.Centre.North),
			r.say.Format(o.Length)+" ± "+within95(r.say, o.LengthSD), r.say.Format(o.Width)+" ± "+within95(r.say, o.WidthSD),
			unit.FormatAzimuth(o.Azimuth, 1), remark)
	}
	r.Table(t)
}

// lineTable lists the lines: permitted and measured.
func (r *report) lineTable() {
	if len(r.in.Job.Site.Lines) == 0 {
		return
	}
	measured := map[site.Name]adjust.LineLength{}
	if r.in.Plan != nil {
		for _, l := range r.in.Plan.Footages {
			measured[l.Line] = l
		}
	}
	r.Heading("Lines")
	t := flow.Table{Columns: []flow.Column{{Title: "Line", Bold: true}, {Title: "Kind"}, {Title: "Measured", Right: true}, {Title: "95 % ±", Right: true},
		{Title: "Permitted", Right: true}, {Title: "Difference", Right: true}, {Title: "Remark"}}}
	for _, l := range r.in.Job.Site.Lines {
		length, sure, permitted, off := "not measured", "", "", ""
		m := measured[l.Name]
		if m.Known {
			length, sure = r.say.Format(m.Length), within95(r.say, m.SD)
		}
		if l.Permitted != nil {
			permitted = tidy(l.Permitted.Text)
			if m.Known {
				off = r.signed(m.Length - l.Permitted.Length)
			}
		}
		t.Row(tidy(string(l.Name)), tidy(string(l.Kind)), length, sure, permitted, off, either(l.OutOfUse, "out of use", ""))
	}
	r.Table(t)
}

// signed prints a difference in the job's form with its sign.
func (r *report) signed(l unit.Length) string {
	text := r.say.Format(l)
	if l > 0 && text != r.say.Format(0) {
		return "+" + text
	}
	return text
}

// permitTable lists the permit against the ground.
func (r *report) permitTable() {
	if len(r.in.Judgement.Permit) == 0 {
		return
	}
	r.Heading("The permit against the ground")
	t := flow.Table{Columns: []flow.Column{{Title: "What", Bold: true}, {Title: "Claimed", Right: true}, {Title: "Measured or entered", Right: true},
		{Title: "Difference", Right: true}, {Title: "95 % ±", Right: true}, {Title: "Answer", Alarm: "differs"}, {Title: "In words"}}}
	for _, c := range r.in.Judgement.Permit {
		t.Row(c.What, c.Claimed, c.Measured, c.Off, c.Within, string(c.Answer), c.Words)
	}
	r.Table(t)
	if rec := r.in.Job.Site.Record; rec != nil && tidy(rec.Source) != "" {
		r.Note("Claimed by: " + tidy(rec.Source) + either(tidy(rec.Date) != "", ", "+tidy(rec.Date), "") + ".")
	}
}

// oldDrawing lists the points of an old drawing laid over the plan.
func (r *report) oldDrawing() {
	o := r.in.Judgement.Old
	if o == nil {
		return
	}
	r.Heading("The old drawing laid over the plan")
	r.Para(sentence(o.Words))
	t := flow.Table{Columns: []flow.Column{{Title: "Point", Bold: true}, {Title: "East, " + r.groundUnit(), Right: true}, {Title: "North, " + r.groundUnit(), Right: true},
		{Title: "Off", Right: true}, {Title: "Search circle, 95 %", Right: true}, {Title: "Answer"}, {Title: "In words"}}}
	for _, p := range o.Points {
		t.Row(tidy(string(p.Name)), r.ground(p.At.East), r.ground(p.At.North), within(r.say, p.Off), within(r.say, p.Radius),
			either(p.Control, "lays it over", string(p.Answer)), p.Words)
	}
	r.Table(t)
}

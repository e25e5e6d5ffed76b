package look

import (
	"fmt"
	"math"
	"strings"

	"undersod/core/site"
	"undersod/core/unit"
)

// coarse is the job's own form of a length without the finer places, which a
// footage cannot carry: whole inches, tenths of a foot or of a metre.
func coarse(show site.Show) unit.Style {
	s := show.Style()
	switch s.Form {
	case unit.DecimalFeet, unit.Metres:
		return unit.Style{Form: s.Form, Digits: 1}
	case unit.Centimetres, unit.Millimetres:
		return unit.Style{Form: s.Form, Digits: unit.NoDigits}
	}
	return unit.Style{Form: s.Form, Denominator: 1}
}

// length prints a length in the job's form; whole feet without their inches.
func (g *ground) length(l unit.Length) string {
	s := g.say.Format(l)
	if strings.HasSuffix(s, `' 0"`) {
		return strings.TrimSuffix(s, ` 0"`)
	}
	return s
}

// up prints an uncertainty, rounded up to the last place shown.
func (g *ground) up(l unit.Length) string {
	step := unit.Inch
	switch g.say.Form {
	case unit.DecimalFeet:
		step = unit.Foot / 10
	case unit.Metres:
		step = unit.Metre / 10
	case unit.Centimetres, unit.Millimetres:
		step = unit.Centimetre
	}
	return g.length(unit.Length(math.Ceil(float64(l/step)-1e-6)) * step)
}

// findingWords tells a finding in a line with its place.
func (y *laying) findingWords(f *Finding, at, to *unit.Written) string {
	g, s := y.g, string(f.What)
	counted := f.From.Counted && (f.To == nil || f.To.Counted)
	switch {
	case at == nil && to == nil:
		return s + measures(g, f) + " in " + string(y.run.Line) + "; nobody wrote down the footage"
	case !counted && to != nil && at != nil:
		s += fmt.Sprintf(" from %s to %s on the counter in %s", at.Text, to.Text, y.run.Line)
	case !counted:
		s += fmt.Sprintf(" at %s on the counter in %s", first(at, to).Text, y.run.Line)
	case to != nil:
		s += fmt.Sprintf(" from %s to %s of %s%s", g.length(f.From.Station), g.length(f.To.Station), y.run.Line, y.aside(f, at, to))
	default:
		s += fmt.Sprintf(" at %s of %s%s", g.length(f.From.Station), y.run.Line, y.aside(f, at, nil))
	}
	return s + measures(g, f) + g.sureness(f)
}

func first(a, b *unit.Written) *unit.Written {
	if a != nil {
		return a
	}
	return b
}

// aside repeats the counter's reading where it is not the station.
func (y *laying) aside(f *Finding, at, to *unit.Written) string {
	if at == nil || (at.Length-f.From.Station).Abs() < unit.Inch && f.From.Beyond == 0 {
		return ""
	}
	if to != nil {
		return fmt.Sprintf(" (counter %s to %s)", at.Text, to.Text)
	}
	return fmt.Sprintf(" (counter %s)", at.Text)
}

// measures tells a finding's percentage and depth.
func measures(g *ground, f *Finding) string {
	s := ""
	if p, ok := f.share(); ok {
		switch f.What {
		case site.Flattened:
			s += ", by " + percent(p)
		case site.FineRoots, site.RootMass:
			s += ", closing " + percent(p)
		default:
			s += ", " + percent(p)
		}
	}
	if f.Depth != nil && f.Depth.Text != "" {
		s += ", " + f.Depth.Text + " deep"
	} else if f.Depth != nil {
		s += ", " + g.length(f.Depth.Length) + " deep"
	}
	return s
}

// sureness tells how well the place is known.
func (g *ground) sureness(f *Finding) string {
	far := f.From
	if f.To != nil && (f.To.Radius > far.Radius || !f.To.Known) {
		far = *f.To
	}
	past := f.From.Beyond
	if f.To != nil {
		past = max(past, f.To.Beyond)
	}
	switch {
	case !far.Known:
		return "; its place on the lawn is not known"
	case past > far.Radius:
		return fmt.Sprintf(", %s past the end of the line on the plan", g.length(past))
	}
	return fmt.Sprintf(", within %s of the place shown", g.up(far.Radius))
}

func (g *ground) partWords(f *Finding) string {
	s := fmt.Sprintf("%s at %s%s", f.What, f.Part, measures(g, f))
	if !f.From.Known {
		return s + "; its place on the lawn is not known"
	}
	return s
}

// stopped tells in words why a run ended.
var stopped = map[site.RunEnd]string{
	site.StoppedRoots: "roots stopped it", site.StoppedWater: "water hid the rest",
	site.StoppedBroken: "a broken pipe stopped it", site.StoppedBend: "it would not go round a bend",
	site.StoppedSoil: "soil stopped it", site.StoppedCable: "the cable was too short",
	site.StoppedOther: "it was stopped, as the note says",
}

// words tells how far the run went and why it ended.
func (y *laying) words() string {
	s := "With the flow"
	if y.out.Against {
		s = "Against the flow"
	}
	if y.lost {
		s = "A run that cannot be placed"
	} else {
		s += " from " + string(y.entryName())
	}
	switch {
	case y.run.EndedAt != nil && y.out.End != nil && y.out.End.Counted:
		s += fmt.Sprintf(" to %s of %s", y.g.length(y.out.End.Station), y.run.Line)
	case y.run.EndedAt != nil:
		s += fmt.Sprintf(" in %s, to %s on the counter", y.run.Line, y.run.EndedAt.Text)
	case y.run.Ended == site.ReachedEnd:
		s += " through " + string(y.run.Line)
	default:
		s += " in " + string(y.run.Line) + "; nobody wrote down how far"
	}
	switch why, known := stopped[y.run.Ended]; {
	case y.run.Ended == site.ReachedEnd:
		s += ", where the line ends"
	case known:
		s += "; " + why
	default:
		s += "; nobody wrote down why it ended there"
	}
	return s + y.unseen() + "."
}

func (y *laying) entryName() site.Name {
	if y.run.Entry != "" {
		return y.run.Entry
	}
	if y.out.Against {
		return y.line.Path[len(y.line.Path)-1]
	}
	return y.line.Path[0]
}

// unseen tells how much of the line this run did not look at, where that is
// more than the footage's own scatter.
func (y *laying) unseen() string {
	if y.lost || !y.out.Known || y.out.End == nil {
		return ""
	}
	rest := y.out.Length - (y.out.Seen[1] - y.out.Seen[0])
	if y.run.Ended == site.ReachedEnd {
		rest = y.route.offset // what lies behind the entry
		if y.out.Against {
			rest = y.out.Length - y.route.offset
		}
	}
	if rest <= z95*y.out.End.StationSD || rest < unit.Foot/2 {
		return ""
	}
	return fmt.Sprintf("; %s of the line was not seen on this run", y.g.length(rest))
}

// either prints names as "A, B or C"; of many the first eight.
func either(names []site.Name) string {
	const most = 8
	words := make([]string, 0, most)
	for _, n := range names[:min(len(names), most)] {
		words = append(words, string(n))
	}
	if len(names) > most {
		return strings.Join(words, ", ") + " and others"
	}
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

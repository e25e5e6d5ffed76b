package text

import (
	"fmt"

	"undersod/core/adjust"
	"undersod/core/english"
	"undersod/core/site"
)

// lines tells how long the lines are, beside what the permit says.
func (t *teller) lines() {
	permitted := map[site.Name]string{}
	for _, l := range t.job.Site.Lines {
		if l.Permitted != nil {
			permitted[l.Name] = "  permitted " + t.length(l.Permitted.Length)
		}
	}
	shown := false
	for _, l := range t.plan.Footages {
		if !l.Known {
			continue
		}
		if !shown {
			t.title("How long the lines are")
			shown = true
		}
		t.print("  %-22s %12s %12s%s\n", l.Line, t.length(l.Length), t.style().FormatDeviation(1.96*l.SD), permitted[l.Line])
	}
}

// accuracy tells how many drawn parts meet the limit that is asked for,
// whatever the verdict.
func (t *teller) accuracy() {
	a := t.job.Visit.Accuracy
	if a == nil || a.Limit <= 0 {
		return
	}
	good := 0
	var over []string
	judged := t.judged()
	for _, p := range judged {
		if p.Placed && p.State == adjust.Determined && p.Ellipse.Radius+p.Doubt <= a.Limit {
			good++
		} else {
			over = append(over, string(p.Name))
		}
	}
	words := t.length(a.Limit)
	if a.Source != "" {
		words += " (" + a.Source + ")"
	}
	t.title("The accuracy asked for")
	switch {
	case len(judged) == 0:
		words += ": there is no drawn part to judge."
	case len(over) == 0 && good == 1:
		words += ": the one drawn part meets it with 95 % probability, as far as the readings are right."
	case len(over) == 0:
		words += fmt.Sprintf(": all %d drawn parts meet it with 95 %% probability, as far as the readings are right.", good)
	default:
		words += fmt.Sprintf(": %d of %d drawn parts meet it with 95 %% probability, as far as the readings are right; not shown to meet it: %s.",
			good, len(judged), english.Join(over, "and"))
	}
	t.wrapped("- ", words+" The local authority decides.")
}

// judged lists the points for which an accuracy limit is: the parts, and the
// bends and ends of lines that were measured. A part that is drawn by its
// fitted outline, without a place of its own, is not among them.
func (t *teller) judged() []adjust.Point {
	onLine, read, fitted := map[site.Name]bool{}, map[site.Name]bool{}, map[site.Name]bool{}
	for _, l := range t.job.Site.Lines {
		for _, name := range l.Path {
			onLine[name] = true
		}
	}
	for _, r := range t.job.Visit.Readings {
		switch r := r.(type) {
		case site.Tie:
			read[r.From], read[r.To] = true, true
		case site.Offset:
			read[r.Point] = true
		}
	}
	for _, o := range t.plan.Outlines {
		fitted[o.Part] = o.Fitted
	}
	var out []adjust.Point
	for _, p := range t.plan.Points {
		drawn := p.Role == site.RolePart || p.Role == site.RoleBend && onLine[p.Name] && read[p.Name]
		if drawn && (p.Placed || !fitted[p.Name]) {
			out = append(out, p)
		}
	}
	return out
}

package compare

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"undersod/core/calendar"
	"undersod/core/site"
	"undersod/core/unit"
)

// since lists what the later job tells as done since the earlier visit, by date.
func (w *work) since() {
	visit, err := calendar.Parse(w.out.Before)
	told := map[[4]string]bool{}
	for _, c := range w.before.Job.Site.Care {
		told[[4]string{c.Date, c.What, c.By, c.Note}] = true
	}
	type dated struct {
		Care
		on calendar.Date
	}
	var all []dated
	for _, c := range w.after.Job.Site.Care {
		on, wrong := calendar.Parse(c.Date)
		one := dated{Care: Care{Care: c, Unsure: err != nil || wrong != nil}, on: on}
		if !one.Unsure {
			var earlier bool
			if earlier, one.Unsure = side(on, visit); earlier {
				continue
			}
		}
		if told[[4]string{c.Date, c.What, c.By, c.Note}] && (one.Unsure || !visit.Before(one.on)) {
			continue // the earlier visit knew of it
		}
		one.Words = careWords(one.Care)
		all = append(all, one)
	}
	slices.SortStableFunc(all, func(a, b dated) int {
		switch {
		case a.on.Before(b.on):
			return -1
		case b.on.Before(a.on):
			return 1
		}
		return 0
	})
	for _, c := range all {
		w.out.Since = append(w.out.Since, c.Care)
	}
}

// side tells whether a date is before the visit, and whether it may lie on either
// side because one of the two is not known to the day.
func side(on, visit calendar.Date) (earlier, unsure bool) {
	d, v := coarse(on, visit), coarse(visit, on)
	return d.Before(v), d == v && !(on.Whole() && visit.Whole())
}

// coarse is a date brought to what is known of another.
func coarse(d, like calendar.Date) calendar.Date {
	if like.Month == 0 {
		return calendar.Date{Year: d.Year}
	}
	if like.Day == 0 {
		d.Day = 0
	}
	return d
}

func careWords(c Care) string {
	words := c.Date + ": " + c.What
	if c.By != "" {
		words += ", by " + c.By
	}
	if c.Note != "" {
		words += " (" + c.Note + ")"
	}
	if c.Unsure {
		words += "; the date does not tell whether before or after the earlier visit"
	}
	return words + "."
}

// facts compares what was entered and not measured.
func (w *work) facts() {
	w.siteFacts()
	w.householdFacts()
	w.soilFacts()
	w.recordFacts()
	w.thingFacts()
}

// fact adds an entry where it differs.
func (w *work) fact(of, what, before, after string) {
	if before == after {
		return
	}
	f := Fact{Of: of, What: what, Before: before, After: after}
	before, after = quoted(before), quoted(after)
	switch {
	case what == "feature" && before == "":
		f.Words = fmt.Sprintf("%s, a %s, is not in the earlier visit: new, or not looked for then.", of, after)
	case what == "feature":
		f.Words = fmt.Sprintf("%s, a %s, is not in the later visit: gone, or not looked for.", of, before)
	case before == "":
		f.Words = fmt.Sprintf("%s, %s: %s now, not stated before.", of, what, after)
	case after == "":
		f.Words = fmt.Sprintf("%s, %s: %s before, not stated now.", of, what, before)
	default:
		f.Words = fmt.Sprintf("%s, %s: %s now, %s before.", of, what, after, before)
	}
	w.out.Facts = append(w.out.Facts, f)
}

// quoted is a text that a list of words must not run into.
func quoted(s string) string {
	if strings.ContainsAny(s, ",;") {
		return "\"" + s + "\""
	}
	return s
}

func count(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return ""
}

func (w *work) long(l *unit.Written) string {
	if l == nil {
		return ""
	}
	return w.say.Format(l.Length)
}

func (w *work) wide(l unit.Length) string {
	if l == 0 {
		return ""
	}
	return w.say.Format(l)
}

func (w *work) siteFacts() {
	a, b := w.before.Job.Site, w.after.Job.Site
	for _, f := range [][3]string{
		{"owner", a.Owner, b.Owner}, {"address", a.Address, b.Address}, {"parcel", a.Parcel, b.Parcel},
		{"permit", a.Permit, b.Permit}, {"authority", a.Authority, b.Authority},
	} {
		w.fact("site", f[0], f[1], f[2])
	}
}

func (w *work) householdFacts() {
	a, b := w.before.Job.Site.Household, w.after.Job.Site.Household
	w.fact("household", "bedrooms", count(a.Bedrooms), count(b.Bedrooms))
	w.fact("household", "added bedrooms", count(a.AddedBedrooms), count(b.AddedBedrooms))
	w.fact("household", "persons", count(a.Persons), count(b.Persons))
	w.fact("household", "kitchen grinder", yes(a.Grinder), yes(b.Grinder))
	w.fact("household", "daily flow", w.flow(a.DailyFlow), w.flow(b.DailyFlow))
	w.fact("household", "surge", w.flow(a.Surge), w.flow(b.Surge))
}

func (w *work) flow(f unit.Flow) string {
	if f == 0 {
		return ""
	}
	return w.say.FormatFlow(f)
}

func (w *work) soilFacts() {
	a, b := w.before.Job.Site.Soil, w.after.Job.Site.Soil
	percolation := func(s site.Soil) string {
		if s.Percolation == 0 {
			return ""
		}
		return w.say.FormatPercolation(s.Percolation)
	}
	loading := func(s site.Soil) string {
		if s.Loading == 0 {
			return ""
		}
		return w.say.FormatLoading(s.Loading)
	}
	w.fact("soil", "percolation", percolation(a), percolation(b))
	w.fact("soil", "texture", a.Texture, b.Texture)
	w.fact("soil", "structure", a.Structure, b.Structure)
	w.fact("soil", "strength", a.StructureBy, b.StructureBy)
	w.fact("soil", "loading", loading(a), loading(b))
	w.fact("soil", "source", a.Source, b.Source)
}

func (w *work) recordFacts() {
	var a, b site.Record
	if r := w.before.Job.Site.Record; r != nil {
		a = *r
	}
	if r := w.after.Job.Site.Record; r != nil {
		b = *r
	}
	tank := func(v unit.Volume) string {
		if v == 0 {
			return ""
		}
		return w.say.FormatVolume(v)
	}
	area := func(v unit.Area) string {
		if v == 0 {
			return ""
		}
		return w.say.FormatArea(v)
	}
	for _, f := range [][3]string{
		{"source", a.Source, b.Source}, {"date", a.Date, b.Date}, {"lines", count(a.Lines), count(b.Lines)},
		{"outlets", count(a.Outlets), count(b.Outlets)}, {"bedrooms", count(a.Bedrooms), count(b.Bedrooms)},
		{"tank", tank(a.Tank), tank(b.Tank)}, {"daily flow", w.flow(a.DailyFlow), w.flow(b.DailyFlow)}, {"area", area(a.Area), area(b.Area)},
		{"trench width", w.long(a.TrenchWidth), w.long(b.TrenchWidth)}, {"trench depth", w.long(a.TrenchDepth), w.long(b.TrenchDepth)},
		{"stone below", w.long(a.StoneBelow), w.long(b.StoneBelow)}, {"trench length", w.long(a.TrenchLength), w.long(b.TrenchLength)},
		{"spacing", w.long(a.Spacing), w.long(b.Spacing)},
	} {
		w.fact("record", f[0], f[1], f[2])
	}
}

// thingFacts compares what is said of parts, lines and features that both jobs
// have, and names those that one alone has, where no place tells it already.
func (w *work) thingFacts() {
	parts := map[site.Name]site.Part{}
	for _, p := range w.before.Job.Site.Parts {
		parts[p.Name] = p
	}
	for _, p := range w.after.Job.Site.Parts {
		if e, ok := parts[w.earlier(p.Name)]; ok {
			for _, f := range [][3]string{
				{"kind", string(e.Kind), string(p.Kind)}, {"detail", e.Detail, p.Detail}, {"material", e.Material, p.Material}, {"installed", e.Installed, p.Installed},
			} {
				w.fact(string(p.Name), f[0], f[1], f[2])
			}
		}
	}
	lines := map[site.Name]site.Line{}
	for _, l := range w.before.Job.Site.Lines {
		lines[l.Name] = l
	}
	for _, l := range w.after.Job.Site.Lines {
		if e, ok := lines[w.earlier(l.Name)]; ok {
			for _, f := range [][3]string{
				{"kind", string(e.Kind), string(l.Kind)}, {"permitted", w.long(e.Permitted), w.long(l.Permitted)}, {"bore", w.wide(e.Bore), w.wide(l.Bore)},
				{"trench width", w.wide(e.TrenchWidth), w.wide(l.TrenchWidth)}, {"installed", e.Installed, l.Installed}, {"out of use", yes(e.OutOfUse), yes(l.OutOfUse)},
			} {
				w.fact(string(l.Name), f[0], f[1], f[2])
			}
		}
	}
	w.featureFacts()
}

func (w *work) featureFacts() {
	features := map[site.Name]site.Feature{}
	for _, f := range w.before.Job.Site.Features {
		features[f.Name] = f
	}
	for _, f := range w.after.Job.Site.Features {
		e, ok := features[w.earlier(f.Name)]
		delete(features, w.earlier(f.Name))
		if !ok {
			w.fact(string(f.Name), "feature", "", string(f.Kind))
			continue
		}
		w.fact(string(f.Name), "kind", string(e.Kind), string(f.Kind))
		w.fact(string(f.Name), "radius", w.wide(e.Radius), w.wide(f.Radius))
		w.fact(string(f.Name), "trunk", w.wide(e.Trunk), w.wide(f.Trunk))
	}
	for _, f := range w.before.Job.Site.Features {
		if _, left := features[f.Name]; left {
			w.fact(string(f.Name), "feature", string(f.Kind), "")
		}
	}
}

package judge

import (
	"fmt"
	"math"
	"strings"

	"undersod/core/calendar"
	"undersod/core/site"
)

// lives holds the age of tank, box and field against how long they commonly
// last.
func (w *work) lives() {
	today, err := calendar.Parse(w.job.Visit.Date)
	if err != nil {
		if len(w.pack.Lives) > 0 {
			w.miss("Age: the date of the visit is not known; enter visit: date.")
		}
		return
	}
	for _, p := range w.job.Site.Parts {
		switch p.Kind {
		case site.SepticTank, site.PumpTank, site.DistributionBox, site.DropBox:
			w.life(p.Name, material(p), string(p.Kind), p.Installed, today)
		}
	}
	if installed, ok := w.fieldInstalled(); ok {
		w.life("Field", "", "field", installed, today)
	}
}

// material is what a part is made of, as the job says it somewhere.
func material(p site.Part) string {
	if p.Material != "" {
		return p.Material
	}
	for word := range strings.FieldsSeq(strings.ToLower(p.Detail)) {
		switch word = strings.Trim(word, ",.;()"); word {
		case "concrete", "steel", "plastic", "polyethylene", "poly", "fibreglass", "fiberglass":
			return word
		}
	}
	return ""
}

// fieldInstalled is when the oldest of the lines in use was laid, of those that
// say so; empty where none does. It is false where no line is in use.
func (w *work) fieldInstalled() (string, bool) {
	oldest, some := "", false
	var since calendar.Date
	for _, l := range w.drains() {
		if l.OutOfUse {
			continue
		}
		some = true
		if d, err := calendar.Parse(l.Installed); err == nil && (oldest == "" || d.Before(since)) {
			oldest, since = l.Installed, d
		}
	}
	return oldest, some
}

func (w *work) life(what site.Name, material, kind, installed string, today calendar.Date) {
	rule, ok := w.pack.Life(material, kind)
	if !ok {
		return
	}
	words := installed
	if installed == "" && w.job.Site.Record != nil {
		installed = w.job.Site.Record.Date
		words = installed + " (the date of the record)"
	}
	since, err := calendar.Parse(installed)
	if err != nil || today.Before(since) {
		w.miss(fmt.Sprintf("Age of %s: when it was installed is not known; enter installed: a year will do.", what))
		return
	}
	l := Life{What: what, Kind: kind, Installed: installed, Years: since.YearsTo(today),
		Least: rule.LeastYears, Most: rule.MostYears, Source: rule.Source}
	l.Words = fmt.Sprintf("%s: installed %s, about %.0f years old; %.0f to %.0f years are usual (%s).",
		what, words, math.Round(l.Years), l.Least, l.Most, rule.Source.Words())
	w.out.Lives = append(w.out.Lives, l)
}

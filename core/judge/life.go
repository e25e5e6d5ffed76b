package judge

import (
	"fmt"
	"math"
	"strings"

	"undersod/core/calendar"
	"undersod/core/rules"
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
		if kind := lifeKind(p); kind != "" {
			w.life(p.Name, kind, p.Installed, today)
		}
	}
	if installed, ok := w.fieldInstalled(); ok {
		w.life("Field", "field", installed, today)
	}
}

// lifeKind is the word by which a pack lists a part.
func lifeKind(p site.Part) string {
	switch p.Kind {
	case site.SepticTank, site.PumpTank:
		material := strings.ToLower(p.Material + " " + p.Detail)
		for _, m := range materials {
			if strings.Contains(material, m.word) {
				return m.of + " tank"
			}
		}
		return "tank"
	case site.DistributionBox, site.DropBox:
		return string(site.DistributionBox)
	}
	return ""
}

// materials are the words for what a tank is made of, as a pack names them.
var materials = []struct{ word, of string }{
	{"concrete", "concrete"}, {"steel", "steel"}, {"plastic", "plastic"}, {"poly", "plastic"},
	{"fibreglass", "fibreglass"}, {"fiberglass", "fibreglass"},
}

// fieldInstalled is when the newest of the lines in use was laid; all of them
// must say so, or none.
func (w *work) fieldInstalled() (string, bool) {
	drains := w.drains()
	for _, l := range drains {
		if l.Installed != "" {
			return l.Installed, true
		}
	}
	return "", len(drains) > 0
}

func (w *work) life(what site.Name, kind, installed string, today calendar.Date) {
	rule, ok := lifeOf(w.pack.Lives, kind)
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
		what, words, math.Round(l.Years), l.Least, l.Most, sourceWords(rule.Source))
	w.out.Lives = append(w.out.Lives, l)
}

// lifeOf finds a kind in a pack, or the word that it ends with: a concrete tank
// is a tank.
func lifeOf(list []rules.ServiceLife, kind string) (rules.ServiceLife, bool) {
	for _, want := range []string{kind, kind[strings.LastIndexByte(kind, ' ')+1:]} {
		for _, l := range list {
			if strings.EqualFold(l.What, want) {
				return l, true
			}
		}
	}
	return rules.ServiceLife{}, false
}

// sourceWords names a source in a few words, with how far it can be trusted.
func sourceWords(s rules.Source) string {
	if s.Status == rules.CommonPractice {
		return "common practice, no source"
	}
	words := s.Title
	for _, more := range []string{s.Section, s.Year} {
		if more != "" {
			words += ", " + more
		}
	}
	if s.Status == rules.FromMemory {
		words += ", from memory"
	}
	return words
}

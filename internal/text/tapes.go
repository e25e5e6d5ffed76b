package text

import (
	"fmt"
	"math"
	"strings"

	"undersod/core/adjust"
	"undersod/core/site"
	"undersod/core/unit"
)

// tapes tells which tape the ties that name none were taken with, as the
// adjustment took it: the only one that the job declares, else a fibreglass
// tape.
func (t *teller) tapes() {
	if !tapeAssumed(t.job.Visit.Readings) {
		return
	}
	t.print("\n")
	in, name := assumedTape(t.job.Visit.Instruments)
	fixed, perUnit := spread(in)
	words := t.finest().Format(fixed)
	if perUnit > 0 {
		words += " + " + ratioWords(perUnit)
	}
	t.print("Ties without an instrument were taken as: %s, %s\n", name, words)
}

// tapeAssumed tells whether a tie names neither its tape nor its standard
// deviation.
func tapeAssumed(readings []site.Reading) bool {
	for _, r := range readings {
		if tie, ok := r.(site.Tie); ok && tie.Instrument == "" && tie.SD == nil && tie.SetAside == "" {
			return true
		}
	}
	return false
}

// assumedTape is the instrument of ties that name none, with its name in words.
func assumedTape(declared []site.Instrument) (site.Instrument, string) {
	var found []site.Instrument
	for _, in := range declared {
		switch in.Kind {
		case site.SteelTape, site.FibreglassTape, site.LaserMeter:
			found = append(found, in)
		}
	}
	if len(found) == 1 {
		return found[0], fmt.Sprintf("%s (%s)", found[0].Name, found[0].Kind)
	}
	why := "the job declares none"
	if len(found) > 1 {
		why = "the job declares several"
	}
	return site.Instrument{Kind: site.FibreglassTape}, fmt.Sprintf("%s (%s)", site.FibreglassTape, why)
}

// spread is the standard deviation of an instrument: what the job states, else
// that of its kind.
func spread(in site.Instrument) (fixed unit.Length, perUnit float64) {
	for _, d := range adjust.Defaults() {
		if d.Kind == in.Kind {
			fixed, perUnit = d.Fixed, d.PerUnit
		}
	}
	if in.Fixed != nil {
		fixed, perUnit = *in.Fixed, 0
	}
	if in.PerUnit != nil {
		perUnit = *in.PerUnit
	}
	return fixed, perUnit
}

// finest is the job's style of lengths with a sixteenth of an inch at least:
// standard deviations are small.
func (t *teller) finest() unit.Style {
	s := t.style()
	s.Denominator = max(s.Denominator, 16)
	if s.Form == unit.Metres {
		s.Form = unit.Millimetres
	}
	return s
}

// ratioWords prints a part per distance as "1 in 10,000", or as a percentage
// where that is no whole number.
func ratioWords(ratio float64) string {
	n := math.Round(1 / ratio)
	if math.Abs(n*ratio-1) > 1e-6 || n > 1e9 {
		return fmt.Sprintf("%.4g%%", ratio*100)
	}
	digits := fmt.Sprintf("%.0f", n)
	var groups []string
	for len(digits) > 3 {
		groups = append([]string{digits[len(digits)-3:]}, groups...)
		digits = digits[:len(digits)-3]
	}
	return "1 in " + strings.Join(append([]string{digits}, groups...), ",")
}

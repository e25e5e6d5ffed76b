package unit

import "strings"

const (
	expectedDeviation = "a length, a part of the distance in % or ppm, or both joined by +"
	exampleDeviation  = "0.3 ft + 0.5%"
)

// ParseDeviation reads the standard deviation of an instrument: a fixed length
// (0.3 ft, 1/2"), a part per distance (0.5%, 20 ppm), or both joined by a plus
// in any order (5 mm + 2 ppm). A length without a unit is read in the form
// bare, as ParseLength does. A sign ± may stand first.
//
// The part that is not written is 0; each written one is above zero. perUnit is
// a ratio, 0.005 for 0.5%, at most 1. An error is a *ParseError.
func ParseDeviation(text string, bare Form) (fixed Length, perUnit float64, err error) {
	s := scan(text, expectedDeviation, exampleDeviation)
	if s.done() {
		return 0, 0, s.fail(s.at, "the standard deviation is empty")
	}
	if s.take("±") {
		s.blanks()
	}
	for {
		end := s.end
		if plus := strings.IndexByte(s.text[s.at:s.end], '+'); plus >= 0 {
			end = s.at + plus
		}
		if err := s.deviationTerm(end, bare, &fixed, &perUnit); err != nil {
			return 0, 0, err
		}
		if end == s.end {
			return fixed, perUnit, nil
		}
		s.at = end + 1
	}
}

// deviationTerm reads the term that goes to end.
func (s *scanner) deviationTerm(end int, bare Form, fixed *Length, perUnit *float64) *ParseError {
	at := s.at
	term := s.text[at:end]
	if strings.TrimSpace(term) == "" {
		return s.fail(at, "a length or a part of the distance is missing beside the plus")
	}
	if parts := partsOf(term); parts != 0 {
		if *perUnit != 0 {
			return s.fail(at, "two parts of the distance are given; one is enough")
		}
		return s.perDistance(end, parts, perUnit)
	}
	if *fixed != 0 {
		return s.fail(at, "two lengths are given; one is enough")
	}
	w, err := ParseLength(term, bare)
	switch {
	case err != nil:
		return err.(*ParseError).within(s.text, at)
	case w.Length <= 0:
		return s.fail(at, "a standard deviation must be above zero")
	}
	*fixed = w.Length
	return nil
}

// partsOf returns how many of the term's unit make one: 100 for %, a million
// for ppm, 0 for a term that is no ratio.
func partsOf(term string) uint64 {
	term = strings.ToLower(strings.TrimSpace(term))
	switch {
	case strings.HasSuffix(term, "%"):
		return 100
	case strings.HasSuffix(term, "ppm"):
		return 1e6
	}
	return 0
}

// perDistance reads a number of parts that goes to end.
func (s *scanner) perDistance(end int, parts uint64, perUnit *float64) *ParseError {
	s.blanks()
	at := s.at
	negative, _ := s.sign()
	d, err := s.number()
	if err != nil {
		return err
	}
	s.blanks()
	if !s.take("%") {
		var buf [16]byte
		if back := s.at; string(s.word(&buf)) != "ppm" {
			s.at = back
			return s.fail(back, "% or ppm should stand here, not "+s.shown())
		}
	}
	s.blanks()
	switch {
	case s.at < end:
		return s.fail(s.at, "a plus should stand before "+s.shown())
	case negative || d.digits == 0:
		return s.fail(at, "a standard deviation must be above zero")
	case d.above(parts):
		return s.fail(at, "the part is more than the whole distance")
	case d.decimals > 9:
		return s.fail(at, "the number has more digits than can be measured")
	}
	*perUnit = ratio(d.digits, powersOfTen[d.decimals]*parts)
	return nil
}

// FormatDeviation prints the size of an uncertainty in the style, behind ±:
// ±0.05 ft, ±5/8", ±2 cm. It never prints zero for one that is not: decimals
// are added until a digit shows, and what is less than the finest fraction of
// an inch prints as that fraction.
func (s Style) FormatDeviation(l Length) string {
	l = l.Abs()
	if !(l <= printable) {
		return "±" + unprintable
	}
	unit, per := s.resolution()
	if l == 0 || steps(l, unit, per) > 0 {
		return "±" + s.Format(l)
	}
	if f := s.form(); (f == FeetInches || f == Inches) && s.denominator() != 0 {
		return "±" + s.Format(Inch/Length(per))
	}
	for s.Digits = s.digits() + 1; s.Digits <= 12; s.Digits++ {
		if unit, per := s.resolution(); steps(l, unit, per) > 0 {
			return "±" + s.Format(l)
		}
	}
	s.Digits = 6
	least, _ := s.resolution()
	return "below ±" + s.Format(Length(float64(least.num)/float64(least.den)/1e6))
}

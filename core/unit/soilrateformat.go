package unit

import "strings"

// FormatLoading prints a loading rate in gallons a day per square foot, or in
// litres a day per square metre where the style's lengths are metric:
// 0.6 gpd/sq ft, 24.4 L/m²/d.
func (s Style) FormatLoading(l Loading) string {
	if s.metric() {
		return short(float64(l/LitrePerDayPerSquareMetre), 1) + " L/m²/d"
	}
	return short(float64(l/GallonPerDayPerSquareFoot), 2) + " gpd/sq ft"
}

// FormatPercolation prints a percolation time in minutes per inch, or per
// centimetre where the style's lengths are metric, to a tenth where it is not
// whole: 18 min/in, 7.1 min/cm.
func (s Style) FormatPercolation(p Percolation) string {
	if s.metric() {
		return short(float64(p)*float64(Centimetre)/60, 1) + " min/cm"
	}
	return short(float64(p/MinutePerInch), 1) + " min/in"
}

// short prints a number with up to so many decimals and drops the zeros behind
// the last that counts.
func short(v float64, digits int) string {
	text := grouped(v, digits)
	if strings.Contains(text, ".") {
		text = strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
	}
	return text
}

package unit

import "strconv"

// Units of the sizes of tanks, beds and pumps beside those of the lengths.
// The acre is 43,560 square feet (NIST Handbook 44, Appendix C, 2024).
const (
	Acre      Area   = 43560 * SquareFoot
	CubicFoot Volume = Volume(Foot * Foot * Foot)
	CubicYard Volume = 27 * CubicFoot
)

// ParseArea reads an area: 450 sq ft, 450 ft2, 42 m², 1.5 acres. Commas between
// thousands are read. It is not negative. An error is a *ParseError.
func ParseArea(text string) (Area, error) {
	v, err := parseQuantity(text, "an area in square feet, square metres or acres", "450 sq ft", areaUnit)
	return Area(v), err
}

// ParseVolume reads a volume: 1,000 gal, 3.8 m3, 900 L, 40 cu ft, 5 cu yd. The
// gallon is the US liquid gallon. Commas between thousands are read. It is not
// negative. An error is a *ParseError.
func ParseVolume(text string) (Volume, error) {
	v, err := parseQuantity(text, "a volume in gallons, litres, cubic metres, cubic feet or cubic yards", "1,000 gal", volumeUnit)
	return Volume(v), err
}

// ParseFlow reads a flow: 450 gpd, 10 gpm, 450 gal/day, 0.5 L/s, 1700 L/d,
// 1.7 m3/d. Commas between thousands are read. It is not negative. An error is
// a *ParseError.
func ParseFlow(text string) (Flow, error) {
	v, err := parseQuantity(text, "a flow in gallons per day or minute, litres per second or day, or cubic metres per day", "450 gpd", flowUnit)
	return Flow(v), err
}

// largestQuantity bounds the number of a quantity; beyond it a point or a unit
// was lost.
const largestQuantity = 1e9

// parseQuantity reads a number and a unit that factor knows, and returns their
// product.
func parseQuantity(text, expected, example string, factor func(string) float64) (float64, error) {
	s := scan(text, expected, example)
	s.commas = true
	if s.done() {
		return 0, s.fail(s.at, "nothing is written")
	}
	at := s.at
	if negative, _ := s.sign(); negative {
		return 0, s.fail(at, "it cannot be below zero")
	}
	d, err := s.number()
	if err != nil {
		return 0, err
	}
	s.blanks()
	if s.done() {
		return 0, s.fail(s.at, "the number has no unit")
	}
	by := factor(compact(s.text[s.at:s.end]))
	switch {
	case by == 0:
		return 0, s.fail(s.at, "the unit “"+oneLine(s.text[s.at:s.end])+"” is not known")
	case d.above(largestQuantity):
		return 0, s.fail(at, "the number is above a thousand million; a decimal point or a unit may be wrong")
	}
	return d.float() * by, nil
}

// compact writes a unit in lower case without blanks and full stops, with a
// plain 2 or 3 for a raised one, and "/" for "per".
func compact(unit string) string {
	const longest = 48 // bytes; no unit is longer
	if len(unit) > longest {
		return ""
	}
	b := make([]byte, 0, longest)
	for _, c := range unit {
		switch {
		case c == ' ' || c == '.' || c == '\u00a0' || c == '\u202f':
		case c == '²':
			b = append(b, '2')
		case c == '³':
			b = append(b, '3')
		case c >= 'A' && c <= 'Z':
			b = append(b, byte(c)|0x20)
		case c < 0x80:
			b = append(b, byte(c))
		default:
			return ""
		}
	}
	return string(b)
}

func areaUnit(name string) float64 {
	switch name {
	case "sqft", "ft2", "sf", "squarefeet", "squarefoot", "sqfeet", "sqfoot":
		return float64(SquareFoot)
	case "m2", "sqm", "squaremetres", "squaremetre", "squaremeters", "squaremeter":
		return 1
	case "ac", "acre", "acres":
		return float64(Acre)
	}
	return 0
}

func volumeUnit(name string) float64 {
	switch name {
	case "gal", "gals", "gallon", "gallons", "usgal":
		return float64(Gallon)
	case "l", "litre", "litres", "liter", "liters":
		return float64(Litre)
	case "m3", "cum", "cubicmetres", "cubicmetre", "cubicmeters", "cubicmeter":
		return 1
	case "cuft", "ft3", "cf", "cubicfeet", "cubicfoot":
		return float64(CubicFoot)
	case "cuyd", "yd3", "cy", "cubicyards", "cubicyard":
		return float64(CubicYard)
	}
	return 0
}

func flowUnit(name string) float64 {
	switch name {
	case "gpd", "gal/d", "gal/day", "gallons/day", "gallonsperday", "galperday":
		return float64(GallonPerDay)
	case "gpm", "gal/min", "gallons/minute", "gallonsperminute", "galpermin":
		return float64(GallonPerMinute)
	case "l/s", "lps", "litrespersecond", "literspersecond":
		return float64(LitrePerSecond)
	case "l/min", "lpm", "litresperminute", "litersperminute":
		return float64(LitrePerSecond) / 60
	case "l/d", "l/day", "litresperday", "litersperday":
		return float64(Litre) / 86400
	case "m3/d", "m3/day", "cubicmetresperday", "cubicmetersperday":
		return 1.0 / 86400
	}
	return 0
}

// metric reports whether the style's lengths are metric.
func (s Style) metric() bool {
	f := s.form()
	return f == Metres || f == Centimetres || f == Millimetres
}

// FormatArea prints an area in square feet, or in square metres to a tenth
// where the style's lengths are metric: 1,250 sq ft, 42.5 m².
func (s Style) FormatArea(a Area) string {
	if s.metric() {
		return grouped(float64(a), 1) + " m²"
	}
	return grouped(float64(a/SquareFoot), 0) + " sq ft"
}

// FormatVolume prints a volume in gallons, or in litres where the style's
// lengths are metric: 1,000 gal, 3,785 L.
func (s Style) FormatVolume(v Volume) string {
	if s.metric() {
		return grouped(float64(v/Litre), 0) + " L"
	}
	return grouped(float64(v/Gallon), 0) + " gal"
}

// FormatFlow prints a daily flow in gallons per day, or in litres per day
// where the style's lengths are metric: 450 gpd, 1,703 L/d.
func (s Style) FormatFlow(f Flow) string {
	if s.metric() {
		return grouped(float64(f)*86400/float64(Litre), 0) + " L/d"
	}
	return grouped(float64(f/GallonPerDay), 0) + " gpd"
}

// FormatPumpFlow prints the flow of a pump or a pipe in gallons per minute to
// a tenth, or in litres per second to a hundredth where the style's lengths
// are metric: 10.0 gpm, 0.63 L/s.
func (s Style) FormatPumpFlow(f Flow) string {
	if s.metric() {
		return grouped(float64(f/LitrePerSecond), 2) + " L/s"
	}
	return grouped(float64(f/GallonPerMinute), 1) + " gpm"
}

// grouped prints a number with decimals, more where a value that is not zero
// would show none, and with commas between thousands.
func grouped(v float64, digits int) string {
	size := v
	if v < 0 {
		size = -v
	}
	if !(size < 1e12) {
		return unprintable
	}
	n := roundUp(size * float64(powersOfTen[digits]))
	for size > 0 && n == 0 && digits < 6 {
		digits++
		n = roundUp(size * float64(powersOfTen[digits]))
	}
	var b []byte
	if v < 0 && n > 0 {
		b = append(b, '-')
	}
	p := powersOfTen[digits]
	b = appendThousands(b, uint64(n)/p)
	if digits == 0 {
		return string(b)
	}
	fraction := appendDecimal(nil, uint64(n)%p, digits)
	return string(append(b, fraction[1:]...)) // without its 0
}

// appendThousands prints n with commas between groups of three digits.
func appendThousands(b []byte, n uint64) []byte {
	digits := strconv.AppendUint(nil, n, 10)
	for i, c := range digits {
		if i > 0 && (len(digits)-i)%3 == 0 {
			b = append(b, ',')
		}
		b = append(b, c)
	}
	return b
}

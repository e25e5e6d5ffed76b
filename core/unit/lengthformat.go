package unit

import "strconv"

// Style is how lengths are printed. The zero Style prints feet and inches to
// the sixteenth of an inch.
type Style struct {
	// Form of the text; NoForm is FeetInches.
	Form Form
	// Denominator of the finest fraction of an inch in the forms FeetInches
	// and Inches: 1, 2, 4, 8, 16, 32 or 64. Any other value is 16, except that
	// 0 with Digits above 0 prints decimals of an inch instead of a fraction.
	Denominator int
	// Digits behind the decimal point in the other forms. 0 is the form's
	// own: 2 for feet and metres, none for centimetres and millimetres. Below
	// 0 is none. At most 12 are printed, and 6 beyond 1 km.
	Digits int
}

// NoDigits as the Digits of a Style prints whole units.
const NoDigits = -1

// unprintable is printed for a length that is no number, or one beyond any
// distance on earth.
const unprintable = "unknown"

// printable bounds what is printed, in metres.
const printable = 1e9

// Small returns the style for lengths of a few inches whose last sixteenth
// matters, in the system of s: sixteenths of an inch, or millimetres.
func (s Style) Small() Style {
	switch s.Form {
	case Metres:
		s.Form = Millimetres
	case DecimalFeet:
		s.Form = Inches
	}
	s.Denominator = 16
	return s
}

// Format prints l as the trade writes it: 23' 4 1/2", 23' 0", and below one
// foot 4 1/2" or 0"; 280 1/2 in; 23.38 ft; 7.13 m; 713 cm; 7130 mm. A half of
// the last place is rounded away from zero, and 11.99" carries into the next
// foot. The sign stands first. A length that is no number prints as unknown.
func (s Style) Format(l Length) string {
	if !(l.Abs() <= printable) {
		return unprintable
	}
	if l.Abs() > 1000 {
		s.Digits = min(s.Digits, 6) // more would not fit the count of steps
	}
	var buf [40]byte
	return string(s.append(buf[:0], l))
}

func (s Style) append(b []byte, l Length) []byte {
	unit, per := s.resolution()
	n := steps(l.Abs(), unit, per)
	if l < 0 && n > 0 {
		b = append(b, '-')
	}
	switch s.form() {
	case FeetInches:
		return s.appendFeetInches(b, n, per)
	case Inches:
		return append(s.appendInches(b, n, per), " in"...)
	case Metres:
		return append(appendDecimal(b, n, s.digits()), " m"...)
	case Centimetres:
		return append(appendDecimal(b, n, s.digits()), " cm"...)
	case Millimetres:
		return append(appendDecimal(b, n, s.digits()), " mm"...)
	}
	return append(appendDecimal(b, n, s.digits()), " ft"...)
}

func (s Style) form() Form {
	if s.Form == NoForm || s.Form > Millimetres {
		return FeetInches
	}
	return s.Form
}

// denominator returns the finest fraction of an inch, 0 where decimals of an
// inch are printed.
func (s Style) denominator() uint64 {
	switch s.Denominator {
	case 1, 2, 4, 8, 16, 32, 64:
		return uint64(s.Denominator)
	case 0:
		if s.Digits > 0 {
			return 0
		}
	}
	return 16
}

func (s Style) digits() int {
	d := s.Digits
	if f := s.form(); d == 0 && (f == DecimalFeet || f == Metres) {
		d = 2
	}
	return min(max(d, 0), 12)
}

// resolution returns the unit that is printed and its steps per unit.
func (s Style) resolution() (unit lengthUnit, per uint64) {
	form := s.form()
	if form == FeetInches || form == Inches {
		if den := s.denominator(); den != 0 {
			return inchMark, den
		}
		return inchMark, powersOfTen[s.digits()]
	}
	return unitOf(form), powersOfTen[s.digits()]
}

// steps counts l in steps of unit/per, rounded.
func steps(l Length, unit lengthUnit, per uint64) uint64 {
	return uint64(roundUp(float64(l) * float64(per*unit.den) / float64(unit.num)))
}

// appendFeetInches prints n steps of 1/per inch.
func (s Style) appendFeetInches(b []byte, n, per uint64) []byte {
	if feet := n / (12 * per); feet > 0 {
		b = append(strconv.AppendUint(b, feet, 10), "' "...)
	}
	return append(s.appendInches(b, n%(12*per), per), '"')
}

// appendInches prints n steps of 1/per inch without a mark. Zero inches before
// a fraction are left out, except behind feet.
func (s Style) appendInches(b []byte, n, per uint64) []byte {
	if s.denominator() == 0 {
		return appendDecimal(b, n, s.digits())
	}
	whole, num, den := n/per, n%per, per
	behindFeet := len(b) > 0 && b[len(b)-1] == ' '
	if whole > 0 || num == 0 || behindFeet {
		b = strconv.AppendUint(b, whole, 10)
		if num == 0 {
			return b
		}
		b = append(b, ' ')
	}
	for num%2 == 0 {
		num, den = num/2, den/2
	}
	b = append(strconv.AppendUint(b, num, 10), '/')
	return strconv.AppendUint(b, den, 10)
}

// appendDecimal prints n / 10^digits.
func appendDecimal(b []byte, n uint64, digits int) []byte {
	p := powersOfTen[digits]
	b = strconv.AppendUint(b, n/p, 10)
	if digits == 0 {
		return b
	}
	b = append(b, '.')
	rest := n % p
	for p /= 10; p > 0; p /= 10 {
		b = append(b, byte('0'+rest/p%10))
	}
	return b
}

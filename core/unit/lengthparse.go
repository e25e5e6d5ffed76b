package unit

// lengthUnit is one unit a length may carry, as the exact ratio num/den in
// metres: the inch is 25.4 mm (NIST Special Publication 811, 2008, appendix
// B), the US survey foot 1200/3937 m.
type lengthUnit struct {
	form     Form
	mark     bool // written as ' or "
	num, den uint64
}

var (
	footMark    = lengthUnit{FeetInches, true, 381, 1250}
	footWord    = lengthUnit{DecimalFeet, false, 381, 1250}
	inchMark    = lengthUnit{Inches, true, 127, 5000}
	inchWord    = lengthUnit{Inches, false, 127, 5000}
	metre       = lengthUnit{Metres, false, 1, 1}
	centimetre  = lengthUnit{Centimetres, false, 1, 100}
	millimetre  = lengthUnit{Millimetres, false, 1, 1000}
	surveyFoot  = lengthUnit{DecimalFeet, false, 1200, 3937}
	noUnitGiven = lengthUnit{}
)

func (u lengthUnit) feet() bool { return u.num == footMark.num }

// unitOf returns the unit in which a bare number of the form is counted.
func unitOf(f Form) lengthUnit {
	switch f {
	case FeetInches, DecimalFeet:
		return footWord
	case Inches:
		return inchWord
	case Metres:
		return metre
	case Centimetres:
		return centimetre
	case Millimetres:
		return millimetre
	}
	return noUnitGiven
}

const (
	expectedLength = "a length in feet and inches, feet, inches, metres, centimetres or millimetres"
	exampleLength  = `23' 4 1/2"`

	longestMetres = 100e3 // no yard is longer; beyond it a unit or a point was lost
	largestNumber = 100e6 // the same in millimetres
	longestFeet   = 400e3
)

// lengthReader reads one length.
type lengthReader struct {
	scanner
	negative bool
}

// ParseLength reads a length as the trade writes it: 23' 4 1/2", 23'4-1/2",
// 23 ft 4.5 in, 4 1/2", 1/2 in, 23.38 ft, 7.13 m, 713 cm, 7130 mm, with a
// leading sign and outer blanks, typographic marks and fractions allowed. The
// suffix usft is the US survey foot of 1200/3937 m. An inch mark may be left
// off behind feet.
//
// A number without a unit is read in the form bare; with FeetInches it counts
// feet (23.4 is 23.4 ft), and 23 4.5 or 23 4 1/2 is read as feet then inches;
// 4 1/2 alone could be either and is an error. With NoForm a number without a
// unit is an error.
//
// The result is the exact quantity correctly rounded to metres, at most 100 km
// in size. The form is FeetInches for feet with inches and for feet with the
// mark ' alone, DecimalFeet for other feet. An error is a *ParseError.
func ParseLength(text string, bare Form) (Written, error) {
	r := lengthReader{scanner: scan(text, expectedLength, exampleLength)}
	w := Written{Text: text[r.at:r.end]}
	if r.done() {
		return Written{}, r.fail(r.at, "the length is empty")
	}
	r.negative, _ = r.sign()
	var err *ParseError
	if w.Length, w.Form, err = r.read(bare); err != nil {
		return Written{}, err
	}
	return w, nil
}

func (r *lengthReader) read(bare Form) (Length, Form, *ParseError) {
	first, err := r.amount()
	if err != nil {
		return 0, NoForm, err
	}
	r.blanks()
	if r.done() {
		return r.withoutUnit(first, bare)
	}
	if bare == FeetInches && first.whole() && r.atAmount() {
		return r.inchesAfter(first, true)
	}
	unit, err := r.unit()
	if err != nil {
		return 0, NoForm, err
	}
	r.blanks()
	if unit.feet() && !r.done() {
		return r.inchesAfter(first, false)
	}
	return r.single(first, unit)
}

// single ends a length of one number with one unit.
func (r *lengthReader) single(a amount, unit lengthUnit) (Length, Form, *ParseError) {
	if !r.done() {
		return 0, NoForm, r.fail(r.at, "something follows after the unit: "+r.shown())
	}
	form := unit.form
	if form == FeetInches && !a.whole() {
		form = DecimalFeet
	}
	if a.fraction && form != DecimalFeet && form != Inches {
		return 0, NoForm, r.fail(a.at, "metric lengths are written with a decimal point, not a fraction")
	}
	l, err := r.length(a.num, a.den, unit)
	return l, form, err
}

// withoutUnit ends a length that is a bare number.
func (r *lengthReader) withoutUnit(a amount, bare Form) (Length, Form, *ParseError) {
	unit := unitOf(bare)
	switch {
	case unit == noUnitGiven:
		err := r.fail(r.end, "the number has no unit")
		err.Expected = `a unit behind it: ' or ft, " or in, m, cm or mm`
		err.Example = oneLine(r.text[a.at:r.end]) + " ft"
		if a.fraction {
			err.Example = oneLine(r.text[a.at:r.end]) + " in"
		}
		return 0, NoForm, err
	case a.fraction && bare != Inches:
		err := r.fail(r.end, "the fraction has no unit")
		err.Expected = `the inch mark behind it, and the foot mark behind feet`
		return 0, NoForm, err
	case bare == FeetInches && !a.point:
		unit.form = FeetInches
	}
	return r.single(a, unit)
}

// inchesAfter reads the inches behind feet. In the shorthand no unit was
// written behind the feet, and none may follow the inches.
func (r *lengthReader) inchesAfter(feet amount, shorthand bool) (Length, Form, *ParseError) {
	if !feet.whole() {
		return 0, NoForm, r.fail(feet.at, "feet beside inches must be a whole number")
	}
	if r.take("-") || r.take("–") {
		r.blanks()
	}
	in, err := r.amount()
	if err != nil {
		return 0, NoForm, err
	}
	r.blanks()
	if !r.done() {
		at := r.at
		unit, err := r.unit()
		switch {
		case err != nil:
			return 0, NoForm, err
		case shorthand:
			return 0, NoForm, r.fail(feet.at, "two numbers share one unit: write a unit behind each")
		case unit.num != inchMark.num:
			return 0, NoForm, r.fail(at, "only inches may follow feet")
		}
		r.blanks()
	}
	if !r.done() {
		return 0, NoForm, r.fail(r.at, "something follows after the inches: "+r.shown())
	}
	l, err := r.feetInches(feet, in)
	return l, FeetInches, err
}

// feetInches adds feet and inches, once both are in range.
func (r *lengthReader) feetInches(feet, in amount) (Length, *ParseError) {
	switch {
	case in.num >= 12*in.den:
		return 0, r.fail(in.at, "inches beside feet must be below 12")
	case in.decimals > 9:
		return 0, r.fail(in.at, "the inches have more digits than can be measured")
	case feet.num > longestFeet:
		return 0, r.tooLong(feet.at)
	}
	return r.length(feet.num*12*in.den+in.num, in.den, inchMark)
}

// length turns num/den of the unit into metres.
func (r *lengthReader) length(num, den uint64, unit lengthUnit) (Length, *ParseError) {
	l := Length(ratio(num*unit.num, den*unit.den))
	if l > longestMetres {
		return 0, r.tooLong(r.at)
	}
	if r.negative && l != 0 {
		l = -l
	}
	return l, nil
}

func (r *lengthReader) tooLong(at int) *ParseError {
	return r.fail(at, "the length is over 100 km; a decimal point or a unit may be wrong")
}

// unit reads a unit, a mark or a word.
func (r *lengthReader) unit() (lengthUnit, *ParseError) {
	switch {
	case isLetter(r.peek()):
		return r.unitWord()
	case r.take(`"`):
		return inchMark, nil
	case r.primeMark():
		if r.primeMark() { // two foot marks are how many hands write one inch mark
			return inchMark, nil
		}
		return footMark, nil
	case r.peek() >= 0x80 && r.takeAny("″", "”", "“", "‶"):
		return inchMark, nil
	case r.atAmount():
		return noUnitGiven, r.fail(r.at, "a unit is missing between two numbers")
	case r.peek() == '-':
		return noUnitGiven, r.fail(r.at, "a unit should stand before the hyphen")
	}
	return noUnitGiven, r.fail(r.at, "a unit should stand here, not "+r.shown())
}

func (r *lengthReader) primeMark() bool {
	if r.peek() < 0x80 {
		return r.take("'")
	}
	return r.takeAny("′", "’", "‘", "´")
}

func (r *lengthReader) unitWord() (lengthUnit, *ParseError) {
	at := r.at
	var buf [16]byte
	var unit lengthUnit
	switch string(r.word(&buf)) {
	case "ft", "foot", "feet":
		unit = footWord
	case "in", "inch", "inches":
		unit = inchWord
	case "m", "metre", "metres", "meter", "meters":
		return metre, nil
	case "cm", "centimetre", "centimetres", "centimeter", "centimeters":
		return centimetre, nil
	case "mm", "millimetre", "millimetres", "millimeter", "millimeters":
		return millimetre, nil
	case "usft":
		return surveyFoot, nil
	case "e":
		return noUnitGiven, r.fail(at, "numbers are written without an exponent")
	default:
		r.at = at
		return noUnitGiven, r.fail(at, "the unit "+r.shown()+" is not known")
	}
	r.take(".") // the abbreviation's full stop
	return unit, nil
}

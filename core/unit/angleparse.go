package unit

import "strings"

const (
	expectedBearing = "a direction clockwise from north, or from north or south toward east or west"
	exampleBearing  = "214°30' or S 34°30' W"
)

// arc is an angle without sign as the exact ratio num/den of a degree.
type arc struct{ num, den uint64 }

// degrees returns the arc in degrees, correctly rounded.
func (a arc) degrees() float64 { return ratio(a.num, a.den) }

// angle returns the arc in radians.
func (a arc) angle() Angle { return Angle(a.degrees()) * Degree }

func (a arc) above(limit uint64) bool { return a.num > limit*a.den }

// over returns whole degrees less the arc.
func (a arc) over(degrees uint64) arc { return arc{degrees*a.den - a.num, a.den} }

// beyond returns whole degrees and the arc.
func (a arc) beyond(degrees uint64) arc { return arc{degrees*a.den + a.num, a.den} }

// ParseBearing reads a direction: an azimuth clockwise from north from 0 to
// 360 degrees (214°30', 214.5, 214 30, 214°30'15"), a quadrant (N 34°30' E,
// S34.5W, N 34-30-15 E) or a compass point (N, due north, E). Minutes and
// seconds below 60 follow degrees, behind marks, blanks, hyphens or colons;
// only the last number has decimals. 360 is read as 0. An error is a
// *ParseError.
func ParseBearing(text string) (WrittenAngle, error) {
	r := angleReader{scan(text, expectedBearing, exampleBearing)}
	w := WrittenAngle{Text: text[r.at:r.end], Form: Azimuth}
	if r.done() {
		return WrittenAngle{}, r.fail(r.at, "the direction is empty")
	}
	var a arc
	var err *ParseError
	if isLetter(r.peek()) {
		w.Form = Quadrant
		a, err = r.quadrant()
	} else {
		a, err = r.azimuth()
	}
	if err != nil {
		return WrittenAngle{}, err
	}
	w.Angle = a.angle().Turn()
	return w, nil
}

// ParseDeclination reads how far magnetic north lies from true north: 4°30' W,
// 3.5 E, or a signed angle, east positive. It is at most 90 degrees. An error
// is a *ParseError.
func ParseDeclination(text string) (Angle, error) {
	return parseSided(text, "a declination east or west", "4°30' W", 90, "east", "west")
}

// ParseLatitude reads a latitude, north positive: 47.05312 N, 40°26'46" N or
// signed degrees. An error is a *ParseError.
func ParseLatitude(text string) (Angle, error) {
	return parseSided(text, "a latitude north or south", "47.05312 N", 90, "north", "south")
}

// ParseLongitude reads a longitude, east positive: 122.71104 W, 79°58'56" W or
// signed degrees. An error is a *ParseError.
func ParseLongitude(text string) (Angle, error) {
	return parseSided(text, "a longitude east or west", "122.71104 W", 180, "east", "west")
}

// ParseAngle reads a plain angle: 0.5°, 1 deg, 30', 1°30', 15". A number
// without a unit counts degrees. A sign may stand before it; the size is at
// most 360 degrees. An error is a *ParseError.
func ParseAngle(text string) (Angle, error) {
	return parseSided(text, "an angle in degrees", "0.5° or 30'", 360, "", "")
}

// parseSided reads an angle that a sign or the letter of a side makes positive
// or negative. With no sides none may be written.
func parseSided(text, expected, example string, limit uint64, plus, minus string) (Angle, error) {
	r := angleReader{scan(text, expected, example)}
	if r.done() {
		return 0, r.fail(r.at, "the angle is empty")
	}
	start := r.at
	negative, signed := r.sign()
	side, err := r.side(plus, minus)
	if err != nil {
		return 0, err
	}
	at := r.at
	a, err := r.arc()
	if err != nil {
		return 0, err
	}
	if side == "" {
		if side, err = r.side(plus, minus); err != nil {
			return 0, err
		}
	}
	switch {
	case !r.done():
		return 0, r.fail(r.at, "something follows after the angle: "+r.shown())
	case a.above(limit):
		return 0, r.fail(at, "the angle is above "+degreesText(limit))
	case signed && side != "":
		return 0, r.fail(start, "a sign and a side say the same twice: keep one of them")
	}
	if (negative || side != "" && side == minus) && a.num != 0 {
		return -a.angle(), nil
	}
	return a.angle(), nil
}

// angleReader reads one angle.
type angleReader struct{ scanner }

// azimuth reads an angle from 0 to 360 degrees to the end of the text.
func (r *angleReader) azimuth() (arc, *ParseError) {
	at := r.at
	if negative, _ := r.sign(); negative {
		return arc{}, r.fail(at, "a direction has no minus sign; it runs from 0° to 360° clockwise from north")
	}
	a, err := r.arc()
	switch {
	case err != nil:
		return arc{}, err
	case !r.done():
		return arc{}, r.fail(r.at, "something follows after the direction: "+r.shown())
	case a.above(360):
		return arc{}, r.fail(at, "the direction is above 360°")
	}
	return a, nil
}

// quadrant reads N 34°30' E, or a compass point alone.
func (r *angleReader) quadrant() (arc, *ParseError) {
	at := r.at
	from, due := r.compass()
	r.blanks()
	switch {
	case from == 0:
		r.at = at
		return arc{}, r.fail(at, "a direction starts with an angle, N or S, not "+r.shown())
	case r.done():
		return duePoint(from), nil
	case due:
		return arc{}, r.fail(r.at, "nothing may follow a direction that is due")
	case from == 'e' || from == 'w':
		return arc{}, r.fail(at, "a quadrant starts with N or S")
	case !r.atNumber():
		return arc{}, r.fail(r.at, "the angle is missing behind "+strings.ToUpper(string(from)))
	}
	return r.toward(from)
}

// toward reads the angle and the side of a quadrant.
func (r *angleReader) toward(from byte) (arc, *ParseError) {
	at := r.at
	a, err := r.arc()
	if err != nil {
		return arc{}, err
	}
	sideAt := r.at
	to, due := r.compass()
	r.blanks()
	switch {
	case to != 'e' && to != 'w' || due:
		return arc{}, r.fail(sideAt, "E or W is missing behind the angle")
	case !r.done():
		return arc{}, r.fail(r.at, "something follows after the direction: "+r.shown())
	case a.above(90):
		return arc{}, r.fail(at, "the angle of a quadrant is at most 90°")
	}
	return fromQuadrant(from, a, to), nil
}

// duePoint returns the direction of a compass point.
func duePoint(point byte) arc {
	switch point {
	case 'e':
		return arc{90, 1}
	case 's':
		return arc{180, 1}
	case 'w':
		return arc{270, 1}
	}
	return arc{0, 1}
}

// fromQuadrant turns the angle from north or south toward east or west into
// one clockwise from north.
func fromQuadrant(from byte, a arc, to byte) arc {
	switch {
	case from == 'n' && to == 'e':
		return a
	case from == 's' && to == 'e':
		return a.over(180)
	case from == 's':
		return a.beyond(180)
	}
	return a.over(360)
}

// compass reads a compass letter or word, with due before it or not; 0 where
// there is none.
func (r *angleReader) compass() (point byte, due bool) {
	var buf [16]byte
	word := string(r.word(&buf))
	if due = word == "due"; due {
		r.blanks()
		word = string(r.word(&buf))
	}
	switch word {
	case "n", "north", "e", "east", "s", "south", "w", "west":
		return word[0], due
	}
	return 0, due
}

// side reads the letter or the word of one of two sides, empty where no letter
// comes next.
func (r *angleReader) side(plus, minus string) (string, *ParseError) {
	if !isLetter(r.peek()) {
		return "", nil
	}
	at := r.at
	var buf [16]byte
	word := string(r.word(&buf))
	r.blanks()
	for _, side := range [...]string{plus, minus} {
		if side != "" && (word == side || word == side[:1]) {
			return side, nil
		}
	}
	r.at = at
	problem := r.shown() + " cannot stand here"
	if plus != "" {
		problem += "; the side is " + plus + " or " + minus
	}
	return "", r.fail(at, problem)
}

// The parts of an angle, as divisors of a degree.
const (
	noMark  = 0
	degrees = 1
	minutes = 60
	seconds = 3600
)

// arc reads degrees, minutes and seconds, at least one of them, and the blanks
// behind.
func (r *angleReader) arc() (arc, *ParseError) {
	sum, unit, point := arc{0, 1}, uint64(noMark), false
	for first := true; first || r.more(); first = false {
		at := r.at
		d, err := r.number()
		if err != nil {
			return sum, err
		}
		next := r.mark()
		switch {
		case point:
			return sum, r.fail(at, "only the last number of an angle has decimals")
		case next == noMark:
			next = max(unit*60, degrees)
		case next <= unit:
			return sum, r.fail(at, "degrees, minutes and seconds stand in this order, each once")
		}
		if next > seconds {
			return sum, r.fail(at, "an angle has at most degrees, minutes and seconds")
		}
		if sum, err = r.add(sum, d, next, at, first); err != nil {
			return sum, err
		}
		unit, point = next, d.point
	}
	return sum, nil
}

// add adds d/unit degrees to the sum of whole parts.
func (r *angleReader) add(sum arc, d decimal, unit uint64, at int, first bool) (arc, *ParseError) {
	switch {
	case d.decimals > 12:
		return sum, r.fail(at, "the number has more digits than can be measured")
	case d.above(1000) && unit == degrees:
		return sum, r.fail(at, "the degrees are above 360")
	case unit > degrees && (d.above(60) || d.digits == 60*powersOfTen[d.decimals]) && !(first && d.decimals == 0 && d.digits < 1000):
		return sum, r.fail(at, "minutes and seconds must be below 60")
	}
	p := powersOfTen[d.decimals] * (unit / sum.den)
	return arc{sum.num*p + d.digits, sum.den * p}, nil
}

// more skips what may stand between two numbers of an angle, and reports
// whether another number follows.
func (r *angleReader) more() bool {
	back := r.at
	if r.take("-") || r.take(":") {
		r.blanks()
	}
	if r.atNumber() {
		return true
	}
	r.at = back
	return false
}

// mark reads the mark or word behind a number and the blanks around it; noMark
// where none stands.
func (r *angleReader) mark() uint64 {
	r.blanks()
	unit := r.markHere()
	if unit != noMark {
		r.blanks()
	}
	return unit
}

func (r *angleReader) markHere() uint64 {
	switch {
	case isLetter(r.peek()):
		return r.markWord()
	case r.takeAny("°", "º", "˚"):
		return degrees
	case r.takeAny("'", "′", "’", "‘", "´"):
		if r.takeAny("'", "′", "’") {
			return seconds
		}
		return minutes
	case r.takeAny(`"`, "″", "”", "“"):
		return seconds
	}
	return noMark
}

// markWord reads a word for a part of an angle, and nothing if it is another
// word, such as a compass letter.
func (r *angleReader) markWord() uint64 {
	back := r.at
	var buf [16]byte
	unit := uint64(noMark)
	switch string(r.word(&buf)) {
	case "deg", "degree", "degrees", "d":
		unit = degrees
	case "min", "minute", "minutes":
		unit = minutes
	case "sec", "second", "seconds":
		unit = seconds
	default:
		r.at = back
	}
	return unit
}

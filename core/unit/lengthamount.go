package unit

import "strings"

// amount is a number with or without a fraction, num/den.
type amount struct {
	num, den        uint64
	at              int
	decimals        int
	point, fraction bool
}

func (a amount) whole() bool { return !a.point && !a.fraction }

// atAmount reports whether a number or a typographic fraction starts here.
func (r *lengthReader) atAmount() bool {
	if r.atNumber() {
		return true
	}
	_, _, size := glyphFraction(r.text[r.at:r.end])
	return size > 0
}

// amount reads 4, 4.5, 4 1/2, 4-1/2, 4½ or 1/2.
func (r *lengthReader) amount() (amount, *ParseError) {
	at := r.at
	if f, ok := r.glyph(); ok {
		return f, nil
	}
	d, err := r.number()
	if err != nil {
		return amount{}, err
	}
	if r.slash() {
		return r.fraction(at, d)
	}
	if d.above(largestNumber) {
		return amount{}, r.tooLong(at)
	}
	a := amount{num: d.digits, den: powersOfTen[d.decimals], at: at, decimals: d.decimals, point: d.point}
	return r.fractionBehind(a)
}

// fractionBehind adds the fraction that follows a whole number; without one
// it goes back to where the number ended.
func (r *lengthReader) fractionBehind(a amount) (amount, *ParseError) {
	back := r.at
	r.blanks()
	if r.take("-") || r.take("–") {
		r.blanks()
	}
	f, ok := r.glyph()
	if !ok {
		if !r.fractionAhead() {
			r.at = back
			return a, nil
		}
		at := r.at
		top, err := r.number()
		if err != nil {
			return a, err
		}
		r.slash()
		if f, err = r.fraction(at, top); err != nil {
			return a, err
		}
	}
	if a.point {
		return a, r.fail(f.at, "a fraction cannot follow a number with a decimal point")
	}
	a.num, a.den, a.fraction = a.num*f.den+f.num, f.den, true
	return a, nil
}

// fractionAhead reports whether digits and a slash come next.
func (r *lengthReader) fractionAhead() bool {
	i := r.at
	for i < r.end && isDigit(r.text[i]) {
		i++
	}
	rest := r.text[i:r.end]
	return i > r.at && rest != "" && (rest[0] == '/' || strings.HasPrefix(rest, "⁄"))
}

func (r *lengthReader) slash() bool {
	if c := r.peek(); c == '/' {
		r.at++
		return true
	} else if c < 0x80 {
		return false
	}
	return r.take("⁄")
}

// fraction reads the denominator behind the slash.
func (r *lengthReader) fraction(at int, top decimal) (amount, *ParseError) {
	bottom, err := r.number()
	if err != nil {
		return amount{}, err
	}
	switch den := bottom.digits; {
	case top.point || bottom.point:
		return amount{}, r.fail(at, "a fraction is written with whole numbers, as 1/2")
	case !(den == 2 || den == 4 || den == 8 || den == 16 || den == 32 || den == 64):
		return amount{}, r.fail(at, "a fraction of an inch has 2, 4, 8, 16, 32 or 64 below the line")
	case top.digits == 0 || top.digits >= den:
		return amount{}, r.fail(at, "the upper number of a fraction must be above 0 and below the lower one")
	}
	return amount{num: top.digits, den: bottom.digits, at: at, fraction: true}, nil
}

// glyph reads a fraction that is one character.
func (r *lengthReader) glyph() (amount, bool) {
	if r.peek() < 0x80 {
		return amount{}, false
	}
	num, den, size := glyphFraction(r.text[r.at:r.end])
	if size == 0 {
		return amount{}, false
	}
	a := amount{num: num, den: den, at: r.at, fraction: true}
	r.at += size
	return a, true
}

// glyphFraction returns the typographic fraction with which s starts, and its
// size in bytes; a size of 0 where there is none.
func glyphFraction(s string) (num, den uint64, size int) {
	for _, g := range [...]struct {
		text     string
		num, den uint64
	}{{"½", 1, 2}, {"¼", 1, 4}, {"¾", 3, 4}, {"⅛", 1, 8}, {"⅜", 3, 8}, {"⅝", 5, 8}, {"⅞", 7, 8}} {
		if strings.HasPrefix(s, g.text) {
			return g.num, g.den, len(g.text)
		}
	}
	return 0, 0, 0
}

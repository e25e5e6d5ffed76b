package unit

import (
	"math"
	"math/big"
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxDigits bounds the digits of a number: 15 digits pass through a float64
// unharmed, and no instrument of the trade shows more.
const maxDigits = 15

var powersOfTen = [maxDigits + 1]uint64{
	1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
}

// decimal is a number as written: digits / 10^decimals.
type decimal struct {
	digits   uint64
	decimals int
	point    bool // a decimal point was written
}

func (d decimal) float() float64 { return ratio(d.digits, powersOfTen[d.decimals]) }

// above reports whether d is greater than limit.
func (d decimal) above(limit uint64) bool {
	p := powersOfTen[d.decimals]
	whole := d.digits / p
	return whole > limit || whole == limit && d.digits%p != 0
}

// ratio returns num/den correctly rounded, so that equal quantities written
// differently give the same bits.
func ratio(num, den uint64) float64 {
	const exact = 1 << 53
	if num <= exact && den <= exact {
		return float64(num) / float64(den)
	}
	n, d := new(big.Int).SetUint64(num), new(big.Int).SetUint64(den)
	f, _ := new(big.Rat).SetFrac(n, d).Float64()
	return f
}

// scanner walks over text[at:end].
type scanner struct {
	text     string
	at, end  int
	expected string // for errors
	example  string
	commas   bool // a comma between groups of three digits is read
}

// scan returns a scanner over the text without its outer blanks.
func scan(text, expected, example string) scanner {
	rest := strings.TrimLeftFunc(text, unicode.IsSpace)
	start := len(text) - len(rest)
	end := start + len(strings.TrimRightFunc(rest, unicode.IsSpace))
	return scanner{text: text, at: start, end: end, expected: expected, example: example}
}

func (s *scanner) fail(at int, problem string) *ParseError {
	return &ParseError{Text: s.text, Offset: at, Problem: problem, Expected: s.expected, Example: s.example}
}

func (s *scanner) done() bool { return s.at >= s.end }

// peek returns the next byte, 0 at the end.
func (s *scanner) peek() byte {
	if s.at < s.end {
		return s.text[s.at]
	}
	return 0
}

// blanks skips blanks, the no-break ones too.
func (s *scanner) blanks() {
	for s.at < s.end {
		switch c := s.text[s.at]; {
		case c == ' ' || c == '\t' || c == '\n' || c == '\r':
			s.at++
		case c < utf8.RuneSelf:
			return
		case s.take("\u00a0"), s.take("\u2009"), s.take("\u202f"), s.take("\u2002"), s.take("\u2003"):
		default:
			return
		}
	}
}

// take skips the prefix if the text goes on with it.
func (s *scanner) take(prefix string) bool {
	if strings.HasPrefix(s.text[s.at:s.end], prefix) {
		s.at += len(prefix)
		return true
	}
	return false
}

// takeAny skips the first of the prefixes with which the text goes on.
func (s *scanner) takeAny(prefixes ...string) bool {
	for _, p := range prefixes {
		if s.take(p) {
			return true
		}
	}
	return false
}

// sign skips a sign and the blanks after it.
func (s *scanner) sign() (negative, signed bool) {
	switch {
	case s.peek() == '-', s.peek() >= utf8.RuneSelf && strings.HasPrefix(s.text[s.at:s.end], "\u2212"):
		negative = true
		if !s.take("-") {
			s.take("\u2212")
		}
	case s.peek() == '+':
		s.at++
	default:
		return false, false
	}
	s.blanks()
	return negative, true
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func isLetter(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }

// atNumber reports whether a number starts here.
func (s *scanner) atNumber() bool {
	c := s.peek()
	return isDigit(c) || c == '.' && s.at+1 < s.end && isDigit(s.text[s.at+1])
}

// number reads digits with at most one decimal point.
func (s *scanner) number() (decimal, *ParseError) {
	if !s.atNumber() {
		return decimal{}, s.fail(s.at, s.noNumber())
	}
	var d decimal
	start, significant := s.at, 0
	for ; s.at < s.end; s.at++ {
		c := s.text[s.at]
		switch {
		case isDigit(c):
			if d.digits != 0 || c != '0' {
				significant++
			}
			if d.point {
				d.decimals++
			}
			if significant > maxDigits || d.decimals > maxDigits {
				return d, s.fail(start, "the number has more digits than can be measured")
			}
			d.digits = d.digits*10 + uint64(c-'0')
			continue
		case c == '.' && !d.point:
			if s.at+1 >= s.end || !isDigit(s.text[s.at+1]) {
				return d, s.fail(s.at, "a digit is missing behind the decimal point")
			}
			d.point = true
			continue
		case c == '.' && s.at+1 < s.end && isDigit(s.text[s.at+1]):
			return d, s.fail(s.at, "the number has two decimal points")
		case c == ',':
			if s.commas && !d.point && s.thousands(start) {
				continue
			}
			return d, s.fail(s.at, s.commaProblem())
		}
		break
	}
	return d, nil
}

// thousands reports whether the comma here stands between groups of three, in
// a number that starts at start.
func (s *scanner) thousands(start int) bool {
	rest := s.text[s.at+1 : s.end]
	if s.at == start || len(rest) < 3 || !isDigit(rest[0]) || !isDigit(rest[1]) || !isDigit(rest[2]) || len(rest) > 3 && isDigit(rest[3]) {
		return false
	}
	lead := s.text[start:s.at]
	if last := strings.LastIndexByte(lead, ','); last >= 0 {
		return len(lead)-last-1 == 3
	}
	return len(lead) <= 3
}

func (s *scanner) commaProblem() string {
	if s.commas {
		return "the comma does not stand between groups of three digits; decimals are written with a point, as 4.5"
	}
	return "a comma is not read: write decimals with a point, as 4.5, and thousands without a comma, as 1234.5"
}

func (s *scanner) noNumber() string {
	switch {
	case s.done():
		return "a number is missing"
	case s.peek() == '-' || s.peek() == '+':
		return "a second sign stands here"
	case s.peek() == ',':
		return s.commaProblem()
	}
	return "a number should stand here, not " + s.shown()
}

// shown quotes the next word or character for an error.
func (s *scanner) shown() string {
	i := s.at
	for i < s.end && isLetter(s.text[i]) && i < s.at+20 {
		i++
	}
	if i == s.at {
		_, size := utf8.DecodeRuneInString(s.text[s.at:s.end])
		i += size
	}
	return "“" + oneLine(s.text[s.at:i]) + "”"
}

// word reads a run of ASCII letters in lower case; longer ones than any unit
// are cut, so that they match none.
func (s *scanner) word(buf *[16]byte) []byte {
	n := 0
	for s.at < s.end && isLetter(s.text[s.at]) {
		if n < len(buf) {
			buf[n] = s.text[s.at] | 0x20
			n++
		}
		s.at++
	}
	return buf[:n]
}

// roundUp rounds a value that is not negative to the nearest whole number, a
// half upward even where binary noise has put it a hair below the half.
func roundUp(v float64) float64 {
	if v < 1e14 { // above, the allowance would itself reach a half
		v *= 1 + 1e-15
	}
	return math.Floor(v + 0.5)
}

// Package words says what a search word is, so that every store finds the same:
// a run of letters and digits, without case and accents. What is joined by a
// hyphen, an apostrophe, a slash or a full stop is found in its pieces and
// written as one: T-1996-0412 by "1996", by "T-1996" and by "T19960412".
package words

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

const (
	// Longest is how many letters of a word count; what follows is not looked at,
	// neither in a text nor in what is searched for.
	Longest = 64
	// MostAsked is how many words of a search count.
	MostAsked = 32
)

// Index returns the words that a text is found by, each once, in the order of
// the text.
func Index(text string) []string {
	var out list
	split(text, func(pieces []string) {
		for _, p := range pieces {
			out.add(p)
		}
		if len(pieces) > 1 {
			out.add(strings.Join(pieces, ""))
		}
	})
	return out.words
}

// Asked returns the words of a search, each once. All of them must occur, each
// as the start of a word of Index. None means that nothing was asked.
func Asked(text string) []string {
	var out list
	split(text, func(pieces []string) {
		for _, p := range pieces {
			if len(out.words) < MostAsked {
				out.add(p)
			}
		}
	})
	return out.words
}

// Match reports whether each word asked for starts a word of an index.
func Match(index, asked []string) bool {
	for _, a := range asked {
		if !starts(index, a) {
			return false
		}
	}
	return true
}

func starts(index []string, asked string) bool {
	for _, w := range index {
		if strings.HasPrefix(w, asked) {
			return true
		}
	}
	return false
}

// list keeps words in order, each once.
type list struct {
	words []string
	seen  map[string]bool
}

func (l *list) add(word string) {
	word = cut(word)
	if l.seen[word] {
		return
	}
	if l.seen == nil {
		l.seen = map[string]bool{}
	}
	l.seen[word] = true
	l.words = append(l.words, word)
}

// cut keeps the letters of a word that count.
func cut(word string) string {
	n := 0
	for i := range word {
		if n == Longest {
			return word[:i]
		}
		n++
	}
	return word
}

// split calls f for every run of words that nothing but single joining signs
// part.
func split(text string, f func(pieces []string)) {
	var pieces []string
	var word strings.Builder
	joining := false
	end := func() {
		if word.Len() > 0 {
			pieces = append(pieces, word.String())
			word.Reset()
		}
	}
	flush := func() {
		end()
		if len(pieces) > 0 {
			f(pieces)
		}
		pieces, joining = nil, false
	}
	for _, r := range norm.NFKD.String(strings.ToValidUTF8(text, " ")) {
		switch {
		case unicode.IsMark(r):
		case unicode.IsLetter(r) || unicode.IsNumber(r):
			write(&word, r)
			joining = false
		case joins(r) && word.Len() > 0 && !joining:
			end()
			joining = true
		default:
			flush()
		}
	}
	flush()
}

// joins reports whether a sign between two words makes them one name.
func joins(r rune) bool {
	switch r {
	case '-', '\'', '/', '.', '_', '\u2010', '\u2011', '\u2019', '\u02bc':
		return true
	}
	return false
}

// plain lists the letters that no decomposition takes apart, as people write
// them on a keyboard without them.
var plain = map[rune]string{
	'ß': "ss", 'æ': "ae", 'œ': "oe", 'ø': "o", 'ł': "l", 'đ': "d", 'ð': "d", 'þ': "th", 'ħ': "h", 'ı': "i", 'ŋ': "n", 'ς': "σ",
}

func write(b *strings.Builder, r rune) {
	r = unicode.ToLower(r)
	if s, ok := plain[r]; ok {
		b.WriteString(s)
		return
	}
	b.WriteRune(r)
}

package people

import (
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"undersod/internal/archive"
)

func denied(words string) error { return archive.Told(archive.ErrDenied, "%s", words) }

func refused(format string, args ...any) error {
	return archive.Told(archive.ErrRefused, format, args...)
}

// Wait says that nothing was tried, and how long to wait before trying again.
// It is an archive.ErrDenied.
type Wait struct {
	For   time.Duration
	words string
}

// Error tells a person how long to wait, and nothing about any account.
func (w *Wait) Error() string {
	return w.words + "; wait " + span(w.For) + " and try again"
}

// Unwrap makes a Wait an archive.ErrDenied.
func (w *Wait) Unwrap() error { return archive.ErrDenied }

// RetryAfter returns how long to wait, in whole seconds, at least one.
func (w *Wait) RetryAfter() time.Duration { return max(time.Second, roundUp(w.For, time.Second)) }

// span writes a wait as a person says it, never shorter than it is.
func span(t time.Duration) string {
	unit, name := time.Second, "second"
	if t > 100*time.Second {
		unit, name = time.Minute, "minute"
	}
	n := max(1, int64(roundUp(t, unit)/unit))
	if n != 1 {
		name += "s"
	}
	return fmt.Sprintf("%d %s", n, name)
}

func roundUp(t, to time.Duration) time.Duration { return (t + to - 1) / to * to }

// line brings what a person wrote about somebody to one line that can be shown
// as it is, from 1 to most characters.
func line(what, text string, most int) (string, error) {
	const expected = "%s: 1 to %d characters on one line are expected, for example %q"
	example := "R. Dunmoor"
	if len(text) > 16*most || !utf8.ValidString(text) || strings.ContainsFunc(text, hidden) {
		return "", refused(expected, what, most, example)
	}
	text = norm.NFC.String(strings.TrimSpace(text))
	if n := utf8.RuneCountInString(text); n < 1 || n > most {
		return "", refused(expected, what, most, example)
	}
	return text, nil
}

// hidden reports whether a character is not seen, or turns the order of what
// follows it about, so that a list would show something else than is there.
func hidden(r rune) bool {
	return unicode.IsControl(r) || unicode.In(r, unicode.Bidi_Control, unicode.Zl, unicode.Zp)
}

// shortened keeps a text that a machine sent, for showing: without what is
// hidden, and at most so many bytes.
func shortened(text string, most int) string {
	text = text[:min(len(text), 4*most)]
	text = strings.Map(func(r rune) rune {
		if hidden(r) {
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, "\uFFFD"))
	for len(text) > most {
		_, size := utf8.DecodeLastRuneInString(text)
		text = text[:len(text)-size]
	}
	return text
}

// some writes a number with the name of a thing in one or many.
func some(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

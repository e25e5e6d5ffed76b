package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"os"
	"strconv"
	"strings"
	"time"

	"undersod/internal/answer"
	"undersod/internal/archive"
)

// problem is what went wrong, as RFC 9457 ("Problem Details for HTTP APIs",
// 2023) writes it: what it is, and what to do.
type problem struct {
	Type     string `json:"type"`
	Title    string `json:"title"`
	Status   int    `json:"status"`
	Detail   string `json:"detail"`
	Do       string `json:"do,omitempty"`
	Revision int64  `json:"revision,omitempty"` // that the thing is at now, where someone else changed it
	Request  string `json:"request,omitempty"`  // its number in the log
	header   http.Header
}

const problemType = "application/problem+json"

// write writes a problem for a program.
func (p problem) write(w http.ResponseWriter) {
	text, err := json.Marshal(p)
	if err != nil {
		text = []byte(`{"type":"about:blank","title":"Internal Server Error","status":500,"detail":"The answer could not be written."}`)
	}
	h := w.Header()
	h.Set("Content-Type", problemType)
	h.Set("Cache-Control", "no-store")
	w.WriteHeader(p.Status)
	_, _ = w.Write(append(text, '\n')) // whoever asked may have gone
}

// refusal is an error of this package: its status and its words.
type refusal struct {
	kind       string // the last part of the problem's type
	status     int
	words, how string
}

func (e refusal) Error() string { return e.words }

func refusef(status int, kind, how, format string, args ...any) error {
	return refusal{kind: kind, status: status, words: fmt.Sprintf(format, args...), how: how}
}

var (
	errSignIn    = refusal{"sign-in", http.StatusUnauthorized, "You are not signed in.", "Sign in and try again."}
	errNotForYou = refusal{"not-allowed", http.StatusForbidden, "You may not do that.", "Ask an owner of this archive for another role, or to do it for you."}
	errCrossSite = refusal{"cross-site", http.StatusForbidden, "The request was sent by a page of another site.", "Open this server's own page and do it there."}
	errNoRow     = refusal{"not-found", http.StatusNotFound, "There is nothing at this address.", "Look at the address; /api/v1/openapi.json lists every one."}
)

type notAllowed struct{ allow string }

func (e notAllowed) Error() string { return "This address takes " + e.allow + " alone." }

type wrongType struct{ got, want string }

func (e wrongType) Error() string {
	if e.got == "" {
		return "The request does not say what kind of content it sends."
	}
	return fmt.Sprintf("Content of the type %.80q is not taken here.", e.got)
}

type tooLarge int64

func (e tooLarge) Error() string {
	if e == 0 {
		return "This request takes no content."
	}
	if e < 1<<20 {
		return fmt.Sprintf("More than %d kB was sent; that is more than is taken here.", int64(e)>>10)
	}
	return fmt.Sprintf("More than %d MB was sent; that is more than is taken here.", int64(e)>>20)
}

// stale is a change that came after another's, with the revision that the thing
// is at now.
type stale struct {
	err error
	now archive.Revision
}

func (e stale) Error() string { return e.err.Error() }
func (e stale) Unwrap() error { return e.err }

// fail tells what went wrong, in words, to whoever asked.
func (s *Server) fail(w http.ResponseWriter, r *http.Request, err error) {
	if r.Context().Err() != nil && errors.Is(err, context.Canceled) {
		w.WriteHeader(statusGone)
		return
	}
	p := problemOf(err)
	p.Request = requestOf(r)
	if p.Status >= http.StatusInternalServerError {
		s.Log.LogAttrs(r.Context(), slog.LevelError, "could not answer", slog.String("why", sober(err)), slog.String("request", p.Request))
	}
	for name, values := range p.header {
		w.Header()[name] = values
	}
	for _, name := range []string{"ETag", "Content-Disposition", "Location"} {
		if p.header.Get(name) == "" {
			w.Header().Del(name)
		}
	}
	if row, ok := rowOf(r); ok && row.page || !ok && !strings.HasPrefix(r.URL.Path, "/api/") {
		s.failPage(w, r, p)
		return
	}
	p.write(w)
}

// statusGone is noted where whoever asked did not wait; nobody sees it.
const statusGone = 499

// sober tells what kept the server from answering without what anyone wrote.
func sober(err error) string {
	for _, known := range []error{archive.ErrFull, archive.ErrReadOnly, archive.ErrDamaged, context.DeadlineExceeded} {
		if errors.Is(err, known) {
			return known.Error()
		}
	}
	for next := errors.Unwrap(err); next != nil; next = errors.Unwrap(err) {
		err = next
	}
	return fmt.Sprintf("%T", err)
}

// telling is how a kind of error is told.
type telling struct {
	is     error
	kind   string
	status int
	how    string
}

// retry is an error that says how long to wait.
type retry interface {
	error
	RetryAfter() time.Duration
}

// table tells the errors of the archive and of what is computed. The first that
// fits counts.
func table() []telling {
	return []telling{
		{archive.ErrTooLarge, "too-large", http.StatusRequestEntityTooLarge, "Send less."},
		{archive.ErrStale, "stale", http.StatusPreconditionFailed, "Read it again, look at what changed, and send your change with the revision that it is at now in If-Match."},
		{archive.ErrKeyUsed, "key-used", http.StatusUnprocessableEntity, "Send it with a new Idempotency-Key."},
		{archive.ErrExists, "exists", http.StatusConflict, "Look at what is there; change that, or use another name."},
		{archive.ErrRemoved, "removed", http.StatusConflict, "Recover it first."},
		{archive.ErrRefused, "refused", http.StatusUnprocessableEntity, "Change what was sent as the words say, and send it again."},
		{archive.ErrDenied, "not-allowed", http.StatusForbidden, errNotForYou.how},
		{archive.ErrNotFound, "not-found", http.StatusNotFound, "Look at the address, or search for it."},
		{archive.ErrFull, "disk-full", http.StatusInsufficientStorage, "Make room on the disk of the archive; nothing was changed. Then send it again."},
		{archive.ErrReadOnly, "read-only", http.StatusServiceUnavailable, "Whoever runs the server must let it write in the folder of the archive; nothing was changed."},
		{archive.ErrDamaged, "damaged", http.StatusInternalServerError, "Whoever runs the server should check the archive and bring the piece back from a backup."},
		{answer.ErrBusy, "busy", http.StatusTooManyRequests, "Wait a moment and try again."},
	}
}

// problemOf finds the words for an error. One that is not known is a fault of
// the program, and its own words are not for a person.
func problemOf(err error) problem {
	var own refusal
	var late stale
	var waits retry
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &own):
		p := made(own.kind, own.status, own.words, own.how)
		if own.status == http.StatusUnauthorized {
			p.header.Set("WWW-Authenticate", `Bearer realm="undersod"`)
		}
		return p
	case errors.As(err, &large):
		return problemOf(tooLarge(large.Limit))
	case errors.As(err, &late):
		p := tell(late.err)
		p.Revision = int64(late.now)
		p.header.Set("ETag", tag(late.now))
		return p
	case errors.As(err, &waits):
		p := made("busy", http.StatusTooManyRequests, sentence(err.Error()), "Wait and try again; Retry-After says how many seconds.")
		p.header.Set("Retry-After", strconv.Itoa(int(waits.RetryAfter()/time.Second)))
		return p
	}
	return tell(err)
}

// tell finds the words for an error that carries no more than itself.
func tell(err error) problem {
	var method notAllowed
	var kind wrongType
	var size tooLarge
	switch {
	case errors.As(err, &method):
		p := made("method", http.StatusMethodNotAllowed, method.Error(), "Use one of these methods.")
		p.header.Set("Allow", method.allow)
		return p
	case errors.As(err, &kind):
		return made("type", http.StatusUnsupportedMediaType, kind.Error(), "Send it with one of these as Content-Type: "+kind.want+".")
	case errors.As(err, &size):
		return made("too-large", http.StatusRequestEntityTooLarge, size.Error(), "Send less.")
	case errors.Is(err, context.DeadlineExceeded) || errors.Is(err, os.ErrDeadlineExceeded):
		return made("slow", http.StatusRequestTimeout, "It took too long.", "Try again, on a better line or with less at once.")
	}
	for _, t := range table() {
		if errors.Is(err, t.is) {
			words := err.Error()
			if t.status >= http.StatusInternalServerError {
				words = t.is.Error() // what is around it speaks of the machine
			}
			p := made(t.kind, t.status, sentence(words), t.how)
			if t.status == http.StatusTooManyRequests {
				p.header.Set("Retry-After", "5")
			}
			return p
		}
	}
	return made("fault", http.StatusInternalServerError, "The server could not do that; the fault is its own.",
		"Try again. If it stays, give the number of the request to whoever runs the server.")
}

func made(kind string, status int, words, how string) problem {
	title := http.StatusText(status)
	return problem{Type: "/problems/" + kind, Title: title, Status: status, Detail: words, Do: how, header: http.Header{}}
}

// sentence makes one of words that begin small and end without a full stop.
func sentence(words string) string {
	words = strings.TrimSpace(strings.ToValidUTF8(words, "\uFFFD"))
	if words == "" {
		return words
	}
	if c := words[0]; c >= 'a' && c <= 'z' {
		words = string(c-'a'+'A') + words[1:]
	}
	if !strings.ContainsAny(words[len(words)-1:], ".!?") {
		words += "."
	}
	return words
}

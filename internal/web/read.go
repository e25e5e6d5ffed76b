package web

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"undersod/core/english"
	"undersod/internal/archive"
)

// mediaType is the type of the body, without its parameters.
func mediaType(r *http.Request) string {
	kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if err != nil {
		return ""
	}
	return kind
}

// readBody reads the body, which is bounded already.
func readBody(w http.ResponseWriter, r *http.Request) ([]byte, error) {
	var b bytes.Buffer
	if n := r.ContentLength; n > 0 {
		b.Grow(int(n) + bytes.MinRead) // bounded by the row
	}
	if _, err := b.ReadFrom(r.Body); err != nil {
		return nil, bodyError(err)
	}
	// What is done with it may take longer than it took to arrive.
	_ = http.NewResponseController(w).SetReadDeadline(time.Time{})
	return b.Bytes(), nil
}

// bodyError tells a body that is too large or too slow from one cut off.
func bodyError(err error) error {
	var large *http.MaxBytesError
	var slow interface{ Timeout() bool }
	switch {
	case errors.As(err, &large):
		return err
	case errors.As(err, &slow) && slow.Timeout():
		return refusef(http.StatusRequestTimeout, "slow", "Send it again, on a better line or with less at once.", "What was sent took too long to arrive; nothing was changed.")
	}
	return refusef(http.StatusBadRequest, "cut-off", "Send it again.", "What was sent did not arrive whole; nothing was changed.")
}

// readJSON reads a body of one JSON value into a shape, and refuses what the
// shape has no place for.
func readJSON(w http.ResponseWriter, r *http.Request, into any) error {
	text, err := readBody(w, r)
	if err != nil {
		return err
	}
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return refusef(http.StatusBadRequest, "json", "Send one JSON value as the description at /api/v1/openapi.json shows it.", "%s", jsonWords(err))
	}
	if _, err := d.Token(); err != io.EOF {
		return refusef(http.StatusBadRequest, "json", "Send one JSON value alone.", "There is more than one value in what was sent.")
	}
	return nil
}

// jsonWords tells what is wrong with JSON without the words of the program.
func jsonWords(err error) string {
	var kind *json.UnmarshalTypeError
	var syntax *json.SyntaxError
	switch {
	case errors.As(err, &kind) && kind.Field != "":
		return fmt.Sprintf("The field %.60q is a %.20s, which is not what is expected there.", kind.Field, kind.Value)
	case errors.As(err, &syntax):
		return fmt.Sprintf("What was sent is no JSON: byte %d does not belong there.", syntax.Offset)
	case strings.HasPrefix(err.Error(), "json: unknown field "):
		return fmt.Sprintf("There is no field %.60s here.", strings.TrimPrefix(err.Error(), "json: unknown field "))
	}
	return "What was sent is not the JSON that is expected here."
}

// checkQuery refuses what nobody asked for after the question mark: a slip in a
// name would otherwise pass for a wider search.
func checkQuery(r *http.Request, row route) error {
	values, err := url.ParseQuery(r.URL.RawQuery)
	if err != nil {
		return refusef(http.StatusBadRequest, "query", "Write it as name=value, joined by &, with %%20 for a blank.", "What stands after the question mark cannot be read.")
	}
	known := row.asked()
	for name, v := range values {
		switch {
		case !contains(known, name):
			return refusef(http.StatusBadRequest, "query", "Leave it out.", "%s", noParameter(name, known))
		case len(v) > 1:
			return refusef(http.StatusBadRequest, "query", "Give it once.", "%.60q stands there more than once.", name)
		}
	}
	for _, p := range row.query {
		if p.required && !p.header && values.Get(p.name) == "" {
			return refusef(http.StatusBadRequest, "query", fmt.Sprintf("Add it, as in ?%s=%v.", p.name, p.example), "%q is missing: %s.", p.name, p.does)
		}
	}
	return nil
}

func contains(list []string, v string) bool {
	for _, w := range list {
		if w == v {
			return true
		}
	}
	return false
}

func noParameter(name string, known []string) string {
	words := fmt.Sprintf("%.60q is not known here.", name)
	if near, ok := english.Nearest(name, known); ok {
		words += fmt.Sprintf(" Did you mean %q?", near)
	}
	return words
}

// asked is what stands after the question mark; the first slip is kept.
type asked struct {
	values url.Values
	err    error
	actor  archive.Actor // who asks, where it is about a visit
	site   archive.ID    // that the visit is of
}

// pairs tells whether it is about another visit too, which may change by itself.
func (a *asked) pairs() bool { return a.values.Has("before") }

func askedBy(r *http.Request) *asked { return &asked{values: r.URL.Query()} }

// text returns a parameter, empty where it is not there.
func (a *asked) text(name string) string { return a.values.Get(name) }

// whole returns a whole number of at least 0.
func (a *asked) whole(name string) int64 {
	text := a.values.Get(name)
	if text == "" {
		return 0
	}
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil || n < 0 || n > 1<<53 {
		a.wrong(name, text, "a whole number from 0 on", "20")
	}
	return n
}

// number returns a plain number, and whether it is there.
func (a *asked) number(name string, least, most float64) (float64, bool) {
	text := a.values.Get(name)
	if text == "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !(v >= least && v <= most) {
		a.wrong(name, text, fmt.Sprintf("a number from %g to %g", least, most), "44.5")
	}
	return v, true
}

// yes returns whether a parameter is true.
func (a *asked) yes(name string) bool {
	switch text := a.values.Get(name); text {
	case "", "false":
	case "true":
		return true
	default:
		a.wrong(name, text, "true or false", "true")
	}
	return false
}

func (a *asked) wrong(name, got, expected, example string) {
	if a.err == nil {
		a.err = refusef(http.StatusBadRequest, "query", fmt.Sprintf("Write it as in %s=%s.", name, example), "%s: %.60q was read, %s is expected.", name, got, expected)
	}
}

// tag writes a revision as an entity tag.
func tag(v archive.Revision) string { return `"` + strconv.FormatInt(int64(v), 10) + `"` }

// base reads which revision the person started from, out of If-Match, or 0 out
// of If-None-Match: *, which asks for a new thing (RFC 9110, section 13.1).
func base(r *http.Request) (archive.Revision, error) {
	match, none := r.Header.Get("If-Match"), r.Header.Get("If-None-Match")
	switch {
	case match == "" && none == "*":
		return 0, nil
	case match == "":
		return 0, refusef(http.StatusPreconditionRequired, "no-revision", `Send If-Match with the ETag that you read it with, as If-Match: "3", or If-None-Match: * for a new one.`,
			"The request does not say which revision it starts from, so that it could overwrite what someone else wrote.")
	}
	text, opened := strings.CutPrefix(match, `"`)
	text, closed := strings.CutSuffix(text, `"`)
	n, err := strconv.ParseInt(text, 10, 64)
	if !opened || !closed || err != nil || n < 1 || none != "" {
		return 0, refusef(http.StatusBadRequest, "revision", `Send one revision in quotes, as If-Match: "3".`, "If-Match: %.60q was read, a revision is expected.", match)
	}
	return archive.Revision(n), nil
}

// writeOf is what a change carries: who asks, and the key of the request.
func writeOf(r *http.Request) archive.Write {
	return archive.Write{By: actorOf(r), Key: r.Header.Get("Idempotency-Key")}
}

// idOf reads an ID out of the path.
func idOf(r *http.Request, name string) (archive.ID, error) {
	id := archive.ID(r.PathValue(name))
	if !id.Valid() {
		return "", refusef(http.StatusNotFound, "not-found", "An ID has 26 lower case letters and digits; search for the thing to find its own.", "There is no %s of that name.", name)
	}
	return id, nil
}

// fresh answers that nothing changed where whoever asks has the content of that
// tag already, and tells whether it did.
func fresh(w http.ResponseWriter, r *http.Request, etag string) bool {
	h := w.Header()
	h.Set("ETag", etag)
	h.Set("Cache-Control", "private, no-cache")
	h.Set("Vary", "Cookie, Authorization")
	for _, t := range strings.Split(r.Header.Get("If-None-Match"), ",") {
		if strings.TrimPrefix(strings.TrimSpace(t), "W/") == etag {
			w.WriteHeader(http.StatusNotModified)
			return true
		}
	}
	return false
}

// give writes a content.
func give(w http.ResponseWriter, kind string, content []byte) error {
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Length", strconv.Itoa(len(content)))
	_, _ = w.Write(content) // whoever asked may have gone
	return nil
}

// giveJSON writes a document.
func giveJSON(w http.ResponseWriter, status int, document any) error {
	text, err := json.Marshal(document)
	if err != nil {
		return err
	}
	text = append(text, '\n')
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Content-Length", strconv.Itoa(len(text)))
	w.WriteHeader(status)
	_, _ = w.Write(text)
	return nil
}

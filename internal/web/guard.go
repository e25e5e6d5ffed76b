package web

import (
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"runtime/debug"
	"strings"
	"time"
)

// guard stands before everything: it names the request, sets the headers that
// every answer has, refuses writes that another site sends, tells what has no
// row, catches what goes wrong, and logs.
func (s *Server) guard(mux *http.ServeMux) http.Handler {
	protection := http.NewCrossOriginProtection()
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		watched := &watched{ResponseWriter: w, control: http.NewResponseController(w)}
		start := time.Now()
		id := s.requestID()
		r = r.WithContext(context.WithValue(r.Context(), requestKey, id))
		s.headers(watched.Header(), id)
		watched.deadlines(start, r.ContentLength != 0)
		defer func() {
			if fault := recover(); fault != nil {
				s.caught(watched, r, fault)
			}
			s.logged(watched, r, id, time.Since(start))
		}()
		switch handler, pattern := mux.Handler(r); {
		case pattern == "":
			s.fail(watched, r, notThere(handler, r))
		case protection.Check(r) != nil:
			watched.pattern = pattern
			s.fail(watched, r, errCrossSite)
		default:
			watched.pattern = pattern
			mux.ServeHTTP(watched, r)
		}
	})
}

func (s *Server) requestID() string {
	var b [8]byte
	s.Random(b[:])
	return hex.EncodeToString(b[:])
}

// pagePolicy is what a page may use: nothing but what this server sends, no
// script or style within the page itself.
const pagePolicy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; connect-src 'self'; manifest-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// headers sets what every answer has. A handler may allow keeping its answer.
func (s *Server) headers(h http.Header, id string) {
	h.Set("Content-Security-Policy", pagePolicy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("X-Frame-Options", "DENY") // for browsers that know no frame-ancestors
	h.Set("Permissions-Policy", "camera=(), microphone=(), payment=(), usb=(), geolocation=(self)")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cache-Control", "no-store")
	h.Set("X-Request-Id", id)
	if s.Secure {
		h.Set("Strict-Transport-Security", "max-age=31536000")
	}
}

// caught answers a fault of the program. Its words may hold what a person
// wrote, so that the log gets the place in the program alone.
func (s *Server) caught(w *watched, r *http.Request, fault any) {
	if err, ok := fault.(error); ok && errors.Is(err, http.ErrAbortHandler) {
		panic(fault)
	}
	s.Log.LogAttrs(r.Context(), slog.LevelError, "fault in the program",
		slog.String("kind", fmt.Sprintf("%T", fault)), slog.String("request", requestOf(r)), slog.String("where", string(debug.Stack())))
	if w.status == 0 {
		s.fail(w, r, errors.New("a fault in the program"))
	}
}

// logged writes the line of a request: never an address, a name, a path with an
// ID in it, or what was asked for.
func (s *Server) logged(w *watched, r *http.Request, id string, took time.Duration) {
	level := slog.LevelInfo
	if w.status >= http.StatusInternalServerError {
		level = slog.LevelError
	}
	s.Log.LogAttrs(r.Context(), level, "answered",
		slog.String("method", knownMethod(r.Method)), slog.String("route", w.pattern), slog.Int("status", w.status),
		slog.Int64("bytes", w.bytes), slog.Float64("ms", float64(took.Microseconds())/1000), slog.String("request", id))
}

// knownMethod keeps what a stranger sends as a method out of the log.
func knownMethod(m string) string {
	switch m {
	case http.MethodGet, http.MethodHead, http.MethodPost, http.MethodPut, http.MethodDelete, http.MethodOptions, http.MethodPatch:
		return m
	}
	return "other"
}

func requestOf(r *http.Request) string {
	id, _ := r.Context().Value(requestKey).(string)
	return id
}

// notThere tells what the multiplexer says of a request that no row takes.
func notThere(handler http.Handler, r *http.Request) error {
	said := &silent{header: http.Header{}}
	handler.ServeHTTP(said, r)
	if allow := said.header.Get("Allow"); said.status == http.StatusMethodNotAllowed && allow != "" {
		return notAllowed{allow}
	}
	return errNoRow
}

// silent takes an answer and keeps its head alone.
type silent struct {
	header http.Header
	status int
}

func (s *silent) Header() http.Header         { return s.header }
func (s *silent) Write(b []byte) (int, error) { return len(b), nil }
func (s *silent) WriteHeader(status int)      { s.status = status }

// watched is an answer of which status and size are noted.
type watched struct {
	http.ResponseWriter
	control *http.ResponseController
	pattern string
	status  int
	bytes   int64
}

// deadlines bounds how long an answer may take to be taken, and a body to
// arrive. Where the connection has no deadlines none are needed.
func (w *watched) deadlines(start time.Time, sent bool) {
	_ = w.control.SetWriteDeadline(start.Add(answerPatience))
	if sent {
		_ = w.control.SetReadDeadline(start.Add(bodyPatience))
	}
}

// WriteHeader notes the status.
func (w *watched) WriteHeader(status int) {
	if w.status == 0 {
		w.status = status
	}
	w.ResponseWriter.WriteHeader(status)
}

// Write counts.
func (w *watched) Write(b []byte) (int, error) {
	if w.status == 0 {
		w.status = http.StatusOK
	}
	n, err := w.ResponseWriter.Write(b)
	w.bytes += int64(n)
	return n, err
}

// Unwrap lets deadlines be set on what is below.
func (w *watched) Unwrap() http.ResponseWriter { return w.ResponseWriter }

// bound holds the body to the size and the time of its row, and refuses one of
// another kind before any of it is read.
func (s *Server) bound(w http.ResponseWriter, r *http.Request, row route) error {
	if r.Method == http.MethodGet || r.Method == http.MethodHead {
		return nil
	}
	if row.takes.most == 0 {
		if r.ContentLength > 0 {
			return tooLarge(0)
		}
		r.Body = http.MaxBytesReader(w, r.Body, 0)
		return nil
	}
	if r.ContentLength > row.takes.most {
		w.Header().Set("Connection", "close") // the rest is not read
		return tooLarge(row.takes.most)
	}
	if kind := mediaType(r); !row.takes.takesType(kind) {
		return wrongType{kind, strings.Join(row.takes.types, ", ")}
	}
	_ = http.NewResponseController(w).SetReadDeadline(time.Now().Add(row.takes.patience()))
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(row.takes.patience() + answerPatience))
	r.Body = http.MaxBytesReader(w, r.Body, row.takes.most)
	return nil
}

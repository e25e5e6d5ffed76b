package serve

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"strings"
	"sync"
)

// NewLog returns a log: for a program one JSON object a line, for a person at a
// terminal short words.
func NewLog(w io.Writer, person bool) *slog.Logger {
	if person {
		return slog.New(&words{out: w, mu: &sync.Mutex{}})
	}
	return slog.New(slog.NewJSONHandler(w, nil))
}

// words writes a log in short words.
type words struct {
	out  io.Writer
	mu   *sync.Mutex
	with []slog.Attr
}

// Enabled leaves out what is for whoever looks for a fault in the program.
func (h *words) Enabled(_ context.Context, l slog.Level) bool { return l >= slog.LevelInfo }

// Handle writes one line: "09:30:12  GET /sites/{site} 200 12.4 ms".
func (h *words) Handle(_ context.Context, r slog.Record) error {
	var b strings.Builder
	b.WriteString(r.Time.Format("15:04:05  "))
	all := append([]slog.Attr(nil), h.with...)
	r.Attrs(func(a slog.Attr) bool {
		all = append(all, a)
		return true
	})
	if r.Message == "answered" {
		answered(&b, all)
	} else {
		if r.Level >= slog.LevelWarn {
			b.WriteString(strings.ToLower(r.Level.String()) + ": ")
		}
		b.WriteString(r.Message)
		for _, a := range all {
			fmt.Fprintf(&b, "  %s %v", a.Key, a.Value)
		}
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	_, err := io.WriteString(h.out, b.String()+"\n")
	return err
}

// answered tells of one request without naming what everybody knows.
func answered(b *strings.Builder, all []slog.Attr) {
	by := map[string]slog.Value{}
	for _, a := range all {
		by[a.Key] = a.Value
	}
	route := by["route"].String()
	if route == "" {
		route = by["method"].String() + " of nothing that is here"
	}
	fmt.Fprintf(b, "%s  %v  %v ms", route, by["status"], by["ms"])
}

// WithAttrs adds to every line.
func (h *words) WithAttrs(more []slog.Attr) slog.Handler {
	return &words{h.out, h.mu, append(append([]slog.Attr(nil), h.with...), more...)}
}

// WithGroup is not needed here.
func (h *words) WithGroup(string) slog.Handler { return h }

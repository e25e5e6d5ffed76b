// Package web answers over HTTP: the interface for programs under /api/v1, and
// the office pages. Everything that it answers is one row of one table; what
// has no row is not there, and a row that names nobody denies everybody.
//
// It knows no database and computes nothing: what is kept comes from
// archive.Records and archive.People, what is computed from answer.
package web

import (
	"context"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"slices"
	"time"

	"undersod/internal/answer"
	"undersod/internal/archive"
)

// Settings is what a Server is made from. All but Carrier, Secure,
// Proxied and FirstCode must be set.
type Settings struct {
	Records archive.Records
	People  archive.People
	Answers *answer.Desk
	Carrier Carrier // nil where sites are not carried in and out
	// Ready reports whether the archive can be read now; its words are not shown.
	Ready func(context.Context) error
	Log   *slog.Logger
	Now   func() time.Time
	// Random fills a slice with random bytes, for the numbers of requests. It is
	// called from many sides at once.
	Random func([]byte)
	// Secure says that people reach the server by TLS alone.
	Secure bool
	// Proxied says that people reach the server through a proxy alone, which adds
	// the address that it is asked from to X-Forwarded-For. Nobody sits at it then.
	Proxied bool
	// FirstCode is asked for where the first account is made from another machine;
	// without one it can only be made on the machine that the server runs on.
	FirstCode string
}

// How long the server waits, and how much it takes. Slow lines in a yard are
// why bodies have minutes; each row of the table says how many.
const (
	headerPatience = 10 * time.Second
	idlePatience   = 2 * time.Minute
	answerPatience = 2 * time.Minute
	stopPatience   = 20 * time.Second
	mostHeader     = 32 << 10
)

// Server answers requests. Use New.
type Server struct {
	Settings
	handler  http.Handler
	rows     []route
	instance string // of this process, for tags of what it computes
	photos   gate   // pictures on their way in, each of which may fill tens of megabytes
}

// New returns a server. It is an error where a setting is missing, or where the
// table of what it answers is not sound.
func New(s Settings) (*Server, error) {
	if s.Records == nil || s.People == nil || s.Answers == nil || s.Ready == nil || s.Log == nil || s.Now == nil || s.Random == nil {
		return nil, errors.New("web: a setting is missing")
	}
	server := &Server{Settings: s, photos: newGate(4)}
	server.instance = server.requestID()
	server.rows = slices.Concat(server.apiRoutes(), server.pageRoutes())
	mux, err := server.mux(server.rows)
	if err != nil {
		return nil, err
	}
	server.handler = server.guard(mux)
	return server, nil
}

// ServeHTTP answers one request.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) { s.handler.ServeHTTP(w, r) }

// Serve answers what comes in at a listener until the context ends, then lets
// what is under way finish for a while. It returns nil after such a stop.
// Certificates are those of tls.Config that the listener has, if any.
func (s *Server) Serve(ctx context.Context, at net.Listener) error {
	server := s.httpServer()
	stopped := make(chan error, 1)
	finish := context.AfterFunc(ctx, func() {
		patience, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopPatience)
		defer cancel()
		err := server.Shutdown(patience)
		if err != nil {
			server.Close()
		}
		stopped <- err
	})
	err := server.Serve(at)
	if finish() || !errors.Is(err, http.ErrServerClosed) {
		return err // it was not stopped, it failed
	}
	if err := <-stopped; errors.Is(err, context.DeadlineExceeded) {
		return errors.New("some answers were still under way and were cut off")
	}
	return nil
}

// httpServer is the server with its limits. What goes wrong below HTTP, as a
// broken handshake, is not logged: it tells nothing but addresses.
func (s *Server) httpServer() *http.Server {
	return &http.Server{
		Handler: s, ReadHeaderTimeout: headerPatience, IdleTimeout: idlePatience, MaxHeaderBytes: mostHeader,
		ErrorLog: slog.NewLogLogger(slog.DiscardHandler, slog.LevelDebug),
	}
}

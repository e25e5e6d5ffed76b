package web

import (
	"fmt"
	"net/http"
	"strings"
	"time"

	"undersod/internal/archive"
)

// who is a set of those who may ask.
type who uint8

// Those who may ask. anyone is also who has not signed in and holds no link.
const (
	owner who = 1 << iota
	office
	crew
	readOnly
	visitor
	anyone

	offices  = owner | office
	crews    = offices | crew
	staff    = crews | readOnly
	viewers  = staff | visitor
	everyone = viewers | anyone
)

// ofRole is the set of one role, empty for a role that is not known.
func ofRole(r archive.Role) who {
	switch r {
	case archive.Owner:
		return owner
	case archive.Office:
		return office
	case archive.Crew:
		return crew
	case archive.ReadOnly:
		return readOnly
	}
	return 0
}

// handler answers a request; what it returns is told by the server.
type handler func(http.ResponseWriter, *http.Request) error

// route is one row of the table of everything that the server answers.
type route struct {
	method, pattern string
	may             who
	does            string // one sentence
	query           []parameter
	takes           body // zero where nothing is sent
	gives           []reply
	handle          handler
	page            bool // of the office pages: what goes wrong is told as a page
}

// parameter is one that may stand after the question mark, or a header.
type parameter struct {
	name     string
	kind     string // string, integer, number or boolean
	does     string
	example  any
	header   bool
	required bool
}

// body is what a request brings along.
type body struct {
	types  []string
	schema string // its name in the description; empty for bytes
	most   int64
	slow   bool // it may take minutes to arrive
	does   string
}

// reply is one answer that is no problem.
type reply struct {
	status int
	kind   string // media type; empty where there is no content
	schema string // its name in the description; empty for bytes
	does   string
}

// How long a body may take to arrive.
const (
	bodyPatience = 30 * time.Second
	slowPatience = 10 * time.Minute
)

func (b body) patience() time.Duration {
	if b.slow {
		return slowPatience
	}
	return bodyPatience
}

// takesType tells whether a body of a media type is taken.
func (b body) takesType(kind string) bool {
	for _, t := range b.types {
		if t == kind {
			return true
		}
	}
	return false
}

// asked are the names that may stand after the question mark.
func (r route) asked() []string {
	var names []string
	for _, p := range r.query {
		if !p.header {
			names = append(names, p.name)
		}
	}
	return names
}

// mux makes the multiplexer from the table, and from nothing else.
func (s *Server) mux(rows []route) (*http.ServeMux, error) {
	mux := http.NewServeMux()
	seen := map[string]bool{}
	for _, row := range rows {
		pattern := row.method + " " + row.pattern
		switch {
		case row.method == "" || !strings.HasPrefix(row.pattern, "/") || row.handle == nil:
			return nil, fmt.Errorf("web: the row %q is not whole", pattern)
		case row.may == 0:
			return nil, fmt.Errorf("web: the row %q names nobody who may ask", pattern)
		case seen[pattern]:
			return nil, fmt.Errorf("web: the row %q is there twice", pattern)
		}
		seen[pattern] = true
		mux.HandleFunc(pattern, s.through(row))
	}
	return mux, nil
}

// through leads a request of one row past the door to its handler.
func (s *Server) through(row route) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		r = r.WithContext(withRow(r.Context(), row))
		r, err := s.admit(w, r, row)
		if err == nil {
			err = row.handle(w, r)
		}
		if err != nil {
			s.fail(w, r, err)
		}
	}
}

// admit finds out who asks and lets them in or not, before anything of the body
// is read.
func (s *Server) admit(w http.ResponseWriter, r *http.Request, row route) (*http.Request, error) {
	a, err := s.identify(r)
	if err != nil {
		return r, err
	}
	r = r.WithContext(withAsker(r.Context(), a))
	switch {
	case row.may&anyone == 0 && a.is == anyone:
		return r, errSignIn
	case row.may&a.is == 0:
		return r, errNotForYou
	}
	if err := checkQuery(r, row); err != nil {
		return r, err
	}
	return r, s.bound(w, r, row)
}

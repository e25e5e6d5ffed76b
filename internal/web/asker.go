package web

import (
	"context"
	"errors"
	"net/http"
	"strings"
	"time"

	"undersod/internal/archive"
)

// asker is who asks.
type asker struct {
	is      who // one of owner, office, crew, readOnly, visitor and anyone
	actor   archive.Actor
	account archive.Account // of whoever is signed in
	session archive.Session
	share   archive.Share // of a visitor
	token   string        // that opened the door
	cookie  bool          // the token came in a cookie
}

type contextKey uint8

const (
	askerKey contextKey = iota
	rowKey
	requestKey
)

func withAsker(ctx context.Context, a asker) context.Context {
	return context.WithValue(ctx, askerKey, a)
}

// askerOf returns who asks; anyone where that is not known.
func askerOf(r *http.Request) asker {
	if a, ok := r.Context().Value(askerKey).(asker); ok {
		return a
	}
	return asker{is: anyone}
}

// actorOf returns who asks, in the words of the archive. The zero Actor, whom
// the archive denies everything, for whoever has not signed in.
func actorOf(r *http.Request) archive.Actor { return askerOf(r).actor }

func withRow(ctx context.Context, row route) context.Context {
	return context.WithValue(ctx, rowKey, row)
}

// rowOf returns the row that a request came to.
func rowOf(r *http.Request) (route, bool) {
	row, ok := r.Context().Value(rowKey).(route)
	return row, ok
}

// The cookies, which a script cannot read and another site cannot send along
// with a change. By TLS the prefix keeps a neighbouring host from setting them
// (RFC 6265bis, "Cookies: HTTP State Management Mechanism", section 4.1.3.2).
const (
	sessionCookie = "session"
	visitorCookie = "visitor"
	hostPrefix    = "__Host-"
	longestToken  = 200
)

func (s *Server) cookieName(name string) string {
	if s.Secure {
		return hostPrefix + name
	}
	return name
}

// setCookie hands a token to the browser; one without an end is taken away.
func (s *Server) setCookie(w http.ResponseWriter, name, token string, until time.Time) {
	c := &http.Cookie{Name: s.cookieName(name), Value: token, Path: "/", Secure: s.Secure, HttpOnly: true, SameSite: http.SameSiteLaxMode}
	if token == "" {
		c.MaxAge = -1
	} else {
		c.Expires = until
	}
	http.SetCookie(w, c)
}

// cookieToken returns the token that a cookie holds, empty for none.
func (s *Server) cookieToken(r *http.Request, name string) string {
	c, err := r.Cookie(s.cookieName(name))
	if err != nil || len(c.Value) > longestToken {
		return ""
	}
	return c.Value
}

// bearer returns the token of the Authorization header (RFC 6750, section 2.1),
// which a program sends in place of a cookie.
func bearer(r *http.Request) (string, bool) {
	h := r.Header.Get("Authorization")
	if h == "" {
		return "", false
	}
	scheme, token, _ := strings.Cut(h, " ")
	if !strings.EqualFold(scheme, "bearer") || len(token) > longestToken {
		return "", true
	}
	return strings.TrimSpace(token), true
}

// identify finds out who asks. A token that opens nothing is nobody's; an error
// is only what keeps the archive from telling.
func (s *Server) identify(r *http.Request) (asker, error) {
	if token, ok := bearer(r); ok {
		a, err := s.signedIn(r, token)
		if err == nil && a.is == anyone {
			a, err = s.visiting(r, token)
		}
		return a, err
	}
	a, err := s.signedIn(r, s.cookieToken(r, sessionCookie))
	if err == nil && a.is == anyone {
		a, err = s.visiting(r, s.cookieToken(r, visitorCookie))
	}
	a.cookie = true
	return a, err
}

// signedIn returns whose session a token is.
func (s *Server) signedIn(r *http.Request, token string) (asker, error) {
	if token == "" {
		return asker{is: anyone}, nil
	}
	account, session, err := s.People.Who(r.Context(), token)
	switch {
	case opensNothing(err) || err == nil && ofRole(account.Role) == 0:
		return asker{is: anyone}, nil
	case err != nil:
		return asker{}, err
	}
	actor := archive.Actor{Account: account.ID, Role: account.Role, Session: session.Token}
	return asker{is: ofRole(account.Role), actor: actor, account: account, session: session, token: token}, nil
}

// visiting returns whose link a token is.
func (s *Server) visiting(r *http.Request, token string) (asker, error) {
	if token == "" {
		return asker{is: anyone}, nil
	}
	actor, share, err := s.People.Visitor(r.Context(), token)
	switch {
	case opensNothing(err) || err == nil && (actor.Share == "" || actor.Site == ""):
		return asker{is: anyone}, nil
	case err != nil:
		return asker{}, err
	}
	return asker{is: visitor, actor: actor, share: share, token: token}, nil
}

// opensNothing tells whether a token was refused, other than by a fault.
func opensNothing(err error) bool {
	return errors.Is(err, archive.ErrDenied) || errors.Is(err, archive.ErrNotFound) || errors.Is(err, archive.ErrRefused)
}

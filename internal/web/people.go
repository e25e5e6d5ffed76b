package web

import (
	"errors"
	"net"
	"net/http"
	"net/netip"
	"strings"

	"undersod/internal/archive"
)

type signInShape struct {
	Login    string `json:"login"`
	Password string `json:"password"`
	Bearer   bool   `json:"bearer,omitempty"` // give the token in the answer, and no cookie
}

type whoShape struct {
	Account *accountShape `json:"account,omitempty"`
	Share   *shareShape   `json:"share,omitempty"` // of a visitor with a link
	Expires string        `json:"expires"`
	Token   string        `json:"token,omitempty"` // once, for a program that asked for it
}

// fromOf is the address that tries to sign in are counted by: whoever is at the
// other end of the connection, or the address that the proxy itself wrote last.
// What stands before that, or in the header where no proxy is, anyone can write.
func (s *Server) fromOf(r *http.Request) string {
	if lines := r.Header.Values("X-Forwarded-For"); s.Proxied && len(lines) > 0 {
		last := lines[len(lines)-1]
		last = strings.TrimSpace(last[strings.LastIndexByte(last, ',')+1:])
		if host, _, err := net.SplitHostPort(last); err == nil {
			last = host
		}
		if from, err := netip.ParseAddr(strings.Trim(last, "[]")); err == nil {
			return from.Unmap().WithZone("").String()
		}
	}
	return peerOf(r)
}

// peerOf is the address at the other end of the connection.
func peerOf(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	return host
}

// signIn opens a session.
func (s *Server) signIn(w http.ResponseWriter, r *http.Request) error {
	var in signInShape
	if err := readJSON(w, r, &in); err != nil {
		return err
	}
	token, session, err := s.openSession(r, in.Login, in.Password)
	if err != nil {
		return err
	}
	account, _, err := s.People.Who(r.Context(), token)
	if err != nil {
		return err
	}
	shape := accountOf(account)
	out := whoShape{Account: &shape, Expires: instant(session.Expires)}
	if in.Bearer {
		out.Token = token
	} else {
		s.setCookie(w, sessionCookie, token, session.Expires)
	}
	return giveJSON(w, http.StatusOK, out)
}

// openSession signs in. A wrong login and a wrong password are told alike, and
// with 401: nothing is known yet of who asks.
func (s *Server) openSession(r *http.Request, login, password string) (string, archive.Session, error) {
	token, session, err := s.People.SignIn(r.Context(), login, password, r.UserAgent(), s.fromOf(r))
	if waits, ok := errors.AsType[retry](err); ok {
		return "", session, waits
	}
	if errors.Is(err, archive.ErrDenied) {
		return "", session, refusal{"sign-in", http.StatusUnauthorized, sentence(err.Error()), "Try again; mind capital letters in the password."}
	}
	return token, session, err
}

// signOut ends the session that asks.
func (s *Server) signOut(w http.ResponseWriter, r *http.Request) error {
	if err := s.endSession(w, r); err != nil {
		return err
	}
	w.WriteHeader(http.StatusNoContent)
	return nil
}

func (s *Server) endSession(w http.ResponseWriter, r *http.Request) error {
	if a := askerOf(r); a.is&staff != 0 {
		if err := s.People.SignOut(r.Context(), a.token); err != nil {
			return err
		}
	}
	s.setCookie(w, sessionCookie, "", s.Now())
	s.setCookie(w, visitorCookie, "", s.Now())
	return nil
}

// whoAmI tells who asks.
func (s *Server) whoAmI(w http.ResponseWriter, r *http.Request) error {
	a := askerOf(r)
	if a.is == visitor {
		share := shareOf(a.share)
		return giveJSON(w, http.StatusOK, whoShape{Share: &share, Expires: share.Expires})
	}
	account := accountOf(a.account)
	return giveJSON(w, http.StatusOK, whoShape{Account: &account, Expires: instant(a.session.Expires)})
}

type accountsShape struct {
	Accounts []accountShape `json:"accounts"`
}

func (s *Server) accounts(w http.ResponseWriter, r *http.Request) error {
	list, err := s.People.Accounts(r.Context(), actorOf(r))
	if err != nil {
		return err
	}
	return giveJSON(w, http.StatusOK, accountsShape{shapes(list, accountOf)})
}

type inviteShape struct {
	Login    string       `json:"login"`
	Name     string       `json:"name"`
	Role     archive.Role `json:"role"`
	Password string       `json:"password"`
}

func (s *Server) invite(w http.ResponseWriter, r *http.Request) error {
	var in inviteShape
	if err := readJSON(w, r, &in); err != nil {
		return err
	}
	account, err := s.People.Invite(r.Context(), writeOf(r), in.Login, in.Name, in.Role, in.Password)
	if err != nil {
		return err
	}
	return giveJSON(w, http.StatusCreated, accountOf(account))
}

type alterShape struct {
	Name     string       `json:"name"`
	Role     archive.Role `json:"role"`
	Disabled bool         `json:"disabled,omitempty"`
}

func (s *Server) alterAccount(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "account")
	if err != nil {
		return err
	}
	var in alterShape
	if err := readJSON(w, r, &in); err != nil {
		return err
	}
	account, err := s.People.Change(r.Context(), writeOf(r), id, in.Name, in.Role, in.Disabled)
	if err != nil {
		return err
	}
	return giveJSON(w, http.StatusOK, accountOf(account))
}

type passwordShape struct {
	Old      string `json:"old,omitempty"` // of one's own account
	Password string `json:"password"`
}

func (s *Server) setPassword(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "account")
	if err != nil {
		return err
	}
	var in passwordShape
	if err := readJSON(w, r, &in); err != nil {
		return err
	}
	if err := s.People.SetPassword(r.Context(), writeOf(r), id, in.Old, in.Password); err != nil {
		return err
	}
	w.WriteHeader(http.StatusNoContent)
	return nil
}

type sharesShape struct {
	Shares []shareShape `json:"shares"`
}

func (s *Server) shares(w http.ResponseWriter, r *http.Request) error {
	list, err := s.People.Shares(r.Context(), actorOf(r), archive.ID(askedBy(r).text("site")))
	if err != nil {
		return err
	}
	return giveJSON(w, http.StatusOK, sharesShape{shapes(list, shareOf)})
}

type newShareShape struct {
	Label string `json:"label"`
	Days  int    `json:"days"`
}

func (s *Server) share(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "site")
	if err != nil {
		return err
	}
	var in newShareShape
	if err := readJSON(w, r, &in); err != nil {
		return err
	}
	token, share, err := s.People.Share(r.Context(), writeOf(r), id, in.Label, in.Days)
	if err != nil {
		return err
	}
	out := shareOf(share)
	out.Token = token
	return giveJSON(w, http.StatusCreated, out)
}

func (s *Server) revoke(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "share")
	if err != nil {
		return err
	}
	if err := s.People.Revoke(r.Context(), writeOf(r), id); err != nil {
		return err
	}
	w.WriteHeader(http.StatusNoContent)
	return nil
}

type eventsShape struct {
	Events []eventShape `json:"events"`
}

func (s *Server) events(w http.ResponseWriter, r *http.Request) error {
	a := askedBy(r)
	before, most := a.whole("before"), int(a.whole("most"))
	if a.err != nil {
		return a.err
	}
	list, err := s.People.Events(r.Context(), actorOf(r), before, most)
	if err != nil {
		return err
	}
	return giveJSON(w, http.StatusOK, eventsShape{shapes(list, func(e archive.Event) eventShape {
		return eventShape{e.Number, stampOf(e.Stamp), e.What, e.About}
	})})
}

type healthShape struct {
	Status string `json:"status"`
}

// health tells whether the server can do its work.
func (s *Server) health(w http.ResponseWriter, r *http.Request) error {
	if err := s.Ready(r.Context()); err != nil {
		return refusef(http.StatusServiceUnavailable, "not-ready", "Whoever runs the server should look at its log.", "The archive cannot be read at this moment.")
	}
	return giveJSON(w, http.StatusOK, healthShape{"ready"})
}

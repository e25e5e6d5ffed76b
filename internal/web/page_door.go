package web

import (
	"crypto/subtle"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"strings"

	"undersod/internal/archive"
	"undersod/internal/web/pages"
)

// doorPages are what anybody may ask for.
func (s *Server) doorPages() []route {
	return []route{
		show("/{$}", everyone, s.start),
		show("/style.css", everyone, s.asset("text/css; charset=utf-8", pages.Style)),
		show("/icon.svg", everyone, s.asset("image/svg+xml", pages.Icon)),
		show("/sign-in", everyone, s.signInPage, "to"),
		post("/sign-in", everyone, s.signInForm),
		post("/sign-out", everyone, s.signOutForm),
		show("/first", everyone, s.firstPage),
		post("/first", everyone, s.firstForm),
		show("/s/{token}", everyone, s.openLink),
	}
}

// start leads everyone to the first page that they may see.
func (s *Server) start(w http.ResponseWriter, r *http.Request) error {
	switch a := askerOf(r); {
	case a.is == visitor:
		return doneAt(w, r, "/sites/"+string(a.actor.Site), "")
	case a.is&staff != 0:
		return doneAt(w, r, "/sites", "")
	}
	return doneAt(w, r, "/sign-in", "")
}

// asset gives a part of the pages that is the same for everyone.
func (s *Server) asset(kind string, content []byte) handler {
	etag := `"` + string(archive.HashOf(content)) + `"`
	return func(w http.ResponseWriter, r *http.Request) error {
		if fresh(w, r, etag) {
			return nil
		}
		return give(w, kind, content)
	}
}

// noAccounts tells whether nobody has an account yet.
func (s *Server) noAccounts(r *http.Request) (bool, error) {
	all, err := s.People.Accounts(r.Context(), archive.Program())
	return len(all) == 0, err
}

// wayBack keeps a way back within these pages.
func wayBack(to string) string {
	u, err := url.Parse(to)
	if err != nil || u.IsAbs() || u.Host != "" || !strings.HasPrefix(to, "/") || strings.HasPrefix(to, "//") || strings.ContainsAny(to, "\\\r\n\t") || strings.HasPrefix(to, "/sign-") {
		return "/"
	}
	return to
}

func (s *Server) signInPage(w http.ResponseWriter, r *http.Request) error {
	if none, err := s.noAccounts(r); err != nil || none {
		if none {
			return doneAt(w, r, "/first", "")
		}
		return err
	}
	return s.page(w, http.StatusOK, "signin", s.frame(r, "Sign in"), pages.SignIn{To: wayBack(r.URL.Query().Get("to"))})
}

func (s *Server) signInForm(w http.ResponseWriter, r *http.Request) error {
	form, err := readForm(r)
	if err != nil {
		return err
	}
	to := wayBack(form.Get("to"))
	token, session, err := s.openSession(r, form.Get("login"), form.Get("password"))
	if err != nil {
		return s.again(w, "signin", s.frame(r, "Sign in"), pages.SignIn{To: to, Login: form.Get("login")}, err, [2]string{"", "login"})
	}
	s.setCookie(w, sessionCookie, token, session.Expires)
	return doneAt(w, r, to, "")
}

func (s *Server) signOutForm(w http.ResponseWriter, r *http.Request) error {
	if err := s.endSession(w, r); err != nil {
		return err
	}
	return doneAt(w, r, "/sign-in", "signed-out")
}

// local tells whether a request comes from the machine that the server runs
// on, not through something between; behind a proxy that says nothing all would.
func (s *Server) local(r *http.Request) bool {
	if s.Proxied {
		return false
	}
	for _, header := range []string{"Forwarded", "X-Forwarded-For", "X-Forwarded-Host", "Via"} {
		if r.Header.Get(header) != "" {
			return false
		}
	}
	from, err := netip.ParseAddr(peerOf(r))
	if err != nil || !from.Unmap().IsLoopback() {
		return false
	}
	host, _, err := net.SplitHostPort(r.Host)
	if err != nil {
		host = r.Host
	}
	named, err := netip.ParseAddr(strings.Trim(host, "[]"))
	return host == "localhost" || err == nil && named.IsLoopback()
}

func (s *Server) firstPage(w http.ResponseWriter, r *http.Request) error {
	if none, err := s.noAccounts(r); err != nil || !none {
		if err != nil {
			return err
		}
		return doneAt(w, r, "/sign-in", "")
	}
	return s.page(w, http.StatusOK, "first", s.frame(r, "Make the first account"), pages.First{AskCode: !s.local(r)})
}

// firstForm makes the first account, for whoever sits at the server or was told
// the code that it printed.
func (s *Server) firstForm(w http.ResponseWriter, r *http.Request) error {
	form, err := readForm(r)
	if err != nil {
		return err
	}
	view := pages.First{AskCode: !s.local(r), Login: form.Get("login"), Name: form.Get("name")}
	if none, err := s.noAccounts(r); err != nil || !none {
		if err != nil {
			return err
		}
		return doneAt(w, r, "/sign-in", "")
	}
	if view.AskCode {
		err = s.checkCode(strings.TrimSpace(form.Get("code")))
	}
	if err == nil {
		_, err = s.People.First(r.Context(), view.Login, view.Name, form.Get("password"))
	}
	if err != nil {
		return s.again(w, "first", s.frame(r, "Make the first account"), view, err,
			[2]string{"the code", "code"}, [2]string{"the password", "password"}, [2]string{"login", "login"}, [2]string{"the name", "name"})
	}
	token, session, err := s.openSession(r, view.Login, form.Get("password"))
	if err != nil {
		return err
	}
	s.setCookie(w, sessionCookie, token, session.Expires)
	return doneAt(w, r, "/sites", "first")
}

func (s *Server) checkCode(code string) error {
	if s.FirstCode == "" {
		return refusef(http.StatusForbidden, "refused", "Open this page on that machine itself.", "The first account is made on the machine that the server runs on.")
	}
	if subtle.ConstantTimeCompare([]byte(code), []byte(s.FirstCode)) != 1 {
		return refusef(http.StatusForbidden, "refused", "Read it again where the server was started.", "The code is not the one that the server printed.")
	}
	return nil
}

// openLink lets a visitor in who holds a link.
func (s *Server) openLink(w http.ResponseWriter, r *http.Request) error {
	token := r.PathValue("token")
	if len(token) > longestToken {
		return errLink
	}
	actor, share, err := s.People.Visitor(r.Context(), token)
	switch {
	case opensNothing(err):
		return errLink
	case err != nil:
		return err
	}
	s.setCookie(w, visitorCookie, token, share.Expires)
	return doneAt(w, r, "/sites/"+string(actor.Site), "")
}

var errLink = refusal{"link", http.StatusNotFound, "This link opens nothing: it was revoked, has ended, or was not copied whole.", "Ask whoever sent it for a new one."}

package web

import (
	"net/http"
	"strconv"
	"strings"

	"undersod/internal/archive"
	"undersod/internal/web/pages"
)

// peoplePages are the pages of accounts.
func (s *Server) peoplePages() []route {
	return []route{
		show("/people", owner, s.peoplePage),
		post("/people", owner, s.inviteForm),
		post("/people/{account}", owner, s.accountForm),
		post("/people/{account}/password", owner, s.passwordForm),
		show("/account", staff, s.accountPage),
		post("/account", staff, s.ownPasswordForm),
	}
}

// peopleView lists the accounts.
func (s *Server) peopleView(r *http.Request, open archive.ID) (pages.People, error) {
	list, err := s.People.Accounts(r.Context(), actorOf(r))
	if err != nil {
		return pages.People{}, err
	}
	return pages.People{Rows: pages.AccountRows(list, askerOf(r).account.ID, open, s.newKey), Roles: pages.RoleChoices(archive.Crew)}, nil
}

func (s *Server) peoplePage(w http.ResponseWriter, r *http.Request) error {
	view, err := s.peopleView(r, "")
	if err != nil {
		return err
	}
	return s.page(w, http.StatusOK, "people", s.frame(r, "People"), view)
}

func (s *Server) inviteForm(w http.ResponseWriter, r *http.Request) error {
	form, err := readForm(r)
	if err != nil {
		return err
	}
	role := archive.Role(form.Get("role"))
	_, err = s.People.Invite(r.Context(), s.writing(r, form), form.Get("login"), form.Get("name"), role, form.Get("password"))
	if err == nil {
		return doneAt(w, r, "/people", "account")
	}
	view, fault := s.peopleView(r, "")
	if fault != nil {
		return fault
	}
	view.Login, view.Name, view.Roles = form.Get("login"), form.Get("name"), pages.RoleChoices(role)
	return s.again(w, "people", s.frame(r, "People"), view, err,
		[2]string{"the password", "password"}, [2]string{"the role", "role"}, [2]string{"login", "login"}, [2]string{"the name", "name"})
}

func (s *Server) accountForm(w http.ResponseWriter, r *http.Request) error {
	return s.changeAccount(w, r, "account", func(id archive.ID) error {
		form := r.PostForm
		_, err := s.People.Change(r.Context(), s.writing(r, form), id, form.Get("name"), archive.Role(form.Get("role")), form.Get("disabled") == "true")
		return err
	})
}

func (s *Server) passwordForm(w http.ResponseWriter, r *http.Request) error {
	return s.changeAccount(w, r, "password", func(id archive.ID) error {
		return s.People.SetPassword(r.Context(), s.writing(r, r.PostForm), id, "", r.PostForm.Get("password"))
	})
}

// changeAccount changes the account that the path names.
func (s *Server) changeAccount(w http.ResponseWriter, r *http.Request, done string, do func(archive.ID) error) error {
	id, err := idOf(r, "account")
	if err != nil {
		return err
	}
	if _, err := readForm(r); err != nil {
		return err
	}
	if err = do(id); err == nil {
		return doneAt(w, r, "/people", done)
	}
	view, fault := s.peopleView(r, id)
	if fault != nil {
		return fault
	}
	return s.again(w, "people", s.frame(r, "People"), view, err, [2]string{"the password", "password-" + string(id)}, [2]string{"the name", "name-" + string(id)},
		[2]string{"the role", "role-" + string(id)}, [2]string{"only owner", "role-" + string(id)})
}

func accountView(a asker) pages.Account {
	return pages.Account{Name: a.account.Name, Login: a.account.Login, Role: a.account.Role}
}

func (s *Server) accountPage(w http.ResponseWriter, r *http.Request) error {
	return s.page(w, http.StatusOK, "account", s.frame(r, "Your account"), accountView(askerOf(r)))
}

func (s *Server) ownPasswordForm(w http.ResponseWriter, r *http.Request) error {
	form, err := readForm(r)
	if err != nil {
		return err
	}
	a := askerOf(r)
	err = s.People.SetPassword(r.Context(), s.writing(r, form), a.account.ID, form.Get("old"), form.Get("password"))
	if err != nil {
		return s.again(w, "account", s.frame(r, "Your account"), accountView(a), err,
			[2]string{"new password", "password"}, [2]string{"old", "old"}, [2]string{"wrong", "old"}, [2]string{"the password", "password"})
	}
	return doneAt(w, r, "/account", "password")
}

// shareDays is how long a link lasts where nobody says otherwise.
const shareDays = 30

func (s *Server) sharesView(r *http.Request, id archive.ID) (pages.Shares, pages.Frame, error) {
	f := s.frame(r, "Share links")
	view := pages.Shares{Site: id, Days: strconv.Itoa(shareDays)}
	site, _, err := s.Records.Site(r.Context(), actorOf(r), id)
	if err != nil {
		return view, f, err
	}
	f.Trail = trailTo(askerOf(r).is, siteLink(site))
	list, err := s.People.Shares(r.Context(), actorOf(r), id)
	if err != nil {
		return view, f, err
	}
	names, err := s.names(r)
	view.Rows = pages.ShareRows(list, names, s.Now(), s.newKey)
	return view, f, err
}

func (s *Server) sharesPage(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "site")
	if err != nil {
		return err
	}
	view, f, err := s.sharesView(r, id)
	if err != nil {
		return err
	}
	return s.page(w, http.StatusOK, "shares", f, view)
}

// shareForm makes a link and shows it this once.
func (s *Server) shareForm(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "site")
	if err != nil {
		return err
	}
	form, err := readForm(r)
	if err != nil {
		return err
	}
	label := form.Get("label")
	days, wrong := strconv.Atoi(strings.TrimSpace(form.Get("days")))
	var token string
	var share archive.Share
	if wrong != nil {
		err = refusef(http.StatusBadRequest, "refused", "Write a whole number, as 30.", "The days that the link lasts: %.20q was read.", form.Get("days"))
	} else {
		token, share, err = s.People.Share(r.Context(), s.writing(r, form), id, label, days)
	}
	view, f, fault := s.sharesView(r, id)
	if fault != nil {
		return fault
	}
	view.Label = label
	if err != nil {
		view.Days = form.Get("days")
		return s.again(w, "shares", f, view, err, [2]string{"days", "days"}, [2]string{"for whom", "label"})
	}
	view.Link, view.Until = s.base(r)+"/s/"+token, pages.Date(share.Expires)
	return s.page(w, http.StatusOK, "shares", f, view)
}

// base is how the browser reached this server.
func (s *Server) base(r *http.Request) string {
	if s.Secure {
		return "https://" + r.Host
	}
	return "http://" + r.Host
}

func (s *Server) revokeForm(w http.ResponseWriter, r *http.Request) error {
	id, err := idOf(r, "share")
	if err != nil {
		return err
	}
	form, err := readForm(r)
	if err != nil {
		return err
	}
	if err := s.People.Revoke(r.Context(), s.writing(r, form), id); err != nil {
		return err
	}
	to := "/sites"
	if site := archive.ID(form.Get("site")); site.Valid() {
		to = "/sites/" + string(site) + "/shares"
	}
	return doneAt(w, r, to, "revoked")
}

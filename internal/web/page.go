package web

import (
	"encoding/hex"
	"errors"
	"net/http"
	"net/url"
	"strings"
	"sync"

	"undersod/internal/archive"
	"undersod/internal/web/pages"
)

// book holds the pages, which never change while the program runs.
var book = sync.OnceValues(pages.New)

// What a form may bring along beside what its row says.
const formRoom = 64 << 10

// pageRoutes are the rows of the office pages.
func (s *Server) pageRoutes() []route {
	rows := s.doorPages()
	for _, more := range [][]route{s.listPages(), s.sitePages(), s.visitPages(), s.peoplePages(), s.filePages()} {
		rows = append(rows, more...)
	}
	for i := range rows {
		rows[i].page = true
	}
	return rows
}

// show is the row of a page.
func show(pattern string, may who, f handler, query ...string) route {
	row := route{method: http.MethodGet, pattern: pattern, may: may, handle: f}
	for _, name := range append(query, "done") {
		row.query = append(row.query, parameter{name: name})
	}
	return row
}

// post is the row of a form with fields alone.
func post(pattern string, may who, f handler) route {
	return route{method: http.MethodPost, pattern: pattern, may: may, handle: f,
		takes: body{types: []string{"application/x-www-form-urlencoded", ""}, most: formRoom}}
}

// postFiles is the row of a form with files.
func postFiles(pattern string, may who, most int64, f handler) route {
	return route{method: http.MethodPost, pattern: pattern, may: may, handle: f,
		takes: body{types: []string{"multipart/form-data"}, most: most + formRoom, slow: true}}
}

// frame is what stands about every page.
func (s *Server) frame(r *http.Request, title string) pages.Frame {
	a := askerOf(r)
	f := pages.Frame{Title: title, Here: r.URL.Path, Key: s.newKey(), Notice: doneWords(r.URL.Query().Get("done"))}
	switch {
	case a.is == visitor:
		f.Guest, f.GuestUntil = a.share.Label, pages.Date(a.share.Expires)
	case a.is&staff != 0:
		f.Person, f.Role = a.account.Name, string(a.account.Role)
		f.Nav = nav(a.is, r.URL.Path)
	}
	return f
}

// nav lists where someone may go.
func nav(is who, here string) []pages.Link {
	all := []struct {
		may       who
		to, words string
	}{{staff, "/sites", "Sites"}, {staff, "/due", "Due"}, {crews, "/visits/new", "New site"}, {owner, "/people", "People"}, {offices, "/audit", "Audit"}}
	var out []pages.Link
	for _, l := range all {
		if l.may&is != 0 {
			out = append(out, pages.Link{To: l.to, Words: l.words, Here: l.to == here})
		}
	}
	return out
}

// newKey makes a key, so that a form sent twice is carried out once.
func (s *Server) newKey() string {
	var b [16]byte
	s.Random(b[:])
	return hex.EncodeToString(b[:])
}

// page fills a page and sends it.
func (s *Server) page(w http.ResponseWriter, status int, name string, f pages.Frame, view any) error {
	b, err := book()
	if err != nil {
		return err
	}
	text, err := b.Page(name, f, view)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write(text) // whoever asked may have gone
	return nil
}

// doneWords tells what was done just now.
func doneWords(code string) string {
	return map[string]string{
		"kept": "The visit is kept.", "changed": "The change is kept.", "brought": "The site was brought in. What was here already was left as it is.", "same": "Nothing was different, so nothing was changed.",
		"photo": "The photos are kept.", "photo-removed": "The photo was taken away. The history keeps it.",
		"removed": "It was removed. It is kept, and can be recovered.", "recovered": "It was recovered.",
		"revoked": "The link was revoked and opens nothing any more.", "account": "The account is kept.", "password": "The password is set.",
		"signed-out": "You are signed out.", "first": "Welcome. This is the first account; it is an owner.",
	}[code]
}

// doneAt sends the browser to a page that tells what was done.
func doneAt(w http.ResponseWriter, r *http.Request, to, code string) error {
	if code != "" {
		to += "?done=" + url.QueryEscape(code)
	}
	http.Redirect(w, r, to, http.StatusSeeOther)
	return nil
}

// writing is what a change asked for by a form carries.
func (s *Server) writing(r *http.Request, form url.Values) archive.Write {
	return archive.Write{By: actorOf(r), Key: form.Get("key")}
}

// readForm reads the fields of a form.
func readForm(r *http.Request) (url.Values, error) {
	if err := r.ParseForm(); err != nil {
		return nil, bodyError(err)
	}
	return r.PostForm, nil
}

// fieldOf finds the field of a form that words are about, by what they name.
func fieldOf(words string, named ...[2]string) string {
	low := strings.ToLower(words)
	for _, n := range named {
		if strings.Contains(low, n[0]) {
			return n[1]
		}
	}
	return ""
}

// told turns an error into the head of a page, in words for a person at a
// browser, and the status.
func told(err error, named ...[2]string) (*pages.Problem, int) {
	p := problemOf(err)
	out := pageProblem(p)
	out.Field = fieldOf(out.Words, named...)
	return out, p.Status
}

// pageProblem puts a problem in words for a person at a browser.
func pageProblem(p problem) *pages.Problem {
	out := &pages.Problem{Head: "That did not work", Words: plain(p.Detail), Do: p.Do}
	if own, ok := pageWords()[strings.TrimPrefix(p.Type, "/problems/")]; ok {
		out.Head = own.Head
		if own.Do != "" {
			out.Do = own.Do
		}
		if own.Words != "" && !speaks(p.Detail) {
			out.Words = own.Words
		}
	}
	if p.Status >= http.StatusInternalServerError {
		out.Request = p.Request
	}
	return out
}

// speaks tells whether the words of a problem are more than those of its kind,
// which for a person at a browser are put otherwise.
func speaks(words string) bool {
	low := strings.ToLower(words)
	for _, kind := range []error{archive.ErrNotFound, archive.ErrStale, archive.ErrKeyUsed} {
		if strings.Contains(low, kind.Error()) {
			return false
		}
	}
	return !strings.HasPrefix(words, "There is no ") && !strings.HasPrefix(words, "There is nothing ")
}

// plain leaves the kind of an error out of its words where they say more.
func plain(words string) string {
	for _, kind := range []error{archive.ErrRefused, archive.ErrDenied, archive.ErrTooLarge, archive.ErrExists} {
		words = strings.ReplaceAll(words, ": "+kind.Error(), "")
	}
	return words
}

// pageWords are the words of a browser's page where those of the interface for
// programs would not help; empty words leave what the problem says.
func pageWords() map[string]pages.Problem {
	return map[string]pages.Problem{
		"not-found":   {Head: "There is nothing here", Words: "What you look for is not in the archive, or not yours to see.", Do: "Look at the address, or search for it."},
		"not-allowed": {Head: "Your account may not do that", Do: "Ask an owner of this archive for another role, or to do it for you."},
		"sign-in":     {Head: "That did not open"},
		"refused":     {Head: "That cannot be taken as it is"},
		"stale":       {Head: "Someone else changed it in the meantime", Words: "Nothing of theirs was overwritten, and nothing was changed by you.", Do: "Look at it as it is now, and try again."},
		"key-used": {Head: "This form was sent before", Words: "It was sent once already, with something else in it.",
			Do: "Load the page anew and fill it in again."},
		"removed":    {Head: "It was removed", Do: "Recover it first."},
		"exists":     {Head: "It is there already"},
		"too-large":  {Head: "That is too large", Do: "Send less at once."},
		"query":      {Head: "The address has something in it that is not known"},
		"cross-site": {Head: "That came from a page of another site", Do: "Open this server's own page and do it there."},
		"type":       {Head: "That cannot be read", Words: "The form arrived in a way that is not taken.", Do: "Load the page anew and send it again."},
		"method":     {Head: "There is nothing here", Words: "This address takes only what a form of these pages sends.", Do: "Go back to the page before."},
		"busy":       {Head: "A moment, please", Do: "Wait a little and try again."},
		"cut-off":    {Head: "That did not arrive whole", Do: "Send it again."},
		"fault":      {Head: "The server could not do that", Do: "Try again. If it stays, give the number of the request to whoever runs the server."},
	}
}

// failPage tells a problem as a page. Who has not signed in is led to the door
// and back, unless a form would be lost by that.
func (s *Server) failPage(w http.ResponseWriter, r *http.Request, p problem) {
	head := pageProblem(p)
	view := struct{ Back, BackWords string }{"/", "To the first page"}
	if p.Status == http.StatusUnauthorized {
		if r.Method == http.MethodGet || r.Method == http.MethodHead {
			http.Redirect(w, r, "/sign-in?to="+url.QueryEscape(r.URL.RequestURI()), http.StatusSeeOther)
			return
		}
		w.Header().Del("WWW-Authenticate")
		*head = pages.Problem{Head: "You are not signed in any more", Words: "Nothing was changed, and what you typed is still on the page before.",
			Do: "Sign in in another window, then go back to the page before and send it again."}
		view.Back, view.BackWords = "/sign-in", "Sign in"
	}
	if err := s.page(w, p.Status, "problem", s.problemFrame(r, head.Head, head), view); err != nil {
		p.write(w)
	}
}

func (s *Server) problemFrame(r *http.Request, title string, head *pages.Problem) pages.Frame {
	f := s.frame(r, title)
	f.Problem, f.Notice = head, ""
	return f
}

// again shows a form anew with what is wrong with what was sent.
func (s *Server) again(w http.ResponseWriter, name string, f pages.Frame, view any, err error, named ...[2]string) error {
	p := problemOf(err)
	if p.Status >= http.StatusInternalServerError || errors.Is(err, archive.ErrNotFound) {
		return err
	}
	for header, values := range p.header {
		if header != "Www-Authenticate" && header != "WWW-Authenticate" {
			w.Header()[header] = values
		}
	}
	f.Problem, _ = told(err, named...)
	f.Notice = ""
	return s.page(w, p.Status, name, f, view)
}

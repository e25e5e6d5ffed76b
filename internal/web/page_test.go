package web_test

import (
	"bytes"
	"context"
	"encoding/xml"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"undersod/examples"
	"undersod/internal/archive"
	"undersod/internal/archive/memory"
	"undersod/internal/people"
	"undersod/internal/web"
)

// pageMay says who may ask for which page, apart from the table that the server
// is made of. Each set holds those before it.
var pageMay = map[string]string{
	"GET /{$}": "anyone", "GET /style.css": "anyone", "GET /icon.svg": "anyone", "GET /s/{token}": "anyone",
	"GET /sign-in": "anyone", "POST /sign-in": "anyone", "POST /sign-out": "anyone", "GET /first": "anyone", "POST /first": "anyone",
	"GET /sites": "read-only", "GET /due": "read-only", "GET /audit": "office",
	"GET /sites/{site}": "visitor", "GET /sites/{site}/history": "read-only", "GET /sites/{site}/bundle.zip": "read-only",
	"POST /sites/{site}/remove": "crew", "POST /sites/{site}/recover": "crew",
	"GET /sites/{site}/shares": "office", "POST /sites/{site}/shares": "office", "POST /shares/{share}/revoke": "office",
	"GET /visits/new": "crew", "POST /visits": "crew", "GET /visits/{visit}": "visitor",
	"GET /visits/{visit}/job": "visitor", "POST /visits/{visit}/job": "crew", "GET /visits/{visit}/job-file": "visitor", "GET /visits/{visit}/job/{content}": "read-only",
	"POST /visits/{visit}/remove": "crew", "POST /visits/{visit}/recover": "crew",
	"POST /visits/{visit}/photos": "crew", "POST /visits/{visit}/photos/remove": "crew",
	"GET /visits/{visit}/photos/{name...}": "visitor", "GET /visits/{visit}/thumbnails/{name...}": "visitor",
	"GET /visits/{visit}/photos-at/{content}": "read-only",
	"GET /visits/{visit}/setbacks":            "visitor", "GET /visits/{visit}/fit": "visitor", "GET /visits/{visit}/compare": "visitor",
	"GET /visits/{visit}/compare.pdf": "visitor", "GET /visits/{visit}/compare.svg": "visitor", "GET /visits/{visit}/plan.geojson": "visitor",
	"GET /visits/{visit}/drawing.pdf": "visitor", "GET /visits/{visit}/drawing.svg": "visitor", "GET /visits/{visit}/drawing.png": "visitor", "GET /visits/{visit}/drawing.dxf": "visitor",
	"GET /visits/{visit}/card.pdf": "visitor", "GET /visits/{visit}/card.svg": "visitor", "GET /visits/{visit}/card.png": "visitor",
	"GET /visits/{visit}/report.pdf": "visitor", "GET /visits/{visit}/county.pdf": "visitor", "GET /visits/{visit}/calendar.ics": "visitor",
	"GET /people": "owner", "POST /people": "owner", "POST /people/{account}": "owner", "POST /people/{account}/password": "owner",
	"GET /account": "read-only", "POST /account": "read-only",
}

func TestEveryPageSaysWhoMayAskAsListedHere(t *testing.T) {
	seen := map[string]bool{}
	for _, row := range build(t).server.Rows() {
		if !row.Page {
			continue
		}
		name := row.Method + " " + row.Pattern
		seen[name] = true
		least, listed := pageMay[name]
		if !listed {
			t.Errorf("%s is not listed", name)
			continue
		}
		if want := ladder[:slices.Index(ladder, least)+1]; !slices.Equal(row.Roles, want) {
			t.Errorf("%s: %v may ask, want %v", name, row.Roles, want)
		}
	}
	for name := range pageMay {
		if !seen[name] {
			t.Errorf("%s is listed and not there", name)
		}
	}
}

// browse is a browser of its own, that follows no redirect, with the cookie of
// someone of the ladder.
func (s stock) browse(who, method, path string, form url.Values) got {
	s.tb.Helper()
	out := sent{method: method, path: path, header: map[string]string{}}
	switch {
	case who == "visitor":
		out.header["Cookie"] = "visitor=" + s.link
	case who != "anyone":
		out.header["Cookie"] = "session=" + s.tokens[archive.Role(who)]
	}
	if method == "POST" {
		out.body, out.kind = form.Encode(), "application/x-www-form-urlencoded"
		out.header["Sec-Fetch-Site"] = "same-origin"
	}
	client := *s.at.Client()
	client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	return s.sendBy(&client, out)
}

// browseFiles sends a form with one file.
func (s stock) browseFiles(who, path string, fields map[string]string, field, file string, content []byte) got {
	s.tb.Helper()
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	for name, v := range fields {
		_ = m.WriteField(name, v)
	}
	if field != "" {
		part, err := m.CreateFormFile(field, file)
		if err != nil {
			s.tb.Fatal(err)
		}
		_, _ = part.Write(content)
	}
	_ = m.Close()
	out := sent{method: "POST", path: path, body: b.Bytes(), kind: m.FormDataContentType(), header: map[string]string{"Cookie": "session=" + s.tokens[archive.Role(who)]}}
	client := *s.at.Client()
	client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	return s.sendBy(&client, out)
}

// shown lists the pages that are looked at.
func shown(s stock) []string {
	var out []string
	for _, row := range s.server.Rows() {
		if row.Page && row.Method == "GET" && !strings.Contains(row.Pattern, ".") && !strings.Contains(row.Pattern, "{name") && !strings.Contains(row.Pattern, "{content") &&
			!strings.Contains(row.Pattern, "{token") && !strings.HasSuffix(row.Pattern, "-file") && row.Pattern != "/{$}" {
			out = append(out, s.fill.Replace(row.Pattern))
		}
	}
	return out
}

func TestEveryPageForEveryRoleAVisitorAndNobody(t *testing.T) {
	s := stocked(t)
	for _, row := range s.server.Rows() {
		if !row.Page || strings.Contains(row.Pattern, "bundle.zip") || strings.Contains(row.Pattern, "geojson") || row.Pattern == "/sign-out" {
			continue
		}
		path := strings.NewReplacer("{$}", "", "{token}", s.link).Replace(s.fill.Replace(row.Pattern))
		if strings.Contains(row.Pattern, "/card.") {
			path += "?part=D-box"
		}
		if strings.Contains(row.Pattern, "/compare.") {
			path += "?before=" + s.fill.Replace("{visit}")
		}
		for _, who := range ladder {
			name := row.Method + " " + path + " for " + who
			may := slices.Contains(row.Roles, who)
			if row.Method == "POST" && may {
				continue // tried below, one by one
			}
			g := s.browse(who, row.Method, path, url.Values{})
			switch {
			case may && (g.status >= 400 || len(g.body) == 0):
				t.Errorf("%s: status %d: %.300s", name, g.status, g.body)
			case !may && who == "anyone" && row.Method == "GET" && (g.status != 303 || !strings.HasPrefix(g.header.Get("Location"), "/sign-in?to=")):
				t.Errorf("%s: status %d, want to be led to the door", name, g.status)
			case !may && who == "anyone" && row.Method == "POST" && g.status != 401, !may && who != "anyone" && g.status != 403:
				t.Errorf("%s: status %d", name, g.status)
			case !may && g.status >= 400 && !strings.HasPrefix(g.header.Get("Content-Type"), "text/html"):
				t.Errorf("%s is not refused by a page: %s", name, g.body)
			}
		}
	}
}

// What a role may not do is not offered either: every form and every link of a
// page leads to a row that the role may use.
func TestNothingIsOfferedThatIsRefused(t *testing.T) {
	s := stocked(t)
	mux := http.NewServeMux()
	may := map[string][]string{}
	for _, row := range s.server.Rows() {
		may[row.Method+" "+row.Pattern] = row.Roles
		mux.Handle(row.Method+" "+row.Pattern, http.NotFoundHandler())
	}
	offered := 0
	for _, who := range ladder {
		for _, path := range shown(s) {
			g := s.browse(who, "GET", path, nil)
			if g.status != 200 {
				continue
			}
			for _, to := range leads(t, g.body) {
				method, at, _ := strings.Cut(to, " ")
				r, _ := http.NewRequest(method, at, nil)
				if _, pattern := mux.Handler(r); !slices.Contains(may[pattern], who) {
					t.Errorf("%s is offered %s on %s", who, to, path)
				}
				offered++
			}
		}
	}
	if offered < 200 {
		t.Errorf("%d ways were found, which is too few to tell anything", offered)
	}
}

// leads lists where a page leads: links, pictures and forms. A page must be
// written so that a strict reader of XML takes it, but for what HTML leaves open.
func leads(t *testing.T, page []byte) []string {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	var out []string
	for {
		token, err := d.Token()
		if err == io.EOF {
			return out
		}
		if err != nil {
			t.Fatalf("%v in %.200s", err, page)
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		attr := map[string]string{}
		for _, a := range e.Attr {
			attr[a.Name.Local] = a.Value
		}
		to, method := attr["href"]+attr["src"]+attr["action"], "GET"
		if e.Name.Local == "form" && attr["method"] == "post" {
			method = "POST"
		}
		if strings.HasPrefix(to, "/") {
			out = append(out, method+" "+to)
		}
	}
}

var outside = regexp.MustCompile(`(?i)<script|<style|\sstyle=|\son[a-z]+=|(?:href|src|action)="(?:[a-z]+:|//)`)

func TestPagesHoldNoScriptNoStyleAndNoOtherHost(t *testing.T) {
	s := stocked(t)
	for _, path := range append(shown(s), "/nowhere") {
		for _, who := range []string{"owner", "visitor", "anyone"} {
			g := s.browse(who, "GET", path, nil)
			if found := outside.Find(g.body); found != nil {
				t.Errorf("%s holds %s", path, found)
			}
			if !strings.Contains(g.header.Get("Content-Security-Policy"), "default-src 'none'") {
				t.Errorf("%s has the policy %q", path, g.header.Get("Content-Security-Policy"))
			}
		}
	}
}

func TestEveryFieldHasALabelAndEveryPageOneHeading(t *testing.T) {
	s := stocked(t)
	for _, path := range shown(s) {
		g := s.browse("owner", "GET", path, nil)
		if g.status != 200 {
			continue
		}
		page := string(g.body)
		if n := strings.Count(page, "<h1>"); n != 1 {
			t.Errorf("%s has %d main headings", path, n)
		}
		ids := map[string]int{}
		for _, m := range regexp.MustCompile(`\sid="([^"]+)"`).FindAllStringSubmatch(page, -1) {
			if ids[m[1]]++; ids[m[1]] > 1 {
				t.Errorf("%s names two things %q", path, m[1])
			}
		}
		for _, m := range regexp.MustCompile(`<(?:input|select|textarea)\s[^>]*>`).FindAllString(page, -1) {
			if strings.Contains(m, `type="hidden"`) {
				continue
			}
			id := regexp.MustCompile(`\sid="([^"]+)"`).FindStringSubmatch(m)
			if id == nil || !strings.Contains(page, `<label for="`+id[1]+`"`) {
				t.Errorf("%s has no label for %s", path, m)
			}
		}
	}
}

func TestTheSiteTellsTheVerdictAndTheFindings(t *testing.T) {
	s := stocked(t)
	g := s.browse("read-only", "GET", s.fill.Replace("/sites/{site}"), nil)
	for _, words := range []string{"18 Quarry Hollow Lane", "Do not fill yet.", "31.9 ft", "fine roots at 41", "Standing water from 46", "drawing.pdf", "county.pdf", "thumbnails/photos/box.jpg", "D-box"} {
		if !strings.Contains(strings.ToLower(string(g.body)), strings.ToLower(words)) {
			t.Errorf("the page does not tell %q", words)
		}
	}
	act, watch := bytes.Index(g.body, []byte(`<span class="tag act">Act</span>`)), bytes.Index(g.body, []byte(`<span class="tag watch">Watch</span>`))
	if act < 0 || watch < act {
		t.Errorf("what to act on stands at %d, what to watch at %d", act, watch)
	}
}

func TestSearchByWordsAndByPlace(t *testing.T) {
	s := stocked(t)
	s.keep(t, "", "two-ties-and-a-fix.yaml")
	for query, want := range map[string]string{
		"words=quarry": "18 Quarry Hollow Lane", "near=41.5021,-38.25&within=1000": "m) south", "near=41.5021+N,+38.25+W": "tag far",
		"near=10,10&within=200": "No site was found there.", "words=nowhere": "No site was found.", "near=over+there": "cannot be read",
		"near=95,10": "cannot be read", "skip=x": "a whole number", "deleted=true": "No site was removed.",
	} {
		if g := s.browse("read-only", "GET", "/sites?"+query, nil); !strings.Contains(string(g.body), want) {
			t.Errorf("%s does not tell %q (status %d)", query, want, g.status)
		}
	}
}

func TestAJobFileIsChangedAndNothingOfTwoIsLost(t *testing.T) {
	s := stocked(t)
	path := s.fill.Replace("/visits/{visit}/job")
	now := string(s.browse("crew", "GET", path, nil).body)
	revision := regexp.MustCompile(`name="revision" value="(\d+)"`).FindStringSubmatch(now)[1]
	mine := "# mine\n" + string(examples.Demo())
	send := func(who, key, revision, text string) got {
		return s.browseFiles(who, path, map[string]string{"key": key, "revision": revision, "text": strings.ReplaceAll(text, "\n", "\r\n")}, "", "", nil)
	}
	if g := send("crew", "one", revision, mine); g.status != 303 || !strings.HasSuffix(g.header.Get("Location"), "done=changed") {
		t.Fatalf("status %d, to %s: %s", g.status, g.header.Get("Location"), g.body)
	}
	if kept := s.send(sent{method: "GET", path: "/api/v1" + path, token: s.tokens[archive.Crew]}); string(kept.body) != mine {
		t.Errorf("what is kept is not what was typed: %.80q", kept.body)
	}
	if g := send("crew", "one", revision, mine); g.status != 303 {
		t.Errorf("the same form again: status %d", g.status)
	}
	g := send("office", "two", revision, "# theirs\n"+string(examples.Demo()))
	if g.status != 409 || !strings.Contains(string(g.body), "# mine") || !strings.Contains(string(g.body), "# theirs") {
		t.Fatalf("status %d; both texts are to be shown", g.status)
	}
	next := regexp.MustCompile(`name="revision" value="(\d+)"`).FindStringSubmatch(string(g.body))[1]
	if g := send("office", "three", next, "# both\n"+string(examples.Demo())); g.status != 303 {
		t.Errorf("chosen after a look: status %d: %s", g.status, g.body)
	}
	if g := s.browse("read-only", "GET", s.fill.Replace("/sites/{site}/history"), nil); strings.Count(string(g.body), "The job file before") != 2 {
		t.Errorf("the history does not tell of two changes: %s", g.body)
	}
}

func TestPhotosComeAndGo(t *testing.T) {
	s := stocked(t)
	path := s.fill.Replace("/visits/{visit}/photos")
	if g := s.browseFiles("crew", path, map[string]string{"key": "p"}, "photo", `C:\pictures\the lid (2).jpg`, picture(t, 50, 30)); g.status != 303 {
		t.Fatalf("status %d: %s", g.status, g.body)
	}
	page := string(s.browse("crew", "GET", s.fill.Replace("/visits/{visit}"), nil).body)
	name := regexp.MustCompile(`thumbnails/(photos/[^"]*lid[^"]*)"`).FindStringSubmatch(page)
	if name == nil {
		t.Fatalf("the photo is not shown: %s", page)
	}
	if g := s.browseFiles("crew", path, map[string]string{"key": "q"}, "photo", "x.jpg", []byte("no picture")); g.status != 422 || strings.Contains(string(g.body), "what was sent cannot be taken") {
		t.Errorf("no picture: status %d: %s", g.status, g.body)
	}
	if g := s.browse("crew", "POST", path+"/remove", url.Values{"key": {"r"}, "name": {name[1]}}); g.status != 303 {
		t.Errorf("removed: status %d: %s", g.status, g.body)
	}
	if page := string(s.browse("crew", "GET", s.fill.Replace("/visits/{visit}"), nil).body); strings.Contains(page, name[1]) && strings.Contains(page, "thumbnails/"+name[1]) {
		t.Error("the photo is still shown")
	}
}

// TestOnePictureThatIsNotTakenLosesNoOther sends three at once, of which two
// have one name, and then the history's own.
func TestOnePictureThatIsNotTakenLosesNoOther(t *testing.T) {
	s := stocked(t)
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	_ = m.WriteField("key", "three")
	for i, file := range []string{"box.jpg", "lid.jpg", "words.jpg"} {
		part, err := m.CreateFormFile("photo", file)
		if err != nil {
			t.Fatal(err)
		}
		content := picture(t, 40+i, 30)
		if file == "words.jpg" {
			content = []byte("no picture")
		}
		_, _ = part.Write(content)
	}
	_ = m.Close()
	cookie := map[string]string{"Cookie": "session=" + s.tokens[archive.Crew]}
	g := s.send(sent{method: "POST", path: s.fill.Replace("/visits/{visit}/photos"), body: b.Bytes(), kind: m.FormDataContentType(), header: cookie})
	for _, words := range []string{"Not taken: box.jpg (", "a picture of that name is kept with this visit", "words.jpg (", "Kept: lid.jpg."} {
		if g.status != 409 || !strings.Contains(string(g.body), words) {
			t.Errorf("status %d, and it does not say %q: %s", g.status, words, g.body)
		}
	}
	if page := string(s.browse("crew", "GET", s.fill.Replace("/visits/{visit}"), nil).body); !strings.Contains(page, "thumbnails/photos/lid.jpg") {
		t.Errorf("the one that could be taken is not there: %s", page)
	}
	// The same form with another file in it is another request.
	if g := s.browseFiles("crew", s.fill.Replace("/visits/{visit}/photos"), map[string]string{"key": "three"}, "photo", "box-2.jpg", picture(t, 40, 30)); g.status != 303 {
		t.Errorf("sent again under another name: status %d: %s", g.status, g.body)
	}
	api := sent{method: "PUT", path: s.fill.Replace("/api/v1/visits/{visit}/photos/photos/lid.jpg"), body: picture(t, 9, 9), kind: "image/jpeg", token: s.tokens[archive.Crew]}
	s.send(api).problem(t, 409)
	if g := s.browse("crew", "POST", s.fill.Replace("/visits/{visit}/photos/remove"), url.Values{"key": {"r"}, "name": {"photos/lid.jpg"}}); g.status != 303 {
		t.Errorf("removed: status %d", g.status)
	}
	history := string(s.browse("read-only", "GET", s.fill.Replace("/sites/{site}/history"), nil).body)
	link := regexp.MustCompile(`"(/visits/[^"]*/photos-at/[^"]*)">The picture<`).FindStringSubmatch(history)
	if link == nil {
		t.Fatalf("the history links no picture: %s", history)
	}
	if g := s.browse("read-only", "GET", link[1], nil); g.status != 200 || g.header.Get("Content-Type") != "image/jpeg" {
		t.Errorf("the picture that was taken away: status %d, %s", g.status, g.header.Get("Content-Type"))
	}
}

func TestALinkIsShownOnceAndOpensOneSite(t *testing.T) {
	s := stocked(t)
	at := s.fill.Replace("/sites/{site}/shares")
	g := s.browse("office", "POST", at, url.Values{"key": {"k"}, "label": {"the seller"}, "days": {"7"}})
	link := regexp.MustCompile(`value="http://[^"/]+(/s/[^"]+)"`).FindStringSubmatch(string(g.body))
	if g.status != 200 || link == nil {
		t.Fatalf("status %d: %s", g.status, g.body)
	}
	if again := s.browse("office", "GET", at, nil); strings.Contains(string(again.body), link[1]) || !strings.Contains(string(again.body), "the seller") {
		t.Error("the link is shown again, or not listed")
	}
	if opened := s.browse("anyone", "GET", link[1], nil); opened.status != 303 || opened.header.Get("Location") != s.fill.Replace("/sites/{site}") || !strings.Contains(opened.header.Get("Set-Cookie"), "HttpOnly") {
		t.Errorf("opened: status %d, to %s, %s", opened.status, opened.header.Get("Location"), opened.header.Get("Set-Cookie"))
	}
	if wrong := s.browse("anyone", "GET", "/s/nothing", nil); wrong.status != 404 || !strings.Contains(string(wrong.body), "This link opens nothing") {
		t.Errorf("a wrong link: status %d", wrong.status)
	}
	for days, words := range map[string]string{"0": "days that the link lasts", "many": "days that the link lasts"} {
		if g := s.browse("office", "POST", at, url.Values{"label": {"x"}, "days": {days}}); g.status < 400 || !strings.Contains(string(g.body), words) || !strings.Contains(string(g.body), `href="#days"`) {
			t.Errorf("%s days: status %d: %s", days, g.status, g.body)
		}
	}
	id := regexp.MustCompile(`/shares/([a-z0-9]{26})/revoke`).FindStringSubmatch(string(g.body))[1]
	if g := s.browse("office", "POST", "/shares/"+id+"/revoke", url.Values{"key": {"v"}, "site": {s.fill.Replace("{site}")}}); g.status != 303 {
		t.Errorf("revoked: status %d: %s", g.status, g.body)
	}
}

func TestSitesAndVisitsAreRemovedAndRecovered(t *testing.T) {
	s := stocked(t)
	for _, what := range []string{"/visits/{visit}", "/sites/{site}"} {
		path := s.fill.Replace(what)
		page := string(s.browse("crew", "GET", path, nil).body)
		form := regexp.MustCompile(regexp.QuoteMeta(path) + `/remove"><input type="hidden" name="key" value="([^"]+)"><input type="hidden" name="revision" value="(\d+)"`).FindStringSubmatch(page)
		if form == nil {
			t.Fatalf("%s cannot be removed: %s", what, page)
		}
		if g := s.browse("crew", "POST", path+"/remove", url.Values{"key": {form[1]}, "revision": {form[2]}}); g.status != 303 {
			t.Fatalf("%s removed: status %d: %s", what, g.status, g.body)
		}
		if g := s.browse("visitor", "GET", path, nil); g.status != 404 && g.status != 303 {
			t.Errorf("%s removed, for a visitor: status %d", what, g.status)
		}
		if page := string(s.browse("crew", "GET", path, nil).body); !strings.Contains(page, path+"/recover") {
			t.Errorf("%s cannot be recovered: %s", what, page)
		}
		if g := s.browse("crew", "POST", path+"/recover", url.Values{"key": {what}}); g.status != 303 {
			t.Errorf("%s recovered: status %d: %s", what, g.status, g.body)
		}
	}
}

func TestPeopleAreLetInAndChanged(t *testing.T) {
	s := stocked(t)
	short := url.Values{"key": {"a"}, "login": {"newcrew"}, "name": {"N. Crew"}, "role": {"crew"}, "password": {"short"}}
	if g := s.browse("owner", "POST", "/people", short); g.status != 422 || !strings.Contains(string(g.body), `href="#password"`) || !strings.Contains(string(g.body), `value="newcrew"`) || strings.Contains(string(g.body), `value="short"`) {
		t.Errorf("a short password: status %d: %s", g.status, g.body)
	}
	short.Set("password", password)
	if g := s.browse("owner", "POST", "/people", short); g.status != 303 {
		t.Errorf("let in: status %d: %s", g.status, g.body)
	}
	id := s.fill.Replace("{account}")
	if g := s.browse("owner", "POST", "/people/"+id, url.Values{"name": {"A. F."}, "role": {"office"}, "disabled": {"true"}}); g.status != 303 {
		t.Errorf("changed: status %d: %s", g.status, g.body)
	}
	if page := string(s.browse("owner", "GET", "/people", nil).body); !strings.Contains(page, "A. F.") || !strings.Contains(page, "<strong>disabled</strong>") {
		t.Error("the list does not tell of the change")
	}
	if g := s.browse("owner", "POST", "/people/"+id+"/password", url.Values{"password": {"another four words here"}}); g.status != 303 {
		t.Errorf("another's password: status %d: %s", g.status, g.body)
	}
	if g := s.browse("crew", "POST", "/account", url.Values{"old": {"wrong"}, "password": {"another four words here"}}); g.status < 400 || !strings.Contains(string(g.body), `href="#`) {
		t.Errorf("a wrong old password: status %d: %s", g.status, g.body)
	}
	if g := s.browse("crew", "POST", "/account", url.Values{"old": {password}, "password": {"another four words here"}}); g.status != 303 {
		t.Errorf("one's own password: status %d: %s", g.status, g.body)
	}
	if page := string(s.browse("office", "GET", "/audit", nil).body); !strings.Contains(page, "invited") {
		t.Errorf("the audit list does not tell of it: %s", page)
	}
}

func TestSignInByAForm(t *testing.T) {
	s := stocked(t)
	wrong := s.browse("anyone", "POST", "/sign-in", url.Values{"login": {"crew"}, "password": {"not the password"}, "to": {"/due"}})
	if wrong.status != 401 || !strings.Contains(string(wrong.body), `value="crew"`) || wrong.header.Get("WWW-Authenticate") != "" {
		t.Errorf("a wrong password: status %d: %s", wrong.status, wrong.body)
	}
	for to, want := range map[string]string{"/due": "/due", "https://elsewhere.example/": "/", "//elsewhere.example": "/", "/\\elsewhere": "/", "": "/"} {
		g := s.browse("anyone", "POST", "/sign-in", url.Values{"login": {"crew"}, "password": {password}, "to": {to}})
		if g.status != 303 || g.header.Get("Location") != want {
			t.Errorf("to %q: status %d, to %q", to, g.status, g.header.Get("Location"))
		}
	}
	other := sent{method: "POST", path: "/sign-in", body: "login=crew", kind: "application/x-www-form-urlencoded", header: map[string]string{"Sec-Fetch-Site": "cross-site"}}
	if g := s.send(other); g.status != 403 || !strings.HasPrefix(g.header.Get("Content-Type"), "text/html") {
		t.Errorf("a form of another site: status %d, %s", g.status, g.header.Get("Content-Type"))
	}
}

func TestTheFirstAccountIsMadeAtTheServerOrWithItsCode(t *testing.T) {
	for _, c := range []struct {
		name, host, forwarded, code, typed string
		proxied                            bool
		status                             int
	}{
		{"at the server", "", "", "", "", false, 303},
		{"through another name", "archive.example", "", "", "", false, 403},
		{"through something between", "", "192.0.2.7", "", "", false, 403},
		{"with the code", "archive.example", "", "wheat-cart-nine-lamp", "wheat-cart-nine-lamp", false, 303},
		{"with another code", "archive.example", "", "wheat-cart-nine-lamp", "wheat-cart", false, 403},
		{"through a proxy that says nothing of itself", "localhost", "", "wheat-cart-nine-lamp", "", true, 403},
		{"through a proxy where there is no code", "localhost", "", "", "", true, 403},
		{"through a proxy with the code", "localhost", "", "wheat-cart-nine-lamp", "wheat-cart-nine-lamp", true, 303},
	} {
		h := bare(t, func(s *web.Settings) { s.FirstCode, s.Proxied = c.code, c.proxied })
		form := url.Values{"login": {"first"}, "name": {"F. Irst"}, "password": {password}, "code": {c.typed}}
		r := h.request(sent{method: "POST", path: "/first", body: form.Encode(), kind: "application/x-www-form-urlencoded"})
		if c.host != "" {
			r.Host = c.host
		}
		if c.forwarded != "" {
			r.Header.Set("X-Forwarded-For", c.forwarded)
		}
		client := *h.at.Client()
		client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
		answer, err := client.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		answer.Body.Close()
		if answer.StatusCode != c.status {
			t.Errorf("%s: status %d, want %d", c.name, answer.StatusCode, c.status)
		}
		list, err := h.desk.Accounts(context.Background(), archive.Program())
		if made := len(list) == 1; err != nil || made != (c.status == 303) {
			t.Errorf("%s: %d accounts, %v", c.name, len(list), err)
		}
	}
}

// bare builds a house that nobody has moved into.
func bare(tb testing.TB, change func(*web.Settings)) *house {
	tb.Helper()
	var desk *people.Desk
	h := build(tb, func(s *web.Settings) {
		var err error
		desk, err = people.New(people.Settings{Store: memory.New(), Now: s.Now, Random: random, Cost: people.Cost{Memory: 64, Passes: 1, Threads: 1}})
		if err != nil {
			tb.Fatal(err)
		}
		s.People = desk
		change(s)
	})
	h.desk = desk
	return h
}

// keep stores one of the examples as a visit.
func (s stock) keep(t *testing.T, query, file string) map[string]any {
	t.Helper()
	job, err := os.ReadFile(filepath.Join("..", "..", "examples", file))
	if err != nil {
		t.Fatal(err)
	}
	return s.send(sent{method: "POST", path: "/api/v1/visits" + query, body: job, kind: "application/yaml", token: s.tokens[archive.Crew]}).want(t, 201)
}

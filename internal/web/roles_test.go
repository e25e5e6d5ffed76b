package web_test

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"slices"
	"strings"
	"testing"

	"undersod/examples"
	"undersod/internal/archive"
	"undersod/internal/web"
)

// may says who may ask for what, apart from the table that the server is made
// of, so that a slip there is seen here. Each set holds those before it.
var may = map[string]string{
	"GET /api/v1/health":       "anyone",
	"GET /api/v1/openapi.json": "anyone",
	"POST /api/v1/session":     "anyone",
	"DELETE /api/v1/session":   "anyone",
	"GET /api/v1/session":      "visitor",

	"GET /api/v1/sites":                 "read-only",
	"GET /api/v1/due":                   "read-only",
	"GET /api/v1/sites/{site}":          "visitor",
	"GET /api/v1/sites/{site}/changes":  "read-only",
	"DELETE /api/v1/sites/{site}":       "crew",
	"POST /api/v1/sites/{site}/recover": "crew",

	"POST /api/v1/visits":                      "crew",
	"GET /api/v1/visits/{visit}":               "visitor",
	"DELETE /api/v1/visits/{visit}":            "crew",
	"POST /api/v1/visits/{visit}/recover":      "crew",
	"GET /api/v1/visits/{visit}/job":           "visitor",
	"PUT /api/v1/visits/{visit}/job":           "crew",
	"GET /api/v1/visits/{visit}/job/{content}": "read-only",

	"GET /api/v1/visits/{visit}/photos/{name...}":     "visitor",
	"GET /api/v1/visits/{visit}/thumbnails/{name...}": "visitor",
	"PUT /api/v1/visits/{visit}/photos/{name...}":     "crew",
	"DELETE /api/v1/visits/{visit}/photos/{name...}":  "crew",
	"GET /api/v1/visits/{visit}/photos-at/{content}":  "read-only",

	"GET /api/v1/visits/{visit}/check":        "visitor",
	"GET /api/v1/visits/{visit}/report":       "visitor",
	"GET /api/v1/visits/{visit}/split":        "visitor",
	"GET /api/v1/visits/{visit}/setbacks":     "visitor",
	"GET /api/v1/visits/{visit}/checklist":    "visitor",
	"GET /api/v1/visits/{visit}/fit":          "visitor",
	"POST /api/v1/visits/{visit}/fit":         "visitor",
	"GET /api/v1/visits/{visit}/cards":        "visitor",
	"GET /api/v1/visits/{visit}/card":         "visitor",
	"GET /api/v1/visits/{visit}/card.pdf":     "visitor",
	"GET /api/v1/visits/{visit}/card.svg":     "visitor",
	"GET /api/v1/visits/{visit}/card.png":     "visitor",
	"GET /api/v1/visits/{visit}/report.pdf":   "visitor",
	"GET /api/v1/visits/{visit}/county.pdf":   "visitor",
	"GET /api/v1/visits/{visit}/calendar.ics": "visitor",
	"GET /api/v1/visits/{visit}/drawing.pdf":  "visitor",
	"GET /api/v1/visits/{visit}/drawing.svg":  "visitor",
	"GET /api/v1/visits/{visit}/drawing.png":  "visitor",
	"GET /api/v1/visits/{visit}/drawing.dxf":  "visitor",

	"GET /api/v1/visits/{visit}/compare":      "visitor",
	"GET /api/v1/visits/{visit}/compare.pdf":  "visitor",
	"GET /api/v1/visits/{visit}/compare.svg":  "visitor",
	"GET /api/v1/visits/{visit}/plan.geojson": "visitor",
	"GET /api/v1/sites/{site}/bundle.zip":     "read-only",
	"POST /api/v1/bundles":                    "office",

	"GET /api/v1/accounts":                    "owner",
	"POST /api/v1/accounts":                   "owner",
	"PUT /api/v1/accounts/{account}":          "owner",
	"PUT /api/v1/accounts/{account}/password": "read-only",
	"GET /api/v1/shares":                      "office",
	"POST /api/v1/sites/{site}/shares":        "office",
	"DELETE /api/v1/shares/{share}":           "office",
	"GET /api/v1/events":                      "office",
}

// ladder is everyone, from most to least.
var ladder = []string{"owner", "office", "crew", "read-only", "visitor", "anyone"}

func TestEveryRowSaysWhoMayAskAsListedHere(t *testing.T) {
	h := build(t)
	seen := map[string]bool{}
	for _, row := range h.server.Rows() {
		name := row.Method + " " + row.Pattern
		seen[name] = true
		if !strings.HasPrefix(row.Pattern, "/api/") {
			if !row.Page {
				t.Errorf("%s is neither a page nor of the interface", name)
			}
			continue
		}
		least, listed := may[name]
		if !listed {
			t.Errorf("%s is not listed", name)
			continue
		}
		if want := ladder[:slices.Index(ladder, least)+1]; !slices.Equal(row.Roles, want) {
			t.Errorf("%s: %v may ask, want %v", name, row.Roles, want)
		}
		if row.Does == "" {
			t.Errorf("%s does not say what it does", name)
		}
	}
	for name := range may {
		if !seen[name] {
			t.Errorf("%s is listed and not there", name)
		}
	}
}

// stock is a house with something in it, and how to fill the patterns.
type stock struct {
	*house
	link string // of a visitor to the site
	fill *strings.Replacer
}

// stocked builds a house with the demo, a photo and a link.
func stocked(t testing.TB) stock {
	t.Helper()
	h := build(t)
	site, visit := h.saved()
	h.send(sent{method: "PUT", path: "/api/v1/visits/" + visit + "/photos/photos/box.jpg", body: picture(t, 60, 40), kind: "image/jpeg", token: h.tokens[archive.Crew]}).want(t, 200)
	link := h.send(sent{method: "POST", path: "/api/v1/sites/" + site + "/shares", token: h.tokens[archive.Office],
		body: map[string]any{"label": "county office", "days": 30}}).want(t, 201)
	account, err := h.desk.Invite(context.Background(), archive.Write{By: archive.Program()}, "another", "A. Fernleaf", archive.Crew, password)
	if err != nil {
		t.Fatal(err)
	}
	content := string(archive.HashOf(examples.Demo()))
	kept := h.send(sent{method: "GET", path: "/api/v1/visits/" + visit + "/photos/photos/box.jpg", token: h.tokens[archive.Crew]})
	return stock{h, link["token"].(string), strings.NewReplacer("{site}", site, "{visit}", visit, "{name...}", "photos/box.jpg",
		"photos-at/{content}", "photos-at/"+string(archive.HashOf(kept.body)), "{content}", content, "{share}", link["id"].(string), "{account}", string(account.ID))}
}

// picture makes a JPEG.
func picture(t testing.TB, w, h int) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for x := range w {
		for y := range h {
			m.Set(x, y, color.RGBA{uint8(x * 4), uint8(y * 6), 90, 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// token is what someone of the ladder sends.
func (s stock) token(who string) string {
	switch who {
	case "visitor":
		return s.link
	case "anyone":
		return ""
	}
	return s.tokens[archive.Role(who)]
}

// fitting makes a request that a row takes.
func (s stock) fitting(row web.Row, who string) sent {
	out := sent{method: row.Method, path: s.fill.Replace(row.Pattern), token: s.token(who), header: map[string]string{}}
	if strings.Contains(row.Pattern, "/password") && who != "owner" {
		out.path = "/api/v1/accounts/" + s.own(who) + "/password"
	}
	if strings.Contains(row.Pattern, "/card") && !strings.HasSuffix(row.Pattern, "/cards") {
		out.path += "?part=D-box"
	}
	if strings.Contains(row.Pattern, "/compare") {
		out.path += "?before=" + s.fill.Replace("{visit}")
	}
	if row.Method == "DELETE" || strings.HasSuffix(row.Pattern, "/job") && row.Method == "PUT" {
		out.header["If-Match"] = `"2"`
	}
	if len(row.Types) == 0 {
		return out
	}
	out.kind = row.Types[0]
	switch {
	case row.Pattern == "/api/v1/session":
		out.body = map[string]any{"login": "crew", "password": password}
	case out.kind == "application/zip":
		out.body = "PK\x05\x06" + strings.Repeat("\x00", 18) // a zip that holds nothing
	case strings.Contains(row.Pattern, "/photos/"):
		out.body = picture(s.tb, 60, 40) // that which is there: another is not taken in its place
	case out.kind == "application/yaml":
		out.body = append([]byte("# again\n"), examples.Demo()...)
	case strings.HasSuffix(row.Pattern, "/fit"):
		out.body = `{"Shed": {"kind": "structure", "size": "10' x 8'"}}`
	default:
		out.body = "{}"
	}
	return out
}

// own is the account of a role.
func (s stock) own(who string) string {
	s.tb.Helper()
	if who == "visitor" || who == "anyone" {
		return strings.Repeat("a", 26)
	}
	out := s.send(sent{method: "GET", path: "/api/v1/session", token: s.token(who)}).want(s.tb, 200)
	return out["account"].(map[string]any)["id"].(string)
}

func TestEveryRowForEveryRoleAVisitorAndNobody(t *testing.T) {
	closed := stocked(t)
	for _, row := range closed.server.Rows() {
		if row.Page {
			continue
		}
		for _, who := range ladder {
			name := row.Method + " " + row.Pattern + " for " + who
			if !slices.Contains(row.Roles, who) {
				want := 403
				if who == "anyone" {
					want = 401
				}
				if g := closed.send(closed.fitting(row, who)); g.status != want || g.header.Get("Content-Type") != "application/problem+json" {
					t.Errorf("%s: status %d, want %d: %s", name, g.status, want, g.body)
				}
				continue
			}
			open := stocked(t)
			if g := open.send(open.fitting(row, who)); g.status == 401 || g.status == 403 || g.status == 405 || g.status >= 500 {
				t.Errorf("%s: status %d: %s", name, g.status, g.body)
			}
			open.at.Close()
		}
	}
	before := closed.send(sent{method: "GET", path: closed.fill.Replace("/api/v1/sites/{site}/changes"), token: closed.tokens[archive.Owner]}).want(t, 200)
	if n := len(before["changes"].([]any)); n != 2 {
		t.Errorf("%d changes were made by those who may not", n-2)
	}
}

func TestAVisitorSeesNothingOfAnotherSite(t *testing.T) {
	s := stocked(t)
	out := s.send(sent{method: "POST", path: "/api/v1/visits", body: append([]byte("# another\n"), examples.Demo()...), kind: "application/yaml", token: s.tokens[archive.Crew]}).want(t, 201)
	s.fill = strings.NewReplacer("{site}", out["site"].(string), "{visit}", out["visit"].(string), "{name...}", "photos/box.jpg")
	seen := 0
	for _, row := range s.server.Rows() {
		if row.Page || !slices.Contains(row.Roles, "visitor") || slices.Contains(row.Roles, "anyone") || !strings.Contains(row.Pattern, "{") {
			continue
		}
		seen++
		if g := s.send(s.fitting(row, "visitor")); g.status != 404 {
			t.Errorf("%s %s: status %d: %s", row.Method, row.Pattern, g.status, g.body)
		}
	}
	if seen == 0 {
		t.Error("no row was tried")
	}
}

func TestARevokedLinkAndADisabledAccountOpenNothing(t *testing.T) {
	s := stocked(t)
	path := s.fill.Replace("/api/v1/sites/{site}")
	s.send(sent{method: "GET", path: path, token: s.link}).want(t, 200)
	s.send(sent{method: "DELETE", path: s.fill.Replace("/api/v1/shares/{share}"), token: s.tokens[archive.Office]}).want(t, 204)
	s.send(sent{method: "GET", path: path, token: s.link}).want(t, 401)

	who := s.send(sent{method: "GET", path: "/api/v1/session", token: s.tokens[archive.Crew]}).want(t, 200)["account"].(map[string]any)
	s.send(sent{method: "PUT", path: "/api/v1/accounts/" + who["id"].(string), token: s.tokens[archive.Owner],
		body: map[string]any{"name": who["name"], "role": "crew", "disabled": true}}).want(t, 200)
	s.send(sent{method: "GET", path: path, token: s.tokens[archive.Crew]}).want(t, 401)
}

func TestWhatHasNoRowIsNotThere(t *testing.T) {
	h := build(t)
	for _, path := range []string{"/api", "/api/v1", "/api/v1/", "/api/v2/sites", "/api/v1/sites/x/y/z", "/debug/pprof/", "/.git/config", "/api/v1/visits/../../../etc/passwd"} {
		g := h.send(sent{method: "GET", path: path, token: h.tokens[archive.Owner]})
		if g.status != 404 {
			t.Errorf("%s: status %d", path, g.status)
		}
	}
	g := h.send(sent{method: "PATCH", path: "/api/v1/sites", token: h.tokens[archive.Owner]})
	if g.want(t, 405); !strings.Contains(g.header.Get("Allow"), "GET") {
		t.Errorf("Allow is %q", g.header.Get("Allow"))
	}
}

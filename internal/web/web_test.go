package web_test

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/rand"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"undersod/examples"
	"undersod/internal/answer"
	"undersod/internal/archive"
	"undersod/internal/archive/fields"
	"undersod/internal/archive/memory"
	"undersod/internal/people"
	"undersod/internal/web"
)

// house is a server over an archive in memory, with one account of each role.
type house struct {
	tb     testing.TB
	server *web.Server
	at     *httptest.Server
	blobs  *memory.Blobs
	desk   *people.Desk
	log    *logged
	now    time.Time
	tokens map[archive.Role]string
}

// logged is a log that many write in.
type logged struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *logged) Write(b []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(b)
}

func (l *logged) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// computed is one desk for all houses, as the same job gives the same answers.
var computed = sync.OnceValue(answer.New)

// carrier stands for what carries sites in and out.
type carrier struct{}

func (carrier) Export(_ context.Context, _ archive.Actor, _ archive.ID, w io.Writer) error {
	return zip.NewWriter(w).Close()
}

func (carrier) Import(_ context.Context, _ archive.Write, bundle io.ReaderAt, size int64) (web.Imported, error) {
	if _, err := zip.NewReader(bundle, size); err != nil {
		return web.Imported{}, fmt.Errorf("no zip: %w", archive.ErrRefused)
	}
	return web.Imported{Site: archive.NewID(random)}, nil
}

const password = "four words that rhyme not"

func random(b []byte) { _, _ = rand.Read(b) }

// build makes a house; change may alter its settings.
func build(tb testing.TB, change ...func(*web.Settings)) *house {
	tb.Helper()
	h := &house{tb: tb, blobs: &memory.Blobs{}, log: &logged{}, now: time.Now(), tokens: map[archive.Role]string{}}
	clock := func() time.Time { return h.now }
	store, answers := memory.New(), computed()
	keeper := &archive.Keeper{Store: store, Blobs: h.blobs, Now: clock, Read: answers.Heading, Compare: fields.Compare, Rewrite: answers.Rewrite, Random: random}
	var err error
	if h.desk, err = people.New(people.Settings{Store: store, Now: clock, Random: random, Cost: people.Cost{Memory: 64, Passes: 1, Threads: 1}}); err != nil {
		tb.Fatal(err)
	}
	s := web.Settings{Records: keeper, People: h.desk, Answers: answers, Carrier: carrier{}, Now: clock, Random: random,
		Ready: func(context.Context) error { return nil }, Log: slog.New(slog.NewJSONHandler(h.log, nil))}
	for _, f := range change {
		f(&s)
	}
	if h.server, err = web.New(s); err != nil {
		tb.Fatal(err)
	}
	h.at = httptest.NewServer(h.server)
	tb.Cleanup(h.at.Close)
	h.populate()
	return h
}

// populate makes an account of each role and signs it in.
func (h *house) populate() {
	h.tb.Helper()
	ctx := context.Background()
	if _, err := h.desk.First(ctx, "owner", "The Owner", password); err != nil {
		h.tb.Fatal(err)
	}
	for _, role := range archive.Roles() {
		login := string(role)
		if role != archive.Owner {
			if _, err := h.desk.Invite(ctx, archive.Write{By: archive.Program()}, login, "R. Dunmoor", role, password); err != nil {
				h.tb.Fatal(err)
			}
		}
		token, _, err := h.desk.SignIn(ctx, login, password, "test", "")
		if err != nil {
			h.tb.Fatal(err)
		}
		h.tokens[role] = token
	}
}

// sent is a request.
type sent struct {
	method, path string
	body         any // bytes, a string, a reader or what becomes JSON; nil for none
	kind         string
	token        string
	header       map[string]string
}

// got is an answer.
type got struct {
	status int
	header http.Header
	body   []byte
}

func (h *house) send(s sent) got {
	h.tb.Helper()
	return h.sendBy(h.at.Client(), s)
}

func (h *house) sendBy(c *http.Client, s sent) got {
	h.tb.Helper()
	r := h.request(s)
	answer, err := c.Do(r)
	if err != nil {
		h.tb.Fatalf("%s %s: %v", s.method, s.path, err)
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil {
		h.tb.Fatal(err)
	}
	return got{answer.StatusCode, answer.Header, body}
}

func (h *house) request(s sent) *http.Request {
	h.tb.Helper()
	var body io.Reader
	kind := s.kind
	switch b := s.body.(type) {
	case nil:
	case []byte:
		body = bytes.NewReader(b)
	case string:
		body = strings.NewReader(b)
	case io.Reader:
		body = b
	default:
		text, err := json.Marshal(b)
		if err != nil {
			h.tb.Fatal(err)
		}
		body, kind = bytes.NewReader(text), "application/json"
	}
	r, err := http.NewRequest(s.method, h.at.URL+s.path, body)
	if err != nil {
		h.tb.Fatal(err)
	}
	if kind != "" {
		r.Header.Set("Content-Type", kind)
	}
	if s.token != "" {
		r.Header.Set("Authorization", "Bearer "+s.token)
	}
	for name, v := range s.header {
		r.Header.Set(name, v)
	}
	return r
}

// want checks the status and reads the answer as JSON, where there is some.
func (g got) want(tb testing.TB, status int) map[string]any {
	tb.Helper()
	if g.status != status {
		tb.Fatalf("status %d, want %d: %s", g.status, status, g.body)
	}
	var out map[string]any
	if strings.Contains(g.header.Get("Content-Type"), "json") {
		if err := json.Unmarshal(g.body, &out); err != nil {
			tb.Fatalf("%v in %s", err, g.body)
		}
	}
	return out
}

// saved stores the demo as a visit and returns its site and its visit.
func (h *house) saved() (site, visit string) {
	h.tb.Helper()
	out := h.send(sent{method: "POST", path: "/api/v1/visits", body: examples.Demo(), kind: "application/yaml", token: h.tokens[archive.Crew]}).want(h.tb, 201)
	return out["site"].(string), out["visit"].(string)
}

func TestHealthIsToldToAnybody(t *testing.T) {
	h := build(t)
	if out := h.send(sent{method: "GET", path: "/api/v1/health"}).want(t, 200); out["status"] != "ready" {
		t.Errorf("got %v", out)
	}
}

func TestSignInByCookieAndOut(t *testing.T) {
	h := build(t)
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	c := &http.Client{Jar: jar}
	h.sendBy(c, sent{method: "GET", path: "/api/v1/session"}).want(t, 401)
	g := h.sendBy(c, sent{method: "POST", path: "/api/v1/session", body: map[string]any{"login": "Office", "password": password}})
	if out := g.want(t, 200); out["token"] != nil {
		t.Error("the token is in the answer though nobody asked for it")
	}
	cookie := g.header.Get("Set-Cookie")
	for _, part := range []string{"session=", "HttpOnly", "SameSite=Lax", "Path=/"} {
		if !strings.Contains(cookie, part) {
			t.Errorf("the cookie %q lacks %s", cookie, part)
		}
	}
	who := h.sendBy(c, sent{method: "GET", path: "/api/v1/session"}).want(t, 200)
	if who["account"].(map[string]any)["role"] != "office" {
		t.Errorf("got %v", who)
	}
	h.sendBy(c, sent{method: "DELETE", path: "/api/v1/session"}).want(t, 204)
	h.sendBy(c, sent{method: "GET", path: "/api/v1/session"}).want(t, 401)
}

func TestCookieByTLSIsOfThisHostAlone(t *testing.T) {
	h := build(t, func(s *web.Settings) { s.Secure = true })
	g := h.send(sent{method: "POST", path: "/api/v1/session", body: map[string]any{"login": "office", "password": password}})
	cookie := g.header.Get("Set-Cookie")
	if !strings.HasPrefix(cookie, "__Host-session=") || !strings.Contains(cookie, "Secure") {
		t.Errorf("the cookie is %q", cookie)
	}
	if g.header.Get("Strict-Transport-Security") == "" {
		t.Error("nothing holds the browser to TLS")
	}
}

func TestWrongLoginAndWrongPasswordAreToldAlike(t *testing.T) {
	h := build(t)
	try := func(login string) string {
		out := h.send(sent{method: "POST", path: "/api/v1/session", body: map[string]any{"login": login, "password": "not the password"}}).want(t, 401)
		delete(out, "request")
		return fmt.Sprint(out)
	}
	if a, b := try("owner"), try("nobody"); a != b {
		t.Errorf("%s\nand\n%s", a, b)
	}
}

func TestTooManyWrongTriesAreToldToWait(t *testing.T) {
	h := build(t)
	for range 10 {
		g := h.send(sent{method: "POST", path: "/api/v1/session", body: map[string]any{"login": "owner", "password": "not the password"}})
		if g.status == http.StatusTooManyRequests {
			if g.header.Get("Retry-After") == "" {
				t.Error("nothing says how long to wait")
			}
			return
		}
	}
	t.Error("ten wrong tries were let through")
}

// TestBehindAProxyTriesCountOnWhoAsksIt holds that a stranger locks out nobody
// but oneself, and cannot slip away by writing in the header what they like.
func TestBehindAProxyTriesCountOnWhoAsksIt(t *testing.T) {
	sign := func(h *house, from, login, word string) int {
		s := sent{method: "POST", path: "/api/v1/session", body: map[string]any{"login": login, "password": word}}
		if from != "" {
			s.header = map[string]string{"X-Forwarded-For": from}
		}
		return h.send(s).status
	}
	// RFC 5737 and RFC 3849: addresses for documents.
	for _, c := range []struct {
		name           string
		proxied        bool
		stranger, crew string
		shared         bool
	}{
		{"two that the proxy tells apart", true, "192.0.2.7", "198.51.100.4", false},
		{"a stranger who writes another's address first", true, "198.51.100.4, 192.0.2.7", "198.51.100.4", false},
		{"addresses of IPv6, one with its port", true, "[2001:db8:0:1::7]:4711", "2001:db8:0:2::4", false},
		{"a stranger who writes what they like", true, "203.0.113.%d, 192.0.2.7", "192.0.2.7", true},
		{"a proxy that adds no address", true, "", "", true},
		{"a proxy that adds what is none", true, "unknown-%d", "unknown", true},
		{"no proxy, so that the header is the stranger's own", false, "192.0.2.%d", "198.51.100.4", true},
	} {
		h := build(t, func(s *web.Settings) { s.Proxied = c.proxied })
		for i := range 60 {
			from := c.stranger
			if strings.Contains(from, "%d") {
				from = fmt.Sprintf(from, i)
			}
			sign(h, from, fmt.Sprintf("nobody%d", i), "not the password")
		}
		want := http.StatusOK
		if c.shared {
			want = http.StatusTooManyRequests
		}
		if got := sign(h, c.crew, "crew", password); got != want {
			t.Errorf("%s: the crew signs in with status %d, want %d", c.name, got, want)
		}
	}
}

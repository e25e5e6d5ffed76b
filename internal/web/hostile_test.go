package web_test

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io"
	"math/rand/v2"
	"net"
	"net/http"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"undersod/examples"
	"undersod/internal/archive"
)

// counting gives zeros and counts how many were taken.
type counting struct {
	left  int
	taken atomic.Int64
}

func (c *counting) Read(b []byte) (int, error) {
	if c.left <= 0 {
		return 0, io.EOF
	}
	n := min(len(b), c.left)
	c.left -= n
	c.taken.Add(int64(n))
	return n, nil
}

// problemOf checks that a problem says what happened and what to do.
func (g got) problem(t *testing.T, status int) map[string]any {
	t.Helper()
	out := g.want(t, status)
	if g.header.Get("Content-Type") != "application/problem+json" {
		t.Errorf("the problem is %s", g.header.Get("Content-Type"))
	}
	for _, key := range []string{"type", "title", "detail", "do", "request"} {
		if out[key] == nil || out[key] == "" {
			t.Errorf("the problem has no %s: %v", key, out)
		}
	}
	return out
}

func TestBodiesOf50MegabytesAreNotRead(t *testing.T) {
	h := build(t)
	_, visit := h.saved()
	for name, c := range map[string]struct {
		s     sent
		least int
	}{
		"job":      {sent{method: "POST", path: "/api/v1/visits", kind: "application/yaml", token: h.tokens[archive.Crew]}, 4 << 20},
		"photo":    {sent{method: "PUT", path: "/api/v1/visits/" + visit + "/photos/a.jpg", kind: "image/jpeg", token: h.tokens[archive.Crew]}, 40 << 20},
		"words":    {sent{method: "POST", path: "/api/v1/session", kind: "application/json"}, 64 << 10},
		"proposal": {sent{method: "POST", path: "/api/v1/visits/" + visit + "/fit", kind: "application/json", token: h.tokens[archive.Crew]}, 64 << 10},
		"nobody":   {sent{method: "POST", path: "/api/v1/visits", kind: "application/yaml"}, 0},
		"no row":   {sent{method: "POST", path: "/upload", kind: "application/yaml"}, 0},
		"nothing":  {sent{method: "DELETE", path: "/api/v1/visits/" + visit, token: h.tokens[archive.Crew]}, 0},
	} {
		for _, stated := range []bool{true, false} {
			body := &counting{left: 50 << 20}
			s := c.s
			s.body = io.Reader(body)
			r := h.request(s)
			if stated {
				r.ContentLength = 50 << 20
			}
			answer, err := h.at.Client().Do(r)
			if err == nil { // the server may close the line before all is sent
				if answer.StatusCode < 400 {
					t.Errorf("%s: status %d", name, answer.StatusCode)
				}
				answer.Body.Close()
			}
			if most := int64(c.least) + 8<<20; body.taken.Load() > most { // what stands in buffers on the way counts too
				t.Errorf("%s, length stated %v: %d bytes were taken", name, stated, body.taken.Load())
			}
		}
	}
}

func TestTooMuchIsToldInWords(t *testing.T) {
	h := build(t)
	job := append(bytes.Repeat([]byte("# filler\n"), 500_000), examples.Demo()...)
	out := h.send(sent{method: "POST", path: "/api/v1/visits", body: job, kind: "application/yaml", token: h.tokens[archive.Crew]}).problem(t, 413)
	if !strings.Contains(out["detail"].(string), "4 MB") {
		t.Errorf("got %v", out["detail"])
	}
}

func TestAWrongContentTypeIsRefused(t *testing.T) {
	h := build(t)
	for _, kind := range []string{"", "text/html", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "application/yaml; charset", "nonsense"} {
		out := h.send(sent{method: "POST", path: "/api/v1/visits", body: examples.Demo(), kind: kind, token: h.tokens[archive.Crew]}).problem(t, 415)
		if !strings.Contains(out["do"].(string), "application/yaml") {
			t.Errorf("%q: it does not say what to send: %v", kind, out["do"])
		}
	}
}

func TestPhotoNamesLeadNowhereElse(t *testing.T) {
	h := build(t)
	_, visit := h.saved()
	for _, name := range []string{"..%2F..%2Fetc%2Fpasswd", "%2Fetc%2Fpasswd", "a%00.jpg", "a%5C..%5Cb.jpg", "C:%5Cb.jpg", ".", "%2e%2e", "a%2F%2Fb.jpg", strings.Repeat("a", 300), "a%0Ab.jpg"} {
		g := h.send(sent{method: "PUT", path: "/api/v1/visits/" + visit + "/photos/" + name, body: picture(t, 9, 9), kind: "image/jpeg", token: h.tokens[archive.Crew]})
		if g.status < 400 {
			t.Errorf("%s: status %d: %s", name, g.status, g.body)
		}
	}
	out := h.send(sent{method: "GET", path: "/api/v1/visits/" + visit, token: h.tokens[archive.Crew]}).want(t, 200)
	if n := len(out["photos"].([]any)); n != 0 {
		t.Errorf("%d photos were taken", n)
	}
}

// bomb is a PNG that says it has very many dots, and is small.
func bomb() []byte {
	var b bytes.Buffer
	b.WriteString("\x89PNG\r\n\x1a\n")
	head := append([]byte("IHDR"), 0, 0, 0xff, 0xff, 0, 0, 0xff, 0xff, 8, 6, 0, 0, 0)
	_ = binary.Write(&b, binary.BigEndian, uint32(len(head)-4))
	b.Write(head)
	_ = binary.Write(&b, binary.BigEndian, crc32.ChecksumIEEE(head))
	return b.Bytes()
}

func TestWhatIsNoPictureIsRefused(t *testing.T) {
	h := build(t)
	_, visit := h.saved()
	whole := picture(t, 200, 200)
	for name, body := range map[string][]byte{
		"a page": []byte("<html><script>alert(1)</script></html>"), "nothing": {}, "a bomb": bomb(), "half of one": whole[:len(whole)/2],
		"a drawing": []byte(`<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>`),
	} {
		g := h.send(sent{method: "PUT", path: "/api/v1/visits/" + visit + "/photos/a.jpg", body: body, kind: "image/jpeg", token: h.tokens[archive.Crew]})
		if g.status != 422 {
			t.Errorf("%s: status %d: %s", name, g.status, g.body)
		}
	}
}

func TestAPhotoIsWrittenAnewWhateverItIsCalled(t *testing.T) {
	h := build(t)
	_, visit := h.saved()
	body := append(picture(t, 60, 40), []byte("HIDDEN WORDS")...)
	path := "/api/v1/visits/" + visit + "/photos/photos/box.jpg"
	h.send(sent{method: "PUT", path: path, body: body, kind: "application/octet-stream", token: h.tokens[archive.Crew]}).want(t, 200)
	g := h.send(sent{method: "GET", path: path, token: h.tokens[archive.ReadOnly]})
	if g.status != 200 || g.header.Get("Content-Type") != "image/jpeg" || bytes.Contains(g.body, []byte("HIDDEN")) {
		t.Errorf("status %d, %s, %d bytes", g.status, g.header.Get("Content-Type"), len(g.body))
	}
	small := h.send(sent{method: "GET", path: "/api/v1/visits/" + visit + "/thumbnails/photos%2Fbox.jpg", token: h.tokens[archive.ReadOnly]})
	if small.status != 200 || len(small.body) == 0 {
		t.Errorf("the thumbnail: status %d", small.status)
	}
}

func TestWritesOfAnotherSiteAreRefused(t *testing.T) {
	h := build(t)
	for _, header := range []map[string]string{{"Sec-Fetch-Site": "cross-site"}, {"Sec-Fetch-Site": "same-site"}, {"Origin": "https://elsewhere.example"}} {
		g := h.send(sent{method: "POST", path: "/api/v1/session", body: map[string]any{"login": "owner", "password": password}, header: header})
		g.problem(t, 403)
		if g.header.Get("Set-Cookie") != "" {
			t.Error("a cookie was set")
		}
	}
	h.send(sent{method: "POST", path: "/api/v1/session", body: map[string]any{"login": "owner", "password": password}, header: map[string]string{"Sec-Fetch-Site": "same-origin"}}).want(t, 200)
}

func TestHugeHeadersAreRefused(t *testing.T) {
	h := build(t)
	for name, header := range map[string]map[string]string{
		"token":  {"Authorization": "Bearer " + strings.Repeat("a", 20<<10)},
		"cookie": {"Cookie": "session=" + strings.Repeat("a", 20<<10)},
		"key":    {"Idempotency-Key": strings.Repeat("a", 20<<10), "Authorization": "Bearer " + h.tokens[archive.Crew]},
		"match":  {"If-Match": strings.Repeat(`"3",`, 5<<10), "Authorization": "Bearer " + h.tokens[archive.Crew]},
	} {
		g := h.send(sent{method: "PUT", path: "/api/v1/visits/" + strings.Repeat("a", 26) + "/job", body: examples.Demo(), kind: "application/yaml", header: header})
		if g.status < 400 || g.status >= 500 {
			t.Errorf("%s: status %d: %s", name, g.status, g.body)
		}
	}
}

func TestAnAnswerBearsTheHeadersThatProtect(t *testing.T) {
	s := stocked(t)
	for _, row := range s.server.Rows() {
		if row.Method != "GET" {
			continue
		}
		for _, who := range []string{"owner", "anyone"} {
			g := s.send(s.fitting(row, who))
			policy := g.header.Get("Content-Security-Policy")
			if !strings.Contains(policy, "default-src 'none'") || !strings.Contains(policy, "frame-ancestors 'none'") ||
				strings.Contains(policy, "unsafe-inline") && !strings.Contains(policy, "sandbox") {
				t.Errorf("%s: the policy is %q", row.Pattern, policy)
			}
			for name, want := range map[string]string{"X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer", "X-Frame-Options": "DENY"} {
				if got := g.header.Get(name); got != want {
					t.Errorf("%s: %s is %q", row.Pattern, name, got)
				}
			}
			if cache := g.header.Get("Cache-Control"); !row.Page && cache != "no-store" && cache != "private, no-cache" {
				t.Errorf("%s: Cache-Control is %q", row.Pattern, cache)
			}
		}
	}
}

func TestTheLogHasNothingPersonal(t *testing.T) {
	s := stocked(t)
	for _, row := range s.server.Rows() {
		for _, who := range []string{"owner", "visitor", "anyone"} {
			wanted := s.fitting(row, who)
			if row.Pattern == "/api/v1/sites" {
				wanted.path += "?words=Fernleaf"
			}
			s.send(wanted)
		}
	}
	text := s.log.String()
	for _, secret := range []string{"Fernleaf", "Quarry", "Dunmoor", "127.0.0.1", "box.jpg", password, s.link, s.tokens[archive.Owner], s.fill.Replace("{visit}"), s.fill.Replace("{site}")} {
		if strings.Contains(text, secret) {
			t.Errorf("the log has %q", secret)
		}
	}
	if !strings.Contains(text, `"route":"GET /api/v1/visits/{visit}/check"`) {
		t.Error("the log does not tell the routes")
	}
}

func TestASlowHeadIsCutOff(t *testing.T) {
	if testing.Short() {
		t.Skip("waits for the patience of the server")
	}
	h := build(t)
	at, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	stop, done := serve(t, h, at)
	c, err := net.Dial("tcp", at.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	fmt.Fprint(c, "GET /api/v1/health HTTP/1.1\r\nHost: x\r\nX-A: ")
	start := time.Now()
	_ = c.SetReadDeadline(start.Add(30 * time.Second))
	_, err = io.ReadAll(c)
	if took := time.Since(start); err != nil || took > 20*time.Second {
		t.Errorf("the line stood open for %v: %v", took, err)
	}
	stop()
	if err := <-done; err != nil {
		t.Error(err)
	}
}

func TestAHalfBodyIsToldApart(t *testing.T) {
	h := build(t)
	c, err := net.Dial("tcp", strings.TrimPrefix(h.at.URL, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	fmt.Fprintf(c, "POST /api/v1/visits HTTP/1.1\r\nHost: x\r\nAuthorization: Bearer %s\r\nContent-Type: application/yaml\r\nContent-Length: 1000\r\n\r\nundersod: 1", h.tokens[archive.Crew])
	if err := c.(*net.TCPConn).CloseWrite(); err != nil {
		t.Fatal(err)
	}
	answer, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil {
		t.Fatal(err)
	}
	if answer.StatusCode != 400 {
		t.Errorf("status %d", answer.StatusCode)
	}
	out := h.send(sent{method: "GET", path: "/api/v1/sites", token: h.tokens[archive.Crew]}).want(t, 200)
	if n := len(out["sites"].([]any)); n != 0 {
		t.Errorf("%d sites were made of half a job", n)
	}
}

func TestUnknownAndRepeatedParametersAreRefused(t *testing.T) {
	h := build(t)
	for query, want := range map[string]string{
		"word=oak": `Did you mean "words"`, "most=5&most=6": "more than once", "most=-1": "whole number", "latitude=44": "longitude",
		"latitude=NaN&longitude=1": "number", "deleted=yes": "true or false", "%zz": "cannot be read", "words=" + strings.Repeat("a", 600): "500",
	} {
		out := h.send(sent{method: "GET", path: "/api/v1/sites?" + query, token: h.tokens[archive.Crew]}).problem(t, 400)
		if !strings.Contains(out["detail"].(string), want) {
			t.Errorf("%s: %q does not tell of %s", query, out["detail"], want)
		}
	}
}

func TestManyAtOnceAreAnsweredAndNothingBreaks(t *testing.T) {
	s := stocked(t)
	rows := s.server.Rows()
	var wait sync.WaitGroup
	for seed := range 8 {
		wait.Add(1)
		go func() {
			defer wait.Done()
			random := rand.New(rand.NewPCG(uint64(seed), 1))
			for range 40 {
				row := rows[random.IntN(len(rows))]
				if row.Page || strings.HasSuffix(row.Pattern, ".png") {
					continue
				}
				if g := s.send(s.fitting(row, ladder[random.IntN(len(ladder))])); g.status >= 500 {
					t.Errorf("%s %s: status %d: %s", row.Method, row.Pattern, g.status, g.body)
				}
			}
		}()
	}
	wait.Wait()
}

func FuzzAPI(f *testing.F) {
	f.Add("GET", "/api/v1/sites?words=oak", "", "")
	f.Add("POST", "/api/v1/visits", "application/yaml", "undersod: 1\nsite: {name: x}\n")
	f.Add("PUT", "/api/v1/visits/aaaaaaaaaaaaaaaaaaaaaaaaaa/job", "application/json", `{"undersod": 1}`)
	f.Add("POST", "/api/v1/session", "application/json", `{"login": "owner", "password": "x"}`)
	f.Add("PUT", "/api/v1/visits/aaaaaaaaaaaaaaaaaaaaaaaaaa/photos/..%2Fa", "image/jpeg", "\xff\xd8")
	f.Add("POST", "/api/v1/visits/aaaaaaaaaaaaaaaaaaaaaaaaaa/fit", "application/json", `{"Shed": {}}`)
	s := stocked(f)
	f.Fuzz(func(t *testing.T, method, path, kind, body string) {
		path = strings.ReplaceAll(path, strings.Repeat("a", 26), s.fill.Replace("{visit}"))
		r, err := http.NewRequest(method, s.at.URL+path, strings.NewReader(body))
		if err != nil || !strings.HasPrefix(path, "/") {
			return
		}
		r.Header.Set("Content-Type", kind)
		r.Header.Set("Authorization", "Bearer "+s.tokens[archive.Crew])
		r.Header.Set("If-Match", `"1"`)
		answer, err := s.at.Client().Do(r)
		if err != nil {
			return // the client itself refuses it
		}
		defer answer.Body.Close()
		if answer.StatusCode >= 500 {
			text, _ := io.ReadAll(answer.Body)
			t.Errorf("%s %s: status %d: %s", method, path, answer.StatusCode, text)
		}
	})
}

package keeping_test

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"undersod/examples"
	"undersod/internal/bundle"
	"undersod/internal/cli"
)

// asProgram makes this test's own program the one that is tested.
const asProgram = "UNDERSOD_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		p := &cli.Program{In: os.Stdin, Out: os.Stdout, Err: os.Stderr}
		os.Exit(p.Run(os.Args[1:]))
	}
	os.Exit(m.Run())
}

const password = "four words that rhyme not"

// child is a server in a process of its own.
type child struct {
	tb     testing.TB
	cmd    *exec.Cmd
	url    string
	code   string
	client *http.Client

	mu  sync.Mutex
	log bytes.Buffer
}

// Write takes the log.
func (c *child) Write(b []byte) (int, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.log.Write(b)
}

func (c *child) logged() string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.log.String()
}

// start starts a server and waits until it says where it is.
func start(tb testing.TB, program, data string, more ...string) *child {
	tb.Helper()
	if runtime.GOOS == "windows" {
		tb.Skip("ends the server by a signal")
	}
	c := &child{tb: tb, cmd: exec.Command(program, append([]string{"serve", "--data", data, "--listen", "127.0.0.1:0"}, more...)...)}
	c.cmd.Env = append(os.Environ(), asProgram+"=1")
	c.cmd.Stderr = c
	out, err := c.cmd.StdoutPipe()
	if err != nil {
		tb.Fatal(err)
	}
	if err := c.cmd.Start(); err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() { _ = c.cmd.Process.Kill() })
	lines := bufio.NewScanner(out)
	for lines.Scan() && !strings.HasPrefix(lines.Text(), "Ctrl-C") {
		if rest, ok := strings.CutPrefix(lines.Text(), "Open "); ok {
			c.url, _, _ = strings.Cut(rest, "/ in a browser")
		}
		if _, code, ok := strings.Cut(lines.Text(), "this code: "); ok {
			c.code = code
		}
	}
	if c.url == "" {
		tb.Fatalf("the server did not start: %s", c.logged())
	}
	jar, err := cookiejar.New(nil)
	if err != nil {
		tb.Fatal(err)
	}
	c.client = &http.Client{Jar: jar, Timeout: time.Minute}
	return c
}

// end stops the server as Ctrl-C does.
func (c *child) end() {
	c.tb.Helper()
	if err := c.cmd.Process.Signal(os.Interrupt); err != nil {
		c.tb.Fatal(err)
	}
	if err := c.cmd.Wait(); err != nil {
		c.tb.Errorf("the server did not stop in order: %v: %s", err, c.logged())
	}
}

// send sends a request and returns the answer; a string is a form.
func (c *child) send(method, path, kind string, body []byte) (int, []byte) {
	c.tb.Helper()
	r, err := http.NewRequest(method, c.url+path, bytes.NewReader(body))
	if err != nil {
		c.tb.Fatal(err)
	}
	if kind != "" {
		r.Header.Set("Content-Type", kind)
	}
	a, err := c.client.Do(r)
	if err != nil {
		c.tb.Fatal(err)
	}
	defer a.Body.Close()
	text, err := io.ReadAll(a.Body)
	if err != nil {
		c.tb.Fatal(err)
	}
	return a.StatusCode, text
}

func (c *child) get(path string) []byte {
	c.tb.Helper()
	status, text := c.send(http.MethodGet, path, "", nil)
	if status != http.StatusOK {
		c.tb.Fatalf("%s: status %d: %.300s", path, status, text)
	}
	return text
}

// form is the fields of a form.
func form(fields ...string) []byte {
	v := url.Values{}
	for i := 0; i < len(fields); i += 2 {
		v.Set(fields[i], fields[i+1])
	}
	return []byte(v.Encode())
}

const asForm = "application/x-www-form-urlencoded"

// claim makes the first account by the page that asks for it, and is signed in.
func (c *child) claim() {
	c.tb.Helper()
	if page := c.get("/"); !bytes.Contains(page, []byte("Make the first account")) {
		c.tb.Fatalf("the first page is no offer to make the first account: %.300s", page)
	}
	status, page := c.send(http.MethodPost, "/first", asForm, form("login", "rdunmoor", "name", "R. Dunmoor", "password", password))
	if status != http.StatusOK {
		c.tb.Fatalf("the first account: status %d: %s", status, page)
	}
}

// saved is what a write answers.
type saved struct{ Site, Visit string }

func (c *child) save(job []byte) saved {
	c.tb.Helper()
	status, text := c.send(http.MethodPost, "/api/v1/visits", "application/yaml", job)
	var out saved
	if err := json.Unmarshal(text, &out); status != http.StatusCreated || err != nil {
		c.tb.Fatalf("status %d, %v: %s", status, err, text)
	}
	return out
}

// run runs a command in this process.
func run(t *testing.T, want int, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	p := &cli.Program{In: strings.NewReader(""), Out: &out, Err: &errs}
	if status := p.Run(args); status != want {
		t.Fatalf("%q: status %d, want %d: %s%s", args, status, want, out.String(), errs.String())
	}
	return out.String()
}

func own(tb testing.TB) string {
	tb.Helper()
	path, err := os.Executable()
	if err != nil {
		tb.Fatal(err)
	}
	return path
}

// TestAnOfficeBegins is the first day of an archive: the first account, the main
// job with its photos, what is computed of it, the bundle; then the stop and
// the check.
func TestAnOfficeBegins(t *testing.T) {
	data := filepath.Join(t.TempDir(), "archive")
	c := start(t, own(t), data)
	if status, _ := c.send(http.MethodGet, "/api/v1/sites", "", nil); status != http.StatusUnauthorized {
		t.Errorf("nobody may list sites: status %d", status)
	}
	c.claim()
	at := c.save(examples.Demo())
	names, err := fs.Glob(examples.DemoFiles(), "photos/*")
	if err != nil || len(names) == 0 {
		t.Fatal("no photos", err)
	}
	for _, name := range names {
		picture, err := fs.ReadFile(examples.DemoFiles(), name)
		if err != nil {
			t.Fatal(err)
		}
		if status, text := c.send(http.MethodPut, "/api/v1/visits/"+at.Visit+"/photos/"+name, "image/jpeg", picture); status != http.StatusOK {
			t.Fatalf("%s: status %d: %s", name, status, text)
		}
	}
	var check struct{ Kind string }
	if err := json.Unmarshal(c.get("/api/v1/visits/"+at.Visit+"/check"), &check); err != nil || check.Kind != "check" {
		t.Errorf("the check: %+v, %v", check, err)
	}
	for _, name := range []string{"report.pdf", "drawing.pdf", "county.pdf"} {
		if text := c.get("/api/v1/visits/" + at.Visit + "/" + name); !bytes.HasPrefix(text, []byte("%PDF-")) || len(text) < 10_000 {
			t.Errorf("%s: %d bytes: %.20q", name, len(text), text)
		}
	}
	zip := c.get("/api/v1/sites/" + at.Site + "/bundle.zip")
	b, err := bundle.Open(context.Background(), bytes.NewReader(zip), int64(len(zip)))
	if err != nil || len(b.Visits) != 1 || len(b.Visits[0].Photos) != len(names) {
		t.Errorf("the bundle: %v", err)
	}
	var brought struct{ Photos, Changed int }
	status, text := c.send(http.MethodPost, "/api/v1/bundles", "application/zip", zip)
	if err := json.Unmarshal(text, &brought); status != http.StatusOK || err != nil || brought.Changed != 0 || brought.Photos != len(names) {
		t.Errorf("the bundle where it comes from: status %d, %v: %s", status, err, text)
	}
	c.end()
	for _, secret := range []string{"rdunmoor", "Dunmoor", password, at.Site, at.Visit, "Quarry", "127.0.0.1"} {
		if strings.Contains(c.logged(), secret) {
			t.Errorf("the log tells %q", secret)
		}
	}
	run(t, cli.ExitDone, "verify", "--data", data)
	if again := start(t, own(t), data); again != nil {
		if page := again.get("/"); bytes.Contains(page, []byte("Make the first account")) {
			t.Error("a second first account is offered")
		}
		again.end()
	}
}

// TestTheFirstAccountFromAfarNeedsTheCode asks through a proxy.
func TestTheFirstAccountFromAfarNeedsTheCode(t *testing.T) {
	c := start(t, own(t), filepath.Join(t.TempDir(), "archive"), "--behind-proxy")
	if c.code == "" {
		t.Fatal("no code is told")
	}
	c.client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	c.client.Transport = through{}
	for _, ask := range []struct {
		code   string
		status int
	}{{"", http.StatusForbidden}, {"aaaa-aaaa-aaaa-aaaa", http.StatusForbidden}, {c.code, http.StatusSeeOther}, {c.code, http.StatusSeeOther}} {
		status, page := c.send(http.MethodPost, "/first", asForm, form("code", ask.code, "login", "rdunmoor", "name", "R. Dunmoor", "password", password))
		if status != ask.status {
			t.Errorf("code %q: status %d, want %d: %.300s", ask.code, status, ask.status, page)
		}
	}
	c.end()
}

// through is a proxy between.
type through struct{}

// RoundTrip says that the request comes from elsewhere.
func (through) RoundTrip(r *http.Request) (*http.Response, error) {
	r.Header.Set("X-Forwarded-For", "192.0.2.7") // RFC 5737, for documents
	return http.DefaultTransport.RoundTrip(r)
}

// TestKilledWhileWriting ends the server without a warning, in the middle of
// writes, and holds that whatever was acknowledged is there afterwards.
func TestKilledWhileWriting(t *testing.T) {
	if testing.Short() {
		t.Skip("starts processes")
	}
	data := filepath.Join(t.TempDir(), "archive")
	kept := map[string]string{} // visit to what was acknowledged last
	for round := range 3 {
		c := start(t, own(t), data)
		if round == 0 {
			c.claim()
		} else if status, text := c.send(http.MethodPost, "/sign-in", asForm, form("login", "rdunmoor", "password", password)); status != http.StatusOK {
			t.Fatalf("status %d: %s", status, text)
		}
		for visit, want := range kept {
			if got := c.get("/api/v1/visits/" + visit + "/job"); string(got) != want {
				t.Errorf("visit %s was acknowledged as %q, and is %q", visit, want, got)
			}
		}
		before := len(kept)
		c.writeUntilKilled(round, kept)
		if len(kept) == before {
			t.Error("nothing was acknowledged; the test tests nothing")
		}
		_ = c.cmd.Process.Kill()
		if err := c.cmd.Wait(); err == nil {
			t.Error("the server was not killed")
		}
	}
	run(t, cli.ExitDone, "verify", "--data", data)
}

// writeUntilKilled makes visits, kills the server a while after the first was
// acknowledged, however long that took, and ends when no answer comes any more.
func (c *child) writeUntilKilled(round int, kept map[string]string) {
	for i := 0; ; i++ {
		job := fmt.Sprintf("undersod: 1\nsite: {name: %d Barrow Lane}\nvisit: {date: 2027-01-%02d}\n", i, 1+round)
		a, err := c.client.Post(c.url+"/api/v1/visits", "application/yaml", strings.NewReader(job))
		if err != nil {
			return
		}
		var out saved
		err = json.NewDecoder(a.Body).Decode(&out)
		a.Body.Close()
		if err != nil {
			return
		}
		if a.StatusCode != http.StatusCreated {
			c.tb.Errorf("status %d", a.StatusCode)
			return
		}
		kept[out.Visit] = job
		if i == 0 {
			time.AfterFunc(time.Duration(100+150*round)*time.Millisecond, func() { _ = c.cmd.Process.Kill() })
		}
	}
}

// TestASecondSignalIsNotNeeded stops by the signal that service managers send.
func TestASecondSignalIsNotNeeded(t *testing.T) {
	c := start(t, own(t), filepath.Join(t.TempDir(), "archive"))
	if err := c.cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Skip(err)
	}
	if err := c.cmd.Wait(); err != nil {
		t.Errorf("%v: %s", err, c.logged())
	}
}

// BenchmarkServeReady is from the start of the process to the first answer of a
// server over an archive that holds the examples.
func BenchmarkServeReady(b *testing.B) {
	program := filepath.Join(b.TempDir(), "undersod")
	if out, err := exec.Command("go", "build", "-trimpath", "-o", program, "undersod/cmd/undersod").CombinedOutput(); err != nil {
		b.Fatalf("%v: %s", err, out)
	}
	data := filepath.Join(b.TempDir(), "archive")
	start(b, program, data, "--demo").end()
	for b.Loop() {
		c := start(b, program, data)
		c.get("/api/v1/health")
		b.StopTimer()
		c.end()
		b.StartTimer()
	}
}

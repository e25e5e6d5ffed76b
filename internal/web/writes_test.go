package web_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"

	"undersod/examples"
	"undersod/internal/archive"
	"undersod/internal/web"
)

// altered is the demo with one line more.
func altered(n int) []byte {
	return append(fmt.Appendf(nil, "# version %d\n", n), examples.Demo()...)
}

func TestAJobComesBackByteForByte(t *testing.T) {
	h := build(t)
	_, visit := h.saved()
	g := h.send(sent{method: "GET", path: "/api/v1/visits/" + visit + "/job", token: h.tokens[archive.ReadOnly]})
	if g.status != 200 || !bytes.Equal(g.body, examples.Demo()) || g.header.Get("Content-Type") != "application/yaml" {
		t.Errorf("status %d, %s, %d bytes", g.status, g.header.Get("Content-Type"), len(g.body))
	}
	again := h.send(sent{method: "GET", path: "/api/v1/visits/" + visit + "/job", token: h.tokens[archive.ReadOnly], header: map[string]string{"If-None-Match": g.header.Get("ETag")}})
	if again.status != 304 || len(again.body) != 0 {
		t.Errorf("status %d with %d bytes", again.status, len(again.body))
	}
}

func TestTheSecondOfTwoPeopleIsToldOfTheFirst(t *testing.T) {
	h := build(t)
	_, visit := h.saved()
	path := "/api/v1/visits/" + visit + "/job"
	read := h.send(sent{method: "GET", path: path, token: h.tokens[archive.Crew]}).header.Get("ETag")
	save := func(role archive.Role, n int, match string) got {
		return h.send(sent{method: "PUT", path: path, body: altered(n), kind: "application/yaml", token: h.tokens[role], header: map[string]string{"If-Match": match}})
	}
	save(archive.Crew, 1, read).want(t, 200)
	g := save(archive.Office, 2, read)
	out := g.problem(t, 412)
	if out["revision"] != 2.0 || g.header.Get("ETag") != `"2"` {
		t.Errorf("the revision now is told as %v and %s", out["revision"], g.header.Get("ETag"))
	}
	save(archive.Office, 2, g.header.Get("ETag")).want(t, 200)
	if out := h.send(sent{method: "PUT", path: path, body: altered(3), kind: "application/yaml", token: h.tokens[archive.Crew]}).problem(t, 428); !strings.Contains(out["do"].(string), "If-Match") {
		t.Errorf("got %v", out)
	}
}

func TestOfManyAtOnceOneWins(t *testing.T) {
	h := build(t)
	_, visit := h.saved()
	var wait sync.WaitGroup
	status := make([]int, 8)
	for i := range status {
		wait.Add(1)
		go func() {
			defer wait.Done()
			status[i] = h.send(sent{method: "PUT", path: "/api/v1/visits/" + visit + "/job", body: altered(i), kind: "application/yaml",
				token: h.tokens[archive.Crew], header: map[string]string{"If-Match": `"1"`}}).status
		}()
	}
	wait.Wait()
	count := map[int]int{}
	for _, s := range status {
		count[s]++
	}
	if count[200] != 1 || count[412] != len(status)-1 {
		t.Errorf("got %v", count)
	}
}

func TestARepeatedSendChangesNothing(t *testing.T) {
	h := build(t)
	once := func(body []byte) got {
		return h.send(sent{method: "POST", path: "/api/v1/visits", body: body, kind: "application/yaml", token: h.tokens[archive.Crew], header: map[string]string{"Idempotency-Key": "day-1"}})
	}
	first, second := once(examples.Demo()), once(examples.Demo())
	if first.want(t, 201); string(first.body) != string(second.body) || second.status != 201 {
		t.Errorf("%d %s, then %d %s", first.status, first.body, second.status, second.body)
	}
	once(altered(1)).problem(t, 422)
	out := h.send(sent{method: "GET", path: "/api/v1/sites", token: h.tokens[archive.Crew]}).want(t, 200)
	if n := len(out["sites"].([]any)); n != 1 {
		t.Errorf("%d sites", n)
	}
}

func TestAPhoneMakesAVisitUnderItsOwnID(t *testing.T) {
	h := build(t)
	id := strings.Repeat("7q", 13)
	put := func() got {
		return h.send(sent{method: "PUT", path: "/api/v1/visits/" + id + "/job", body: examples.Demo(), kind: "application/yaml", token: h.tokens[archive.Crew], header: map[string]string{"If-None-Match": "*"}})
	}
	if g := put(); g.want(t, 201)["visit"] != id || g.header.Get("Location") != "/api/v1/visits/"+id {
		t.Errorf("got %s at %s", g.body, g.header.Get("Location"))
	}
	if out := put().want(t, 201); out["change"] != 0.0 {
		t.Errorf("the same again made change %v", out["change"])
	}
}

func TestWhatIsRemovedComesBack(t *testing.T) {
	h := build(t)
	site, visit := h.saved()
	path := "/api/v1/visits/" + visit
	crew := h.tokens[archive.Crew]
	out := h.send(sent{method: "DELETE", path: path, token: crew, header: map[string]string{"If-Match": `"1"`}}).want(t, 200)
	h.send(sent{method: "PUT", path: path + "/job", body: altered(1), kind: "application/yaml", token: crew, header: map[string]string{"If-Match": fmt.Sprintf(`"%v"`, out["revision"])}}).problem(t, 409)
	h.send(sent{method: "POST", path: path + "/recover", token: crew}).want(t, 200)
	if v := h.send(sent{method: "GET", path: path, token: crew}).want(t, 200); v["deleted"] != nil {
		t.Errorf("it is still removed: %v", v["deleted"])
	}
	history := h.send(sent{method: "GET", path: "/api/v1/sites/" + site + "/changes", token: crew}).want(t, 200)
	var deeds []any
	for _, c := range history["changes"].([]any) {
		deeds = append(deeds, c.(map[string]any)["deed"])
	}
	if fmt.Sprint(deeds) != "[recovered removed made]" {
		t.Errorf("the history is %v", deeds)
	}
}

// failing is an archive whose disk is at its end.
type failing struct {
	archive.Records
	err error
}

func (f failing) SaveVisit(context.Context, archive.Write, archive.ID, archive.ID, archive.Revision, string, []byte) (archive.Saved, error) {
	return archive.Saved{}, fmt.Errorf("/secret/place/archive.db: %w", f.err)
}

func TestFaultsOfTheArchiveAreToldInWords(t *testing.T) {
	for _, c := range []struct {
		err    error
		status int
	}{{archive.ErrFull, 507}, {archive.ErrReadOnly, 503}, {archive.ErrDamaged, 500}, {errors.New("disk I/O error (10)"), 500}, {archive.ErrTooLarge, 413}} {
		h := build(t, func(s *web.Settings) { s.Records = failing{s.Records, c.err} })
		out := h.send(sent{method: "POST", path: "/api/v1/visits", body: examples.Demo(), kind: "application/yaml", token: h.tokens[archive.Crew]}).problem(t, c.status)
		if c.status >= 500 && strings.Contains(fmt.Sprint(out), "/secret") || strings.Contains(fmt.Sprint(out)+h.log.String(), "I/O") {
			t.Errorf("%v tells what is nobody's business: %v\n%s", c.err, out, h.log)
		}
	}
}

func TestAFaultInTheProgramIsAnswered(t *testing.T) {
	h := build(t, func(s *web.Settings) {
		s.Ready = func(context.Context) error { panic("Fernleaf's lid") }
	})
	h.send(sent{method: "GET", path: "/api/v1/health"}).problem(t, 500)
	if text := h.log.String(); strings.Contains(text, "Fernleaf") || !strings.Contains(text, "fault in the program") {
		t.Errorf("the log is %s", text)
	}
}

// serve serves a house at a listener until stop is called.
func serve(t *testing.T, h *house, at net.Listener) (stop func(), done chan error) {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	done = make(chan error, 1)
	go func() { done <- h.server.Serve(ctx, at) }()
	t.Cleanup(stop)
	return stop, done
}

func TestAStopLetsWhatIsUnderWayFinish(t *testing.T) {
	begun, release := make(chan struct{}), make(chan struct{})
	h := build(t, func(s *web.Settings) {
		s.Ready = func(context.Context) error {
			close(begun)
			<-release
			return nil
		}
	})
	at, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	stop, done := serve(t, h, at)
	answered := make(chan int, 1)
	go func() {
		answer, err := http.Get("http://" + at.Addr().String() + "/api/v1/health")
		if err != nil {
			answered <- 0
			return
		}
		defer answer.Body.Close()
		_, _ = io.Copy(io.Discard, answer.Body)
		answered <- answer.StatusCode
	}()
	<-begun
	stop()
	time.Sleep(50 * time.Millisecond)
	if _, err := net.DialTimeout("tcp", at.Addr().String(), time.Second); err == nil {
		t.Error("a stopped server takes new lines")
	}
	close(release)
	if status := <-answered; status != 200 {
		t.Errorf("what was under way got %d", status)
	}
	if err := <-done; err != nil {
		t.Error(err)
	}
}

func BenchmarkCheckOverHTTP(b *testing.B) {
	h := build(b)
	_, visit := h.saved()
	for b.Loop() {
		h.send(sent{method: "GET", path: "/api/v1/visits/" + visit + "/check", token: h.tokens[archive.Crew]}).want(b, 200)
	}
}

package serve_test

import (
	"bytes"
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/json"
	"encoding/pem"
	"io"
	"log/slog"
	"math/big"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"undersod/internal/holding"
	"undersod/internal/serve"
)

func open(t *testing.T) *holding.Archive {
	t.Helper()
	a, err := holding.Open(context.Background(), filepath.Join(t.TempDir(), "archive"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := a.Close(); err != nil {
			t.Error(err)
		}
	})
	return a
}

func listen(t *testing.T) net.Listener {
	t.Helper()
	at, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	return at
}

// certified writes a certificate of a name with its key.
func certified(t *testing.T, dir, name string) (certificate, key string) {
	t.Helper()
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	about := &x509.Certificate{SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: name}, NotAfter: time.Now().Add(time.Hour),
		DNSNames: []string{name}, IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}}
	text, err := x509.CreateCertificate(rand.Reader, about, about, &private.PublicKey, private)
	if err != nil {
		t.Fatal(err)
	}
	secret, err := x509.MarshalPKCS8PrivateKey(private)
	if err != nil {
		t.Fatal(err)
	}
	certificate, key = filepath.Join(dir, "site.pem"), filepath.Join(dir, "site.key")
	for path, block := range map[string]*pem.Block{certificate: {Type: "CERTIFICATE", Bytes: text}, key: {Type: "PRIVATE KEY", Bytes: secret}} {
		if err := os.WriteFile(path, pem.EncodeToMemory(block), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return certificate, key
}

// TestRunByTLS serves by TLS over HTTP/2, with cookies for TLS alone, and stops
// when it is told to.
func TestRunByTLS(t *testing.T) {
	at := listen(t)
	certificate, key := certified(t, t.TempDir(), "archive.example")
	secured, err := serve.Secured(at, certificate, key)
	if err != nil {
		t.Fatal(err)
	}
	var log bytes.Buffer
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	a := open(t)
	go func() {
		ended <- serve.Run(ctx, serve.Settings{Archive: a, Listener: secured, Log: serve.NewLog(&log, false), Secure: true})
	}()
	pool := x509.NewCertPool()
	text, err := os.ReadFile(certificate)
	if err != nil || !pool.AppendCertsFromPEM(text) {
		t.Fatal("no certificate", err)
	}
	client := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: pool}, ForceAttemptHTTP2: true}}
	answer, err := client.Get("https://" + at.Addr().String() + "/api/v1/health")
	if err != nil {
		t.Fatal(err)
	}
	words, _ := io.ReadAll(answer.Body)
	answer.Body.Close()
	if answer.StatusCode != http.StatusOK || answer.ProtoMajor != 2 || answer.Header.Get("Strict-Transport-Security") == "" {
		t.Errorf("status %d by %s: %s", answer.StatusCode, answer.Proto, words)
	}
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
	if _, err := net.Dial("tcp", at.Addr().String()); err == nil {
		t.Error("it still listens")
	}
}

func TestSecuredRefuses(t *testing.T) {
	dir := t.TempDir()
	certificate, key := certified(t, dir, "archive.example")
	broken := filepath.Join(dir, "broken.pem")
	if err := os.WriteFile(broken, []byte("no certificate"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range [][3]string{{broken, key, "cannot be used"}, {certificate, broken, "cannot be used"}, {filepath.Join(dir, "none.pem"), key, "there is no file"}} {
		at := listen(t)
		if _, err := serve.Secured(at, c[0], c[1]); err == nil || !strings.Contains(err.Error(), c[2]) {
			t.Errorf("%s and %s: %v", c[0], c[1], err)
		}
		at.Close()
	}
}

// TestFill fills an archive that has no site, soundly, and no other.
func TestFill(t *testing.T) {
	a, ctx := open(t), context.Background()
	made, err := serve.Fill(ctx, a)
	if err != nil || made < 10 {
		t.Fatalf("%d visits, %v", made, err)
	}
	if again, err := serve.Fill(ctx, a); again != 0 || err != nil {
		t.Errorf("again: %d visits, %v", again, err)
	}
	faults, err := a.Records.Verify(ctx, nil)
	if err != nil || len(faults) > 0 {
		t.Errorf("%v, %v", faults, err)
	}
	id, err := a.Find(ctx, "quarry hollow")
	if err != nil {
		t.Fatal(err)
	}
	geo, err := a.Find(ctx, "otterholt")
	if err != nil || geo == id {
		t.Errorf("%v", err)
	}
}

func TestLog(t *testing.T) {
	at := time.Date(2026, 5, 14, 9, 30, 12, 0, time.UTC)
	told := func(person bool, level slog.Level, words string, attrs ...slog.Attr) string {
		var out bytes.Buffer
		r := slog.NewRecord(at, level, words, 0)
		r.AddAttrs(attrs...)
		if err := serve.NewLog(&out, person).Handler().Handle(context.Background(), r); err != nil {
			t.Error(err)
		}
		return out.String()
	}
	answered := []slog.Attr{slog.String("method", "GET"), slog.String("route", "GET /sites/{site}"), slog.Int("status", 200), slog.Float64("ms", 12.5), slog.String("request", "1f")}
	for _, c := range []struct{ got, want string }{
		{told(true, slog.LevelInfo, "answered", answered...), "09:30:12  GET /sites/{site}  200  12.5 ms\n"},
		{told(true, slog.LevelInfo, "answered", slog.String("method", "PUT"), slog.String("route", ""), slog.Int("status", 404)), "09:30:12  PUT of nothing that is here  404  <nil> ms\n"},
		{told(true, slog.LevelWarn, "late", slog.Int("n", 3)), "09:30:12  warn: late  n 3\n"},
		{told(true, slog.LevelInfo, "stopped"), "09:30:12  stopped\n"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
	var document map[string]any
	if err := json.Unmarshal([]byte(told(false, slog.LevelInfo, "answered", answered...)), &document); err != nil || document["status"] != 200.0 {
		t.Errorf("%v, %v", document, err)
	}
}

func TestNewCode(t *testing.T) {
	seen := map[string]bool{}
	for range 100 {
		code := serve.NewCode()
		if seen[code] || len(code) != 19 || strings.Trim(code, "abcdefghijklmnopqrstuvwxyz234567-") != "" {
			t.Errorf("%q", code)
		}
		seen[code] = true
	}
}

func TestLoopback(t *testing.T) {
	for address, want := range map[string]bool{"127.0.0.1": true, "::1": true, "0.0.0.0": false, "::": false, "192.0.2.1": false} {
		if got := serve.Loopback(&net.TCPAddr{IP: net.ParseIP(address)}); got != want {
			t.Errorf("%s: %v", address, got)
		}
	}
	if serve.Loopback(&net.UnixAddr{Name: "x"}) {
		t.Error("not an address of a network")
	}
}

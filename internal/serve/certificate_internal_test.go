package serve

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"math/big"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// TestARenewedCertificateIsUsed changes the files: what cannot be read leaves
// the one before in use.
func TestARenewedCertificateIsUsed(t *testing.T) {
	dir := t.TempDir()
	certificate, key := filepath.Join(dir, "c.pem"), filepath.Join(dir, "k.pem")
	changed := time.Now().Add(-time.Hour)
	put := func(c, k string) {
		changed = changed.Add(time.Minute)
		for path, text := range map[string]string{certificate: c, key: k} {
			if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			if err := os.Chtimes(path, changed, changed); err != nil {
				t.Fatal(err)
			}
		}
	}
	p := &pair{certificate: certificate, key: key}
	get := func() *tls.Certificate {
		p.looked = p.looked.Add(-2 * lookEvery)
		c, err := p.get(nil)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	put(made(t))
	one := get()
	if get() != one {
		t.Error("read again though it did not change")
	}
	put("torn", "torn too")
	if get() != one {
		t.Error("a torn one is used")
	}
	if err := os.Remove(key); err != nil {
		t.Fatal(err)
	}
	if get() != one {
		t.Error("one without its key is used")
	}
	put(made(t))
	if c := get(); c == one || string(c.Certificate[0]) == string(one.Certificate[0]) {
		t.Error("the renewed one is not used")
	}
}

// made makes a certificate and its key.
func made(t *testing.T) (certificate, key string) {
	t.Helper()
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	about := &x509.Certificate{SerialNumber: big.NewInt(1), NotAfter: time.Now().Add(time.Hour)}
	text, err := x509.CreateCertificate(rand.Reader, about, about, &private.PublicKey, private)
	if err != nil {
		t.Fatal(err)
	}
	secret, err := x509.MarshalPKCS8PrivateKey(private)
	if err != nil {
		t.Fatal(err)
	}
	block := func(kind string, b []byte) string {
		return string(pem.EncodeToMemory(&pem.Block{Type: kind, Bytes: b}))
	}
	return block("CERTIFICATE", text), block("PRIVATE KEY", secret)
}

package serve

import (
	"crypto/tls"
	"errors"
	"fmt"
	"io/fs"
	"net"
	"os"
	"path/filepath"
	"sync"
	"time"
)

// Secured makes a listener speak TLS by a certificate and its key, in two PEM
// files. They are read again when they change, so that a renewed certificate is
// used without a stop.
func Secured(at net.Listener, certificate, key string) (net.Listener, error) {
	p := &pair{certificate: certificate, key: key}
	if _, err := p.get(nil); err != nil {
		return nil, err
	}
	return tls.NewListener(at, &tls.Config{
		MinVersion: tls.VersionTLS12, NextProtos: []string{"h2", "http/1.1"}, GetCertificate: p.get,
	}), nil
}

// pair is a certificate with its key, as read last.
type pair struct {
	certificate, key string

	mu      sync.Mutex
	read    *tls.Certificate
	changed [2]time.Time // of the files, as read
	looked  time.Time
}

// lookEvery is how often the files are looked at.
const lookEvery = time.Minute

// get returns the certificate. One that cannot be read when it changes leaves
// the one before in use.
func (p *pair) get(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.read != nil && time.Since(p.looked) < lookEvery {
		return p.read, nil
	}
	p.looked = time.Now()
	changed, err := p.times()
	if err != nil && p.read == nil {
		return nil, err
	}
	if err != nil || p.read != nil && changed == p.changed {
		return p.read, nil
	}
	fresh, err := tls.LoadX509KeyPair(p.certificate, p.key)
	if err == nil {
		p.read, p.changed = &fresh, changed
	} else if p.read == nil {
		return nil, fmt.Errorf("the certificate %s and the key %s cannot be used: %w", filepath.Base(p.certificate), filepath.Base(p.key), err)
	}
	return p.read, nil
}

func (p *pair) times() (out [2]time.Time, err error) {
	for i, name := range []string{p.certificate, p.key} {
		info, err := os.Stat(name)
		if errors.Is(err, fs.ErrNotExist) {
			return out, fmt.Errorf("there is no file %s", name)
		}
		if err != nil {
			return out, fmt.Errorf("%s cannot be opened", name)
		}
		out[i] = info.ModTime()
	}
	return out, nil
}

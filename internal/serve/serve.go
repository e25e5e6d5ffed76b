// Package serve keeps a server over an archive running: it listens, serves, does
// what must be done now and then, and stops in order.
package serve

import (
	"context"
	"encoding/base32"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"strings"
	"sync"
	"time"

	"undersod/internal/archive"
	"undersod/internal/holding"
	"undersod/internal/web"
)

// Settings is what a server is made from. Archive, Listener and Log must be set.
type Settings struct {
	Archive  *holding.Archive
	Listener net.Listener // by TLS, where people come by it
	Log      *slog.Logger
	Secure   bool   // people come by TLS alone
	Proxied  bool   // people come through a proxy alone
	Code     string // that the first account asks for from another machine; empty for none
}

// every is how often what is over is thrown away.
const every = time.Hour

// Run serves until the context ends, then lets what is under way finish. The
// archive is the caller's to close.
func Run(ctx context.Context, s Settings) error {
	server, err := web.New(web.Settings{
		Records: s.Archive.Records, People: s.Archive.People, Answers: s.Archive.Answers, Ready: s.Archive.Ready,
		Log: s.Log, Now: time.Now, Random: holding.Random, Secure: s.Secure, Proxied: s.Proxied, FirstCode: s.Code, Carrier: carrier{s.Archive},
	})
	if err != nil {
		return errors.Join(err, s.Listener.Close())
	}
	tidying, stop := context.WithCancel(ctx)
	var tidied sync.WaitGroup
	tidied.Go(func() { tidy(tidying, s) })
	err = server.Serve(ctx, s.Listener)
	stop()
	tidied.Wait()
	return err
}

// tidy throws away what is over, at the start and then every hour.
func tidy(ctx context.Context, s Settings) {
	next := time.NewTicker(every)
	defer next.Stop()
	for {
		if err := s.Archive.DropExpired(ctx); err != nil && ctx.Err() == nil {
			s.Log.Warn("what is over could not be thrown away", "why", kind(err))
		}
		select {
		case <-ctx.Done():
			return
		case <-next.C:
		}
	}
}

// carrier carries sites for the pages.
type carrier struct{ *holding.Archive }

// Import implements web.Carrier.
func (c carrier) Import(ctx context.Context, by archive.Write, file io.ReaderAt, size int64) (web.Imported, error) {
	in, err := c.Archive.Import(ctx, by, file, size)
	return web.Imported{Site: in.Site, Visits: in.Visits, Photos: in.Photos, Changed: in.Changed, Left: in.Left}, err
}

// kind is what went wrong in words that hold nothing of the archive.
func kind(err error) string {
	for _, known := range []error{archive.ErrFull, archive.ErrReadOnly, archive.ErrDamaged} {
		if errors.Is(err, known) {
			return known.Error()
		}
	}
	return fmt.Sprintf("%T", err)
}

// NewCode makes a code that nobody can guess and everybody can type.
func NewCode() string {
	var b [10]byte
	holding.Random(b[:])
	text := strings.ToLower(base32.StdEncoding.EncodeToString(b[:]))
	return text[:4] + "-" + text[4:8] + "-" + text[8:12] + "-" + text[12:]
}

// Loopback reports whether only this machine reaches an address.
func Loopback(at net.Addr) bool {
	tcp, ok := at.(*net.TCPAddr)
	return ok && tcp.IP.IsLoopback()
}

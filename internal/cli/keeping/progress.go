package keeping

import (
	"context"
	"fmt"
	"strings"
	"sync/atomic"
	"time"

	"undersod/internal/archive"
	"undersod/internal/holding"
)

// progress tells a person at a terminal how far something has come that takes
// longer than a second.
type progress struct {
	p     *Outside
	began time.Time
	told  time.Time
	width int // of the line that stands there
}

// How soon progress is told, and how often.
const (
	tellAfter = time.Second
	tellEvery = 200 * time.Millisecond
)

func (p *Outside) progress() *progress { return &progress{p: p, began: time.Now()} }

// at tells of a step; all is 0 where it is not known.
func (g *progress) at(step string, done, all int64) {
	now := time.Now()
	if !g.p.Notes || now.Sub(g.began) < tellAfter || now.Sub(g.told) < tellEvery {
		return
	}
	g.told = now
	line := fmt.Sprintf("%s: %d of %d", step, done, all)
	if all == 0 {
		line = fmt.Sprintf("%s: %d", step, done)
	}
	fmt.Fprintf(g.p.Err, "\r%-*s", g.width, line)
	g.width = len(line)
}

// end leaves the line empty.
func (g *progress) end() {
	if g.width > 0 {
		fmt.Fprintf(g.p.Err, "\r%s\r", strings.Repeat(" ", g.width))
	}
}

// watch tells of every content that is read from now on.
func (g *progress) watch(ctx context.Context, a *holding.Archive, step string) error {
	var all int64
	err := a.Folder.Store.View(ctx, func(r archive.Reader) error {
		list, err := r.Contents()
		all = int64(len(list))
		return err
	})
	a.Folder.Blobs = &watchedBlobs{Blobs: a.Folder.Blobs, tell: func(n int64) { g.at(step, min(n, all), all) }}
	return err
}

// watchedBlobs counts what is read.
type watchedBlobs struct {
	archive.Blobs
	read atomic.Int64
	tell func(int64)
}

// Get counts, and gets.
func (b *watchedBlobs) Get(ctx context.Context, h archive.Hash) ([]byte, error) {
	b.tell(b.read.Add(1))
	return b.Blobs.Get(ctx, h)
}

package archive_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
	"time"

	"undersod/core/unit"
	"undersod/internal/archive"
	"undersod/internal/archive/fields"
	"undersod/internal/archive/memory"
)

var ctx = context.Background()

// bench is a keeper over a store in memory, with a clock that the test sets.
type bench struct {
	*testing.T
	*archive.Keeper
	now   time.Time
	store *memory.Store
	blobs *memory.Blobs
}

func newBench(t *testing.T) *bench {
	b := &bench{T: t, now: time.Date(2026, 5, 12, 9, 0, 0, 0, time.UTC), store: memory.New(), blobs: new(memory.Blobs)}
	random := rand.NewChaCha8([32]byte{4, 12})
	b.Keeper = &archive.Keeper{
		Store: b.store, Blobs: b.blobs, Now: func() time.Time { return b.now }, Read: read, Compare: fields.Compare, Rewrite: rewrite,
		Random: func(p []byte) { _, _ = random.Read(p) },
	}
	return b
}

// read makes a heading of lines such as "owner: A. Fernleaf".
func read(format string, job []byte) archive.Heading {
	h := archive.Heading{Fill: format}
	for _, line := range strings.Split(string(job), "\n") {
		key, value, _ := strings.Cut(line, ": ")
		switch key {
		case "owner":
			h.Owner = value
		case "address":
			h.Address = value
		case "permit":
			h.Permit = value
		case "date":
			h.Date = value
		case "next":
			h.NextLook = value
		case "notes":
			h.Words = value
		case "latitude":
			h.Latitude = degrees(value)
		case "longitude":
			h.Longitude = degrees(value)
		}
	}
	return h
}

func degrees(text string) *unit.Angle {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return nil
	}
	a := unit.Angle(v) * unit.Degree
	return &a
}

// rewrite takes what starts with "picture" for one.
func rewrite(picture []byte) (full, thumbnail []byte, width, height int, err error) {
	if !bytes.HasPrefix(picture, []byte("picture")) {
		return nil, nil, 0, 0, errors.New("it is no picture; send a JPEG")
	}
	return append([]byte("full "), picture...), append([]byte("small "), picture...), 4000, 3000, nil
}

var (
	crew   = archive.Actor{Account: "crew", Role: archive.Crew}
	asCrew = archive.Write{By: crew}
	office = archive.Actor{Account: "office", Role: archive.Office}
)

func (b *bench) must(s archive.Saved, err error) archive.Saved {
	b.Helper()
	if err != nil {
		b.Fatal(err)
	}
	return s
}

func (b *bench) is(err, want error) {
	b.Helper()
	if !errors.Is(err, want) {
		b.Errorf("the error is %v, want %v", err, want)
	}
}

// save makes a new visit, of a new site where site is empty.
func (b *bench) save(site archive.ID, job string) archive.Saved {
	b.Helper()
	return b.must(b.SaveVisit(ctx, asCrew, site, "", 0, "yaml", []byte(job)))
}

func (b *bench) history(site archive.ID) []archive.Change {
	b.Helper()
	all, err := b.Changes(ctx, office, site, 0, 500)
	if err != nil {
		b.Fatal(err)
	}
	return all
}

// sound fails where Verify finds anything.
func (b *bench) sound() {
	b.Helper()
	faults, err := b.Verify(ctx, nil)
	if err != nil {
		b.Fatal(err)
	}
	for _, f := range faults {
		b.Errorf("%s %s: %s", f.What, f.About, f.Words)
	}
}

// own returns an ID that a phone might have made.
func own(n int) archive.ID { return archive.ID(fmt.Sprintf("phone%021d", n)) }

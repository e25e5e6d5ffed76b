package sqlite

import (
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"testing"
	"time"

	"undersod/core/unit"
	"undersod/internal/archive"
	"undersod/internal/archive/invented"
)

// raw is SQLite alone, as one would write it by hand: the same file layout and
// the same pragmas, prepared statements, one transaction a write.
type raw struct {
	db         *sql.DB
	statements []*sql.Stmt
}

var visitStatements = []string{
	sites.upsert, "INSERT INTO search (rowid, words) VALUES (?, ?)",
	"INSERT INTO places (put, west, east, south, north, latitude, longitude, id, deleted) VALUES (?, ?, ?, ?, ?, ?, ?, ?, 0)",
	visits.upsert, photos.insert, changes.insert,
}

func newRaw(b *testing.B, statements ...string) *raw {
	file := filepath.Join(b.TempDir(), "raw.db")
	s, err := Open(ctx, file) // makes the tables
	if err != nil {
		b.Fatal(err)
	}
	if err := s.Close(); err != nil {
		b.Fatal(err)
	}
	db, err := sql.Open("sqlite", address(file, "rw", writerCache, "journal_mode(WAL)"))
	if err != nil {
		b.Fatal(err)
	}
	db.SetMaxOpenConns(1)
	b.Cleanup(func() { db.Close() })
	r := &raw{db: db}
	for _, text := range statements {
		stmt, err := db.Prepare(text)
		if err != nil {
			b.Fatal(err)
		}
		r.statements = append(r.statements, stmt)
	}
	return r
}

func (r *raw) write(args ...[]any) error {
	if len(args) == 1 {
		_, err := r.statements[0].Exec(args[0]...)
		return err
	}
	tx, err := r.db.Begin()
	if err != nil {
		return err
	}
	for i, a := range args {
		if _, err := tx.Stmt(r.statements[i]).Exec(a...); err != nil {
			return errors.Join(err, tx.Rollback())
		}
	}
	return tx.Commit()
}

// sideBySide times two writes in turn and reports the medians and their ratio,
// which is asked to be at most 1.5.
func sideBySide(b *testing.B, ours, raw func(n int) error) {
	var a, z []time.Duration
	timed := func(n int, f func(int) error) time.Duration {
		start := time.Now()
		if err := f(n); err != nil {
			b.Fatal(err)
		}
		return time.Since(start)
	}
	n := 0
	for b.Loop() {
		if n++; n%2 == 0 {
			a, z = append(a, timed(n, ours)), append(z, timed(n, raw))
		} else {
			z, a = append(z, timed(n, raw)), append(a, timed(n, ours))
		}
	}
	slices.Sort(a)
	slices.Sort(z)
	store, plain := a[len(a)/2], z[len(z)/2]
	b.ReportMetric(float64(store.Microseconds()), "store-µs")
	b.ReportMetric(float64(plain.Microseconds()), "raw-µs")
	b.ReportMetric(float64(store)/float64(plain), "ratio")
	b.ReportMetric(0, "ns/op")
}

// BenchmarkDurableWrite writes one row, then a whole visit (site, words, place,
// visit, photo, change), each through the store and by SQLite alone in turn.
func BenchmarkDurableWrite(b *testing.B) {
	b.Run("row", func(b *testing.B) {
		s, r := benchStore(b), newRaw(b, events.insert)
		sideBySide(b, func(int) error { return s.Update(ctx, addEvent("signed in")) }, func(n int) error {
			return r.write(events.row(&archive.Event{Number: int64(n), What: "signed in"}))
		})
	})
	b.Run("visit", func(b *testing.B) {
		s, r := benchStore(b), newRaw(b, visitStatements...)
		m := invented.New(1)
		var made []siteRow
		next := func(n int) (siteRow, archive.Visit, archive.Change) {
			for len(made) <= n {
				s := m.Site()
				made = append(made, siteRow{s, int64(len(made) + 1), indexed(s)})
			}
			row := made[n]
			v, c := smallVisit(), smallChange()
			v.ID, v.Site, c.Site, c.Visit, c.Number = row.ID, row.ID, row.ID, row.ID, int64(n+1)
			return row, v, c
		}
		sideBySide(b, func(n int) error {
			row, v, c := next(n)
			return s.Update(ctx, func(w archive.Writer) error {
				err := errors.Join(w.PutSite(row.Site), w.PutVisit(v))
				_, err1 := w.AddChange(c)
				return errors.Join(err, err1)
			})
		}, func(n int) error {
			row, v, c := next(n)
			north, east := row.Heading.Latitude.Radians(), row.Heading.Longitude.Radians()
			vr, pr := visitRow{v, 1}, photoRow{v.Photos[0], v.ID, 0}
			return r.write(sites.row(&row), []any{row.put, row.foundBy}, []any{row.put, east, east, north, north, north, east, string(row.ID)},
				visits.row(&vr), photos.row(&pr), changes.row(&c))
		})
	})
}

func benchStore(b *testing.B) *Store {
	s, err := Open(ctx, filepath.Join(b.TempDir(), "archive.db"))
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { s.Close() })
	return s
}

// largeArchive makes an archive of so many invented sites.
func largeArchive(b *testing.B, file string, n int) {
	s, err := Open(ctx, file)
	if err != nil {
		b.Fatal(err)
	}
	m := invented.New(412)
	for done := 0; done < n; {
		err := s.Update(ctx, func(w archive.Writer) error {
			for range 2000 {
				done++
				if err := w.PutSite(m.Site()); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			b.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkSearch asks an archive of 200,000 sites for many things, and reports
// the time below which 95 of 100 answers came, the worst kind of question, and
// the most memory that the process had.
func BenchmarkSearch(b *testing.B) {
	file := filepath.Join(b.TempDir(), "archive.db")
	made := time.Now()
	largeArchive(b, file, 200_000)
	making := time.Since(made)
	debug.FreeOSMemory()
	resetPeak()
	start := time.Now()
	s, err := Open(ctx, file)
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	if err := s.View(ctx, func(r archive.Reader) error { _, err := r.Find(archive.Query{}); return err }); err != nil {
		b.Fatal(err)
	}
	opened := time.Since(start)
	var all []time.Duration
	m := invented.New(412)
	questions := asked(m)
	of := make([][]time.Duration, len(questions))
	for b.Loop() {
		for i, q := range questions {
			start := time.Now()
			if err := s.View(ctx, q.ask()); err != nil {
				b.Fatal(err)
			}
			took := time.Since(start)
			all, of[i] = append(all, took), append(of[i], took)
		}
	}
	var table strings.Builder
	for i, q := range questions {
		fmt.Fprintf(&table, "%-40s median %6.2f ms, 95 of 100 below %6.2f ms\n", q.name, ms(quantile(of[i], 0.5)), ms(quantile(of[i], 0.95)))
	}
	if testing.Verbose() {
		fmt.Print(table.String())
	}
	b.ReportMetric(ms(quantile(all, 0.95)), "p95-ms")
	b.ReportMetric(ms(opened), "open-ms")
	b.ReportMetric(peak(), "peak-MB")
	b.ReportMetric(float64(making.Microseconds())/200_000, "µs/site-made")
	if i, err := os.Stat(file); err == nil {
		b.ReportMetric(float64(i.Size()>>20), "file-MB")
	}
	b.ReportMetric(0, "ns/op")
}

type question struct {
	name string
	ask  func() func(archive.Reader) error
}

// asked returns questions about sites that are there, each time another.
func asked(m *invented.Maker) []question {
	var pool []archive.Heading
	for range 5000 {
		pool = append(pool, m.Site().Heading)
	}
	n := 0
	heading := func() archive.Heading { n++; return pool[n*37%len(pool)] }
	find := func(q func(archive.Heading) archive.Query) func() func(archive.Reader) error {
		return func() func(archive.Reader) error {
			query := q(heading())
			return func(r archive.Reader) error {
				f, err := r.Find(query)
				if err == nil && len(f.Sites) == 0 && query.Skip == 0 {
					err = fmt.Errorf("%+v finds nothing", query)
				}
				return err
			}
		}
	}
	text := func(f func(archive.Heading) string) func() func(archive.Reader) error {
		return find(func(h archive.Heading) archive.Query { return archive.Query{Words: f(h)} })
	}
	near := func(h archive.Heading, within unit.Length) *archive.Near {
		return &archive.Near{Latitude: *h.Latitude, Longitude: *h.Longitude, Within: within}
	}
	last := func(s string) string { return s[strings.LastIndex(s, " ")+1:] }
	return []question{
		{"the newest", find(func(archive.Heading) archive.Query { return archive.Query{} })},
		{"a permit number", text(func(h archive.Heading) string { return h.Permit })},
		{"the start of a permit number", text(func(h archive.Heading) string { return h.Permit[:9] })},
		{"an address", text(func(h archive.Heading) string { return h.Address })},
		{"a house number and the start of a road", text(func(h archive.Heading) string { return h.Address[:8] })},
		{"an owner's surname", text(func(h archive.Heading) string { return last(h.Owner) })},
		{"an owner and a county", text(func(h archive.Heading) string { return last(h.Owner) + " " + h.County })},
		{"a parcel", text(func(h archive.Heading) string { return h.Parcel })},
		{"one letter", text(func(h archive.Heading) string { return h.Address[strings.Index(h.Address, " ")+1:][:1] })},
		{"a finding", text(func(h archive.Heading) string { return "fine roots" })},
		{"a word that all have", text(func(h archive.Heading) string { return "county" })},
		{"the tenth page of a finding", find(func(archive.Heading) archive.Query { return archive.Query{Words: "roots", Skip: 450} })},
		{"within 500 m", find(func(h archive.Heading) archive.Query { return archive.Query{Near: near(h, 500*unit.Metre)} })},
		{"within 10 km", find(func(h archive.Heading) archive.Query { return archive.Query{Near: near(h, 10_000*unit.Metre)} })},
		{"the nearest", find(func(h archive.Heading) archive.Query { return archive.Query{Near: near(h, 0)} })},
		{"the nearest of an owner", find(func(h archive.Heading) archive.Query { return archive.Query{Near: near(h, 0), Words: last(h.Owner)} })},
		{"the nearest with a finding", find(func(h archive.Heading) archive.Query {
			return archive.Query{Near: near(h, 0), Words: "roots"}
		})},
		{"due until a day", func() func(archive.Reader) error {
			until := heading().NextLook
			return func(r archive.Reader) error { _, err := r.Due(until, 100); return err }
		}},
	}
}

func ms(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }

func quantile(d []time.Duration, q float64) time.Duration {
	d = slices.Sorted(slices.Values(d))
	return d[min(len(d)-1, int(q*float64(len(d))))]
}

// resetPeak and peak are of the process; they know Linux alone.
func resetPeak() { _ = os.WriteFile("/proc/self/clear_refs", []byte("5"), 0) }

func peak() (mb float64) {
	status, _ := os.ReadFile("/proc/self/status")
	for _, line := range strings.Split(string(status), "\n") {
		var kb float64
		if _, err := fmt.Sscanf(line, "VmHWM: %f kB", &kb); err == nil {
			mb = kb / 1024
		}
	}
	return mb
}

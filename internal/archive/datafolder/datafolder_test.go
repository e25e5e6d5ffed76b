package datafolder_test

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"undersod/internal/archive"
	"undersod/internal/archive/datafolder"
	"undersod/internal/archive/disk"
	"undersod/internal/archive/fields"
)

var ctx = context.Background()

var crew = archive.Actor{Account: "crew", Role: archive.Crew}

func write(key string) archive.Write { return archive.Write{By: crew, Key: key} }

// keeper returns the rules over a folder, with a reader that makes a heading of
// lines such as "owner: A. Fernleaf".
func keeper(f *datafolder.Folder, now func() time.Time) *archive.Keeper {
	return &archive.Keeper{
		Store: f.Store, Blobs: f.Blobs, Now: now, Read: read, Compare: fields.Compare, Rewrite: rewrite,
		Random: func(b []byte) {
			for i := range b {
				b[i] = byte(rand.Uint32())
			}
		},
	}
}

func read(format string, job []byte) archive.Heading {
	h := archive.Heading{Fill: format}
	for _, line := range strings.Split(string(job), "\n") {
		key, value, _ := strings.Cut(line, ": ")
		switch key {
		case "owner":
			h.Owner = value
		case "permit":
			h.Permit = value
		case "date":
			h.Date = value
		}
	}
	return h
}

func rewrite(picture []byte) (full, thumbnail []byte, width, height int, err error) {
	return append([]byte("full "), picture...), append([]byte("small "), picture...), 4, 3, nil
}

func open(t testing.TB, path string) *datafolder.Folder {
	t.Helper()
	f, err := datafolder.Open(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// fill saves some visits with a photo each, and returns them.
func fill(t testing.TB, f *datafolder.Folder, n int) []archive.Saved {
	t.Helper()
	k := keeper(f, time.Now)
	var out []archive.Saved
	for i := range n {
		job := fmt.Sprintf("owner: Owner %d\npermit: T-2026-%04d\ndate: 2026-05-12\n", i, i)
		s, err := k.SaveVisit(ctx, write(fmt.Sprint("save ", i)), "", "", 0, "yaml", []byte(job))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := k.AddPhoto(ctx, write(fmt.Sprint("photo ", i)), s.Visit, "photos/box.jpg", []byte(job)); err != nil {
			t.Fatal(err)
		}
		out = append(out, s)
	}
	return out
}

// sound verifies everything that is kept, by the database and by the rules.
func sound(t testing.TB, f *datafolder.Folder) {
	t.Helper()
	if err := f.Check(ctx); err != nil {
		t.Errorf("check: %v", err)
	}
	faults, err := keeper(f, time.Now).Verify(ctx, nil)
	if err != nil || len(faults) > 0 {
		t.Errorf("verify: %v, %v", faults, err)
	}
}

func counts(t testing.TB, f *datafolder.Folder) (n archive.Counts) {
	t.Helper()
	err := f.Store.View(ctx, func(r archive.Reader) (err error) {
		n, err = r.Counts()
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// is tells whether an error is one of archive and names what it must name.
func is(t testing.TB, err, want error, names ...string) {
	t.Helper()
	if !errors.Is(err, want) {
		t.Fatalf("the error is %v, want %v", err, want)
	}
	for _, n := range names {
		if !strings.Contains(err.Error(), n) {
			t.Errorf("%q does not name %s", err, n)
		}
	}
}

func TestOpenMakesAndOpensAgain(t *testing.T) {
	path := filepath.Join(t.TempDir(), "data")
	f := open(t, path)
	fill(t, f, 3)
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	f = open(t, path)
	if n := counts(t, f); n != (archive.Counts{Sites: 3, Visits: 3, Photos: 3, Changes: 6}) {
		t.Errorf("%+v are there", n)
	}
	sound(t, f)
	if note, err := os.ReadFile(filepath.Join(path, "what-this-is.txt")); err != nil || !strings.Contains(string(note), "SQLite") {
		t.Errorf("the note is %q, %v", note, err)
	}
}

func TestASecondProgramIsKeptOut(t *testing.T) {
	path := filepath.Join(t.TempDir(), "data")
	f := open(t, path)
	fill(t, f, 1)
	_, err := datafolder.Open(ctx, path)
	is(t, err, disk.ErrTaken, "data")

	look, err := datafolder.Look(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	defer look.Close()
	if n := counts(t, look); n.Sites != 1 {
		t.Errorf("%d sites are seen", n.Sites)
	}
	err = look.Store.Update(ctx, func(archive.Writer) error { return nil })
	is(t, err, archive.ErrReadOnly, "archive.db")
	sound(t, look)
	fill(t, f, 2) // keys are known: only the second is new
	if n := counts(t, look); n.Sites != 2 {
		t.Errorf("%d sites are seen after another was written", n.Sites)
	}
}

func TestFoldersThatAreRefused(t *testing.T) {
	dir := t.TempDir()
	put := func(path, text string) {
		t.Helper()
		path = filepath.Join(dir, path)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	put("letters/to-the-county.txt", "...")
	put("file", "...")
	put("text/archive.db", strings.Repeat("this is no database\n", 400))
	put("lost/contents/ab/"+"ab"+strings.Repeat("0", 62), "x")
	put("log/archive.db-wal", "x")
	put("emptied/archive.db-wal", "x")
	put("emptied/archive.db", "")
	for path, words := range map[string]string{
		"letters": "holds \"to-the-county.txt\" and no archive",
		"file":    "not a directory",
		"a/b":     "a that it should lie in is not there",
		"text":    "archive.db",
		"lost":    "restore the newest backup",
		"log":     "restore the newest backup",
		"emptied": "restore the newest backup",
	} {
		_, err := datafolder.Open(ctx, filepath.Join(dir, path))
		if err == nil || !strings.Contains(err.Error(), words) {
			t.Errorf("%s: the error is %v, want one with %q", path, err, words)
		}
	}
	for _, path := range []string{"text", "lost", "log", "emptied"} {
		_, err := datafolder.Open(ctx, filepath.Join(dir, path))
		is(t, err, archive.ErrDamaged, "archive.db")
	}
	_, err := datafolder.Look(ctx, filepath.Join(dir, "letters"))
	is(t, err, archive.ErrNotFound, "letters")
}

func TestADamagedPhotoIsFound(t *testing.T) {
	path := filepath.Join(t.TempDir(), "data")
	f := open(t, path)
	saved := fill(t, f, 3)
	v, err := keeper(f, time.Now).Visit(ctx, crew, saved[1].Visit)
	if err != nil {
		t.Fatal(err)
	}
	h := v.Photos[0].Content
	file := filepath.Join(path, "contents", string(h[:2]), string(h))
	content, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	content[len(content)/2] ^= 4
	if err := os.WriteFile(file, content, 0o600); err != nil {
		t.Fatal(err)
	}
	_, err = f.Blobs.Get(ctx, h)
	is(t, err, archive.ErrDamaged, string(h[:12]))
	_, err = keeper(f, time.Now).Picture(ctx, crew, saved[1].Visit, "photos/box.jpg", false)
	is(t, err, archive.ErrDamaged)
	err = f.Check(ctx)
	is(t, err, archive.ErrDamaged, "1 content", string(h[:12]))
	var lacking *datafolder.Lacking
	if !errors.As(err, &lacking) || len(lacking.Contents) != 1 || lacking.Contents[0] != h {
		t.Errorf("the check found %v", err)
	}

	err = f.Backup(ctx, filepath.Join(t.TempDir(), "backup"))
	is(t, err, archive.ErrDamaged, "the backup is finished without", string(h[:12]))

	if err := os.Remove(file); err != nil {
		t.Fatal(err)
	}
	is(t, f.Check(ctx), archive.ErrDamaged, string(h[:12]))

	// Whoever has the picture still mends it by sending it again.
	if _, err := f.Blobs.Put(ctx, append([]byte("full "), []byte("owner: Owner 1\npermit: T-2026-0001\ndate: 2026-05-12\n")...)); err != nil {
		t.Fatal(err)
	}
	sound(t, f)
}

// TestClockJumps writes with a clock that goes back a month and ahead a year:
// nothing is lost, and the history stays in order.
func TestClockJumps(t *testing.T) {
	path := filepath.Join(t.TempDir(), "data")
	f := open(t, path)
	now := time.Date(2026, 5, 12, 9, 0, 0, 0, time.UTC)
	k := keeper(f, func() time.Time { return now })
	s, err := k.SaveVisit(ctx, write("0"), "", "", 0, "yaml", []byte("owner: A\n"))
	if err != nil {
		t.Fatal(err)
	}
	for i, jump := range []time.Duration{-30 * 24 * time.Hour, 0, 365 * 24 * time.Hour, -400 * 24 * time.Hour, time.Minute} {
		now = now.Add(jump)
		s, err = k.SaveVisit(ctx, write(fmt.Sprint(i+1)), s.Site, s.Visit, s.Revision, "yaml", fmt.Appendf(nil, "owner: A%d\n", i))
		if err != nil {
			t.Fatalf("jump %v: %v", jump, err)
		}
	}
	if s.Revision != 6 {
		t.Errorf("the visit stands at revision %d, want 6", s.Revision)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	sound(t, open(t, path))
}

package datafolder_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"undersod/internal/archive"
	"undersod/internal/archive/datafolder"
	"undersod/internal/archive/sqlite"
)

// running returns copies of the files of an archive as a program that was cut
// off leaves them: what was written is in the log alone, in part.
func running(t *testing.T) (database, log []byte, changes int64) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "data")
	f := open(t, path)
	fill(t, f, 30)
	if err := f.Close(); err != nil { // brings the log into the database
		t.Fatal(err)
	}
	f = open(t, path)
	fill(t, f, 60)
	read := func(name string) []byte {
		b, err := os.ReadFile(filepath.Join(path, name))
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	return read("archive.db"), read("archive.db-wal"), counts(t, f).Changes
}

// lay writes the two files into a new folder.
func lay(t *testing.T, database, log []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "archive.db")
	if err := errors.Join(os.WriteFile(file, database, 0o600), os.WriteFile(file+"-wal", log, 0o600)); err != nil {
		t.Fatal(err)
	}
	return file
}

// TestTornLog cuts the log at random bytes, and damages it there. The database
// is whole up to what is torn: no gap, no half update, and no panic.
func TestTornLog(t *testing.T) {
	database, log, all := running(t)
	r := rand.New(rand.NewPCG(1, 2026))
	seen := map[int64]bool{}
	for n := range 24 {
		torn := log[:r.IntN(len(log)+1)]
		if n%3 == 2 {
			torn = append([]byte{}, log...)
			torn[r.IntN(len(torn))] ^= 1 << r.IntN(8)
		}
		s, err := sqlite.Open(ctx, lay(t, database, torn))
		if err != nil {
			t.Fatalf("%d of %d bytes of the log: %v", len(torn), len(log), err)
		}
		if err := s.Check(ctx); err != nil {
			t.Errorf("%d of %d bytes of the log: %v", len(torn), len(log), err)
		}
		err = s.View(ctx, func(r archive.Reader) error {
			n, err := r.Counts()
			if n.Changes < 60 || n.Changes > all {
				t.Errorf("%d changes are there, 60 were in the database and %d with the log", n.Changes, all)
			}
			seen[n.Changes] = true
			return err
		})
		if err = errors.Join(err, s.Close()); err != nil {
			t.Error(err)
		}
	}
	if len(seen) < 5 {
		t.Errorf("only %d states were seen; the cuts test little", len(seen))
	}
}

// TestTornDatabase cuts the database at random bytes, and damages it there: it
// is refused or the check finds it, in words, or else all that is read is what
// was written, since the damage lies where nothing is kept. Nothing panics.
func TestTornDatabase(t *testing.T) {
	database, _, _ := running(t)
	whole, err := openAndRead(lay(t, database, nil))
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(2, 2026))
	found, harmless := 0, 0
	for n := range 48 {
		torn, what := tear(r, database, n%4 == 0)
		switch all, err := openAndRead(lay(t, torn, nil)); {
		case errors.Is(err, archive.ErrDamaged):
			found++
		case err != nil:
			t.Errorf("%s: the error is %v, want one that is %v", what, err, archive.ErrDamaged)
		case all != whole:
			t.Errorf("%s: nobody noticed, and something else is read", what)
		default:
			harmless++
		}
	}
	t.Logf("%d damages found, %d lay where nothing is kept", found, harmless)
	if found < 25 {
		t.Errorf("only %d damages were found", found)
	}
}

// tear returns a copy of a file that is cut off, or has a run of bytes changed
// that starts at one in use.
func tear(r *rand.Rand, file []byte, cut bool) ([]byte, string) {
	torn := append([]byte{}, file...)
	if cut {
		torn = torn[:1+r.IntN(len(torn)-1)]
		return torn, fmt.Sprintf("cut at byte %d of %d", len(torn), len(file))
	}
	at := r.IntN(len(torn))
	for torn[at] == 0 {
		at = r.IntN(len(torn))
	}
	length := min(len(torn)-at, 1+r.IntN(100))
	for i := range length {
		torn[at+i] ^= byte(1 + r.IntN(255))
	}
	return torn, fmt.Sprintf("%d bytes from %d of %d", length, at, len(file))
}

// openAndRead opens a database, checks it, reads everything in it, and writes.
func openAndRead(file string) (string, error) {
	s, err := sqlite.Open(ctx, file)
	if err != nil {
		return "", err
	}
	check := s.Check(ctx)
	var all strings.Builder
	read := s.View(ctx, func(r archive.Reader) error { return readAll(&all, r) })
	// What a write does to a damaged file is not told here, but it must return.
	_ = s.Update(ctx, func(w archive.Writer) error {
		err := w.PutSite(archive.Site{ID: "new", Heading: archive.Heading{Owner: "Owner"}})
		_, err1 := w.AddChange(archive.Change{Site: "new", Deed: archive.Made})
		return errors.Join(err, err1)
	})
	_ = s.Close()
	if check == nil {
		check = read
	}
	return all.String(), check
}

func readAll(to io.Writer, r archive.Reader) error {
	out := json.NewEncoder(to)
	var all []error
	found, err := r.Find(archive.Query{Words: "own t-2026", Most: 100})
	all = append(all, err, out.Encode(found))
	changes, err := r.Since(0, 1000)
	all = append(all, err, out.Encode(changes))
	for _, c := range changes {
		site, err := r.Site(c.Site)
		visits, err1 := r.Visits(c.Site)
		answer, err2 := r.Answered(fmt.Sprint("save ", c.Number/2))
		if errors.Is(err2, archive.ErrNotFound) {
			err2 = nil
		}
		all = append(all, err, err1, err2, out.Encode(site), out.Encode(visits), out.Encode(answer))
	}
	return errors.Join(all...)
}

func TestADatabaseCutInAFolder(t *testing.T) {
	path := filepath.Join(t.TempDir(), "data")
	f := open(t, path)
	fill(t, f, 10)
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(path, "archive.db")
	if err := os.Truncate(file, 10_000); err != nil {
		t.Fatal(err)
	}
	_, err := datafolder.Open(ctx, path)
	is(t, err, archive.ErrDamaged, "archive.db")
	if err := os.Truncate(file, 0); err != nil {
		t.Fatal(err)
	}
	_, err = datafolder.Open(ctx, path)
	is(t, err, archive.ErrDamaged, "archive.db", "restore the newest backup")
}

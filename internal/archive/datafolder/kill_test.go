package datafolder_test

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"undersod/internal/archive"
	"undersod/internal/archive/datafolder"
)

// The test program runs itself again as the one that is killed.
const childFolder, childSeed = "UNDERSOD_TEST_FOLDER", "UNDERSOD_TEST_SEED"

func TestMain(m *testing.M) {
	if path := os.Getenv(childFolder); path != "" {
		seed, err := strconv.ParseUint(os.Getenv(childSeed), 10, 64)
		if err == nil {
			err = writeUntilKilled(path, seed)
		}
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// writeUntilKilled writes at random from four sides, and tells of every write
// that was acknowledged.
func writeUntilKilled(path string, seed uint64) error {
	f, err := datafolder.Open(ctx, path)
	if err != nil {
		return err
	}
	k := keeper(f, time.Now)
	failed := make(chan error)
	for n := range uint64(4) {
		go func() { failed <- writeAtRandom(k, rand.New(rand.NewPCG(seed, n))) }()
	}
	return <-failed
}

func writeAtRandom(k *archive.Keeper, r *rand.Rand) error {
	var s archive.Saved
	standing := false
	for i := 0; ; i++ {
		var err error
		job := fmt.Appendf(nil, "owner: Owner %d\npermit: T-%d\n%s\n", r.IntN(1000), i, strings.Repeat("# a reading\n", r.IntN(1000)))
		w := write(fmt.Sprint(r.Uint64()))
		switch what := r.IntN(8); {
		case !standing || what < 2:
			s, err = k.SaveVisit(ctx, w, "", "", 0, "yaml", job)
			standing = true
		case what < 5:
			s, err = k.SaveVisit(ctx, w, s.Site, s.Visit, s.Revision, "yaml", job)
		case what < 7:
			s, err = k.AddPhoto(ctx, w, s.Visit, fmt.Sprintf("photos/%d.jpg", i), job)
		default:
			s, err = k.RemoveVisit(ctx, w, s.Visit, s.Revision)
			standing = false
		}
		if err != nil {
			return err
		}
		// One write of less than a pipe's buffer is not torn apart.
		if _, err := fmt.Fprintf(os.Stdout, "%s %s %d %d\n", s.Site, s.Visit, s.Revision, s.Change); err != nil {
			return err
		}
	}
}

// TestKilled ends a program that writes with SIGKILL, again and again, and
// after each time finds everything that was acknowledged, and nothing torn.
func TestKilled(t *testing.T) {
	least, kills := 300, 12
	if testing.Short() {
		least, kills = 50, 4
	}
	path := filepath.Join(t.TempDir(), "data")
	r := rand.New(rand.NewPCG(9, 2026))
	acknowledged := map[int64]archive.Saved{}
	for n := 0; n < kills || len(acknowledged) < least; n++ {
		after := r.IntN(80)
		if n%4 == 0 {
			after = 0 // while it opens, or soon after
		}
		for _, s := range runAndKill(t, path, uint64(n), after, time.Duration(r.IntN(15_000))*time.Microsecond) {
			acknowledged[s.Change] = s
		}
		everythingIsThere(t, path, acknowledged)
		if t.Failed() {
			t.Fatalf("after kill %d", n)
		}
	}
	t.Logf("%d acknowledged writes, all there", len(acknowledged))
}

// runAndKill starts the program, kills it some time after so many acknowledged
// writes, and returns all that it acknowledged.
func runAndKill(t *testing.T, path string, seed uint64, after int, late time.Duration) (out []archive.Saved) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	child := exec.Command(self)
	child.Env = append(os.Environ(), childFolder+"="+path, fmt.Sprintf("%s=%d", childSeed, seed))
	var said strings.Builder
	child.Stderr = &said
	pipe, err := child.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(pipe)
	read := func(most int) {
		for len(out) < most && lines.Scan() {
			var s archive.Saved
			if _, err := fmt.Sscan(lines.Text(), &s.Site, &s.Visit, &s.Revision, &s.Change); err != nil {
				t.Fatalf("%q: %v", lines.Text(), err)
			}
			out = append(out, s)
		}
	}
	read(after)
	time.Sleep(late)
	if err := child.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	read(1 << 30) // what it said before its end
	_, _ = io.Copy(io.Discard, pipe)
	_ = child.Wait()
	if said.Len() > 0 {
		t.Fatalf("the program ended by itself: %s", said.String())
	}
	return out
}

func everythingIsThere(t *testing.T, path string, acknowledged map[int64]archive.Saved) {
	t.Helper()
	f, err := datafolder.Open(ctx, path)
	if err != nil {
		t.Fatalf("open: %v", err)
	}
	defer f.Close()
	sound(t, f) // PRAGMA integrity_check, every row, every content, the whole history
	err = f.Store.View(ctx, func(r archive.Reader) error {
		for number, s := range acknowledged {
			c, err := r.Since(number-1, 1)
			if err != nil {
				return err
			}
			if len(c) == 0 || c[0].Number != number || c[0].Visit != s.Visit || c[0].Site != s.Site || c[0].Revision != s.Revision {
				t.Errorf("change %d of visit %s was acknowledged; now there is %+v", number, s.Visit, c)
			}
			v, err := r.Visit(s.Visit)
			if err != nil || v.Revision < s.Revision {
				t.Errorf("visit %s was acknowledged at revision %d, it stands at %d: %v", s.Visit, s.Revision, v.Revision, err)
			}
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}

package archive_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"undersod/internal/archive"
)

// TestVerifyFindsEveryKindOfDamage damages one thing at a time behind the
// keeper's back.
func TestVerifyFindsEveryKindOfDamage(t *testing.T) {
	site := func(edit func(*archive.Site)) func(*bench, scene) {
		return func(b *bench, s scene) {
			b.behind(func(w archive.Writer) error {
				v, err := w.Site(s.site)
				edit(&v)
				return errors.Join(err, w.PutSite(v))
			})
		}
	}
	visit := func(edit func(*archive.Visit)) func(*bench, scene) {
		return func(b *bench, s scene) {
			b.behind(func(w archive.Writer) error {
				v, err := w.Visit(s.visit)
				edit(&v)
				return errors.Join(err, w.PutVisit(v))
			})
		}
	}
	change := func(c archive.Change) func(*bench, scene) {
		return func(b *bench, s scene) {
			c.Site, c.Stamp.At = s.site, b.now
			if c.Visit != "" {
				c.Visit = s.visit
			}
			b.behind(func(w archive.Writer) error { _, err := w.AddChange(c); return err })
		}
	}
	content := func(of string) func(*bench, scene) {
		return func(b *bench, _ scene) {
			if !b.blobs.Damage(archive.HashOf([]byte(of))) {
				b.Errorf("%q is not there", of)
			}
		}
	}
	gone := archive.Stamp{}
	for _, c := range []struct {
		name   string
		damage func(*bench, scene)
		what   string
		words  string
	}{
		{"job file", content("owner: B"), "content", archive.ErrDamaged.Error()},
		{"job file of the history", content("owner: A"), "content", archive.ErrDamaged.Error()},
		{"photo", content("full picture"), "content", archive.ErrDamaged.Error()},
		{"thumbnail", content("small picture"), "content", archive.ErrDamaged.Error()},
		{"photo of the history", content("full picture that went"), "content", archive.ErrDamaged.Error()},
		{"content that is lost", content(""), "content", archive.ErrNotFound.Error()},
		{"site's heading", site(func(s *archive.Site) { s.Heading.Owner = "X" }), "heading", "what lists show of site"},
		{"visit's heading", visit(func(v *archive.Visit) { v.Heading.Mistakes++ }), "heading", "what lists show of visit"},
		{"site's revision", site(func(s *archive.Site) { s.Revision++ }), "site", "its history leads to"},
		{"site removed by nobody", site(func(s *archive.Site) { s.Deleted = &gone }), "site", "its history leads to"},
		{"visit's revision", visit(func(v *archive.Visit) { v.Revision-- }), "visit", "its history leads to"},
		{"visit's job file", visit(func(v *archive.Visit) { v.Job = archive.HashOf([]byte("owner: A")) }), "visit", "another job file"},
		{"visit removed by nobody", visit(func(v *archive.Visit) { v.Deleted = &gone }), "visit", "its history leads to"},
		{"photo away", visit(func(v *archive.Visit) { v.Photos = nil }), "visit", "the photo"},
		{"change of a site that skips a revision", change(archive.Change{Revision: 99}), "history", "makes revision 99 of site"},
		{"change that does not follow", change(archive.Change{Visit: "v", Revision: 6, Deed: archive.Altered, Before: "x", After: "y"}), "history", "not what stood before"},
		{"removal of what is not there", change(archive.Change{Visit: "v", Revision: 6, Deed: archive.Removed, Before: "x"}), "history", "does not stand"},
		{"recovery of what was not removed", change(archive.Change{Visit: "v", Revision: 6, Deed: archive.Recovered}), "history", "not removed"},
		{"photo out that was not in", change(archive.Change{Visit: "v", Revision: 6, Deed: archive.PhotoOut, Before: "x"}), "history", "was not there"},
		{"stamp that goes back", func(b *bench, s scene) {
			b.now = b.now.AddDate(-1, 0, 0)
			change(archive.Change{Revision: 6})(b, s)
		}, "history", "before the change before it"},
		{"site without a history", func(b *bench, s scene) {
			b.behind(func(w archive.Writer) error { return w.PutSite(archive.Site{ID: own(9), Revision: 1}) })
		}, "count", "the history tells of 2"},
		{"visit without a history", func(b *bench, s scene) {
			b.behind(func(w archive.Writer) error {
				return w.PutVisit(archive.Visit{ID: own(9), Site: s.site, Job: s.content})
			})
		}, "visit", "has no history"},
		{"visit altered before it was made", func(b *bench, s scene) {
			b.behind(func(w archive.Writer) error {
				_, err := w.AddChange(archive.Change{Site: s.site, Visit: own(8), Deed: archive.Altered, After: s.content, Revision: 1, Stamp: archive.Stamp{At: b.now}})
				return err
			})
		}, "history", "not what stood before"},
		{"history without a site", func(b *bench, s scene) {
			b.behind(func(w archive.Writer) error {
				_, err := w.AddChange(archive.Change{Site: own(9), Visit: own(8), Deed: archive.Made, Revision: 1})
				return err
			})
		}, "site", "which is not there"},
	} {
		b := newBench(t)
		s := b.scarred()
		b.sound()
		c.damage(b, s)
		faults, err := b.Verify(ctx, nil)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		if !told(faults, c.what, c.words) {
			t.Errorf("%s: no fault of kind %s says %q: %v", c.name, c.what, c.words, faults)
		}
	}
}

func told(faults []archive.Fault, what, words string) bool {
	for _, f := range faults {
		if f.What == what && f.About != "" && strings.Contains(f.Words, words) {
			return true
		}
	}
	return false
}

// behind changes the store without the keeper.
func (b *bench) behind(f func(archive.Writer) error) {
	b.Helper()
	if err := b.store.Update(ctx, f); err != nil {
		b.Fatal(err)
	}
}

// scarred makes a visit with a history and photos, and a site with an empty job
// file.
func (b *bench) scarred() scene {
	s := b.save("", "owner: A")
	b.must(b.SaveVisit(ctx, asCrew, "", s.Visit, 1, "yaml", []byte("owner: B")))
	b.must(b.AddPhoto(ctx, asCrew, s.Visit, "a.jpg", []byte("picture")))
	b.must(b.AddPhoto(ctx, asCrew, s.Visit, "b.jpg", []byte("picture that went")))
	b.must(b.RemovePhoto(ctx, asCrew, s.Visit, "b.jpg"))
	b.save("", "")
	return scene{s.Site, s.Visit, archive.HashOf([]byte("owner: A"))}
}

// gappy is a store that lost a change.
type gappy struct {
	archive.Store
	lost int64
}

func (g gappy) View(ctx context.Context, f func(archive.Reader) error) error {
	return g.Store.View(ctx, func(r archive.Reader) error { return f(gappyReader{r, g.lost}) })
}

type gappyReader struct {
	archive.Reader
	lost int64
}

func (g gappyReader) Since(number int64, most int) ([]archive.Change, error) {
	all, err := g.Reader.Since(number, most)
	return slices.DeleteFunc(all, func(c archive.Change) bool { return c.Number == g.lost }), err
}

func TestVerifyFindsALostChange(t *testing.T) {
	b := newBench(t)
	b.scarred()
	for lost := int64(1); lost <= 5; lost++ {
		b.Store = gappy{b.store, lost}
		faults, err := b.Verify(ctx, nil)
		if want := fmt.Sprintf("after change %d comes change %d", lost-1, lost+1); err != nil || !told(faults, "history", want) {
			t.Errorf("change %d is lost: %v, %v", lost, faults, err)
		}
	}
	b.Store = gappy{b.store, 6} // the last one
	faults, err := b.Verify(ctx, nil)
	if err != nil || !told(faults, "history", "of which 5 are there") {
		t.Errorf("the last change is lost: %v, %v", faults, err)
	}
}

func TestVerifyTellsHowFarItIs(t *testing.T) {
	b := newBench(t)
	b.scarred()
	var steps []string
	_, err := b.Verify(ctx, func(p archive.Progress) {
		if p.Done == p.All {
			steps = append(steps, p.Step)
		}
	})
	if got := fmt.Sprint(steps); err != nil || got != "[history history contents sites]" && got != "[history contents sites]" {
		t.Errorf("%v, %v", steps, err)
	}
	stopped, stop := context.WithCancel(ctx)
	_, err = b.Verify(stopped, func(archive.Progress) { stop() })
	b.is(err, context.Canceled)
}

// TestWritersAtTheSameTime lets many change one visit from the same base: each
// revision is made once, and who came late is told.
func TestWritersAtTheSameTime(t *testing.T) {
	b := newBench(t)
	s := b.save("", "a: 0")
	random := b.Random
	var mu sync.Mutex
	b.Random = func(p []byte) { mu.Lock(); defer mu.Unlock(); random(p) }
	var all sync.WaitGroup
	for writer := range 6 {
		all.Go(func() {
			for round := range 20 {
				v, err := b.Visit(ctx, crew, s.Visit)
				if err != nil {
					t.Error(err)
				}
				_, err = b.SaveVisit(ctx, asCrew, "", s.Visit, v.Revision, "yaml", fmt.Appendf(nil, "a: %d of %d", round, writer))
				if err != nil && !errors.Is(err, archive.ErrStale) {
					t.Error(err)
				}
				if _, err := b.SaveVisit(ctx, archive.Write{By: crew, Key: fmt.Sprint("round ", round)}, s.Site, "", 0, "yaml", fmt.Appendf(nil, "round %d", round)); err != nil {
					t.Error(err)
				}
			}
		})
	}
	all.Wait()
	_, visits, err := b.Site(ctx, crew, s.Site)
	if err != nil || len(visits) != 21 {
		t.Errorf("20 keys and one visit made %d visits: %v", len(visits), err)
	}
	b.sound()
}

package archive_test

import (
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"undersod/internal/archive"
)

// replayed is a visit as its history alone tells it.
type replayed struct {
	job      archive.Hash
	revision archive.Revision
	removed  bool
	photos   []archive.Hash // of the pictures, sorted
}

// replay follows the history of a site from its first change on.
func replay(t *testing.T, history []archive.Change) map[archive.ID]replayed {
	visits := map[archive.ID]replayed{}
	var last time.Time
	for _, c := range slices.Backward(history) {
		if c.Stamp.At.Before(last) {
			t.Errorf("change %d is stamped before the one before it", c.Number)
		}
		last = c.Stamp.At
		if c.Visit == "" {
			continue
		}
		v := visits[c.Visit]
		v.revision = c.Revision
		switch c.Deed {
		case archive.PhotoIn, archive.PhotoOut:
			v.photos = slices.Clone(v.photos)
			if at := slices.Index(v.photos, c.Before); at >= 0 {
				v.photos = slices.Delete(v.photos, at, at+1)
			}
			if c.After != "" {
				v.photos = append(v.photos, c.After)
			}
			slices.Sort(v.photos)
		case archive.Removed, archive.Recovered:
			v.removed = c.Deed == archive.Removed
		default:
			if c.Before != v.job {
				t.Errorf("change %d does not follow the one before it", c.Number)
			}
			v.job = c.After
		}
		visits[c.Visit] = v
	}
	return visits
}

// player does random things and remembers what was acknowledged.
type player struct {
	*bench
	*rand.Rand
	visits map[archive.ID]archive.Saved // the newest answer for each
	jobs   map[archive.ID]string        // what was acknowledged last
	ever   map[archive.Hash]string      // every job file that was acknowledged
	sites  []archive.ID
}

// TestRandomHistories holds after thousands of random requests, with repeated
// keys, stale bases and a clock that jumps, that what was acknowledged is what
// is there, that the history alone leads to it, and that nothing is wrong.
func TestRandomHistories(t *testing.T) {
	for seed := range uint64(4) {
		t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) {
			p := &player{newBench(t), rand.New(rand.NewPCG(seed, 20)), map[archive.ID]archive.Saved{}, map[archive.ID]string{}, map[archive.Hash]string{}, nil}
			for range 800 {
				p.now = p.now.Add(time.Duration(p.IntN(7200)-2400) * time.Second)
				p.play()
			}
			p.settle()
		})
	}
}

// any returns a visit and its newest answer.
func (p *player) any() archive.Saved {
	ids := slices.Sorted(maps.Keys(p.visits))
	if len(ids) == 0 {
		return archive.Saved{}
	}
	return p.visits[ids[p.IntN(len(ids))]]
}

// note remembers an answer, and holds that an error is one that can be.
func (p *player) note(s archive.Saved, err error, may ...error) bool {
	p.Helper()
	for _, e := range may {
		if errors.Is(err, e) {
			return false
		}
	}
	p.must(s, err)
	if s.Visit != "" && s.Revision >= p.visits[s.Visit].Revision {
		p.visits[s.Visit] = s
	}
	return true
}

func (p *player) play() {
	of := p.any()
	w := archive.Write{By: crew}
	if p.IntN(3) == 0 {
		w.Key = fmt.Sprint("key ", p.Uint64())
	}
	switch n := p.IntN(10); {
	case n < 2 || of.Visit == "":
		p.make(w)
	case n < 5:
		p.alter(w, of)
	case n < 7:
		name, picture := fmt.Sprintf("%d.jpg", p.IntN(3)), fmt.Appendf(nil, "picture %d", p.IntN(4))
		s, err := p.AddPhoto(ctx, w, of.Visit, name, picture)
		if p.note(s, err, archive.ErrRemoved, archive.ErrExists) && w.Key != "" {
			p.repeat(s)(p.AddPhoto(ctx, w, of.Visit, name, picture))
		}
	case n < 8:
		s, err := p.RemovePhoto(ctx, w, of.Visit, fmt.Sprintf("%d.jpg", p.IntN(3)))
		p.note(s, err, archive.ErrRemoved, archive.ErrNotFound)
	default:
		p.removeOrRecover(w, of)
	}
}

func (p *player) make(w archive.Write) {
	var site archive.ID
	if len(p.sites) > 0 && p.IntN(3) > 0 {
		site = p.sites[p.IntN(len(p.sites))]
	}
	job := p.job()
	s, err := p.SaveVisit(ctx, w, site, "", 0, "yaml", []byte(job))
	if !p.note(s, err, archive.ErrRemoved) {
		return
	}
	p.saved(s, job)
	if site == "" {
		p.sites = append(p.sites, s.Site)
	}
	if w.Key != "" {
		p.repeat(s)(p.SaveVisit(ctx, w, site, "", 0, "yaml", []byte(job)))
	}
}

func (p *player) saved(s archive.Saved, job string) {
	p.jobs[s.Visit], p.ever[archive.HashOf([]byte(job))] = job, job
}

// repeat holds a request that was sent again to the answer of the first.
func (p *player) repeat(first archive.Saved) func(archive.Saved, error) {
	return func(again archive.Saved, err error) {
		p.Helper()
		if err != nil || again != first {
			p.Errorf("sent again, %+v became %+v, %v", first, again, err)
		}
	}
}

func (p *player) alter(w archive.Write, of archive.Saved) {
	job, base := p.job(), of.Revision
	if p.IntN(4) == 0 {
		base = archive.Revision(p.IntN(int(of.Revision) + 2))
	}
	s, err := p.SaveVisit(ctx, w, "", of.Visit, base, "yaml", []byte(job))
	if p.note(s, err, archive.ErrRemoved, archive.ErrStale) {
		p.saved(s, job)
		if w.Key != "" {
			p.repeat(s)(p.SaveVisit(ctx, w, "", of.Visit, base, "yaml", []byte(job)))
		}
	}
}

func (p *player) removeOrRecover(w archive.Write, of archive.Saved) {
	switch p.IntN(6) {
	case 0:
		s, err := p.RemoveVisit(ctx, w, of.Visit, of.Revision)
		p.note(s, err, archive.ErrRemoved, archive.ErrStale)
	case 1, 2:
		s, err := p.RecoverVisit(ctx, w, of.Visit)
		p.note(s, err, archive.ErrRemoved)
	case 3:
		site, _, err := p.Site(ctx, crew, of.Site)
		if err != nil {
			p.Fatal(err)
		}
		p.must(p.RemoveSite(ctx, w, of.Site, site.Revision))
	default:
		p.must(p.RecoverSite(ctx, w, of.Site))
	}
}

func (p *player) job() string {
	return fmt.Sprintf("owner: owner %d\ndate: 2026-05-%02d\nnotes: note %d\nreadings: [%d, %d, %d]\n", p.IntN(9), 1+p.IntN(28), p.IntN(50), p.IntN(3), p.IntN(3), p.IntN(3))
}

// settle holds what is there against what was acknowledged and against the
// history.
func (p *player) settle() {
	p.sound()
	for _, id := range p.sites {
		_, visits, err := p.Site(ctx, crew, id)
		if err != nil {
			p.Fatal(err)
		}
		told := replay(p.T, p.history(id))
		if len(told) != len(visits) {
			p.Errorf("the history tells of %d visits, %d are there", len(told), len(visits))
		}
		for _, v := range visits {
			var photos []archive.Hash
			for _, f := range v.Photos {
				photos = append(photos, f.Content)
			}
			slices.Sort(photos)
			is := replayed{v.Job, v.Revision, v.Deleted != nil, photos}
			if fmt.Sprint(is) != fmt.Sprint(told[v.ID]) {
				p.Errorf("visit %s is %v, its history tells %v", v.ID, is, told[v.ID])
			}
			if _, job, err := p.Job(ctx, crew, v.ID); err != nil || string(job) != p.jobs[v.ID] {
				p.Errorf("visit %s holds %q, %q was acknowledged: %v", v.ID, job, p.jobs[v.ID], err)
			}
		}
	}
	for h, job := range p.ever {
		if kept, err := p.Blobs.Get(ctx, h); err != nil || string(kept) != job {
			p.Errorf("a job file that was acknowledged is %q: %v", kept, err)
		}
	}
}

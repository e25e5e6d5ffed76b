package archive

import (
	"context"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"time"
)

// Fault is something in the archive that is not as it must be.
type Fault struct {
	What  string // "content", "history", "site", "visit", "heading", "count"
	About string // its hash, number or ID
	Words string
}

// Progress is how far Verify has come.
type Progress struct {
	Step      string // "history", "contents", "sites"
	Done, All int64
}

// Verify reads everything and returns what is wrong with it: a content that
// something refers to is lost or damaged, a heading is not what the program
// makes of the job file, the history has a gap or does not lead to what stands.
// progress is called now and then. The error tells that it could not go on.
// Others may write meanwhile; what they write is checked or not.
func (k *Keeper) Verify(ctx context.Context, progress func(Progress)) ([]Fault, error) {
	c := check{keeper: k, progress: progress, sites: map[ID]*trail{}, visits: map[ID]*trail{}}
	var contents []Hash
	err := k.Store.View(ctx, func(r Reader) (err error) {
		if err = c.history(ctx, r); err != nil {
			return err
		}
		if err = c.ends(r); err != nil {
			return err
		}
		contents, err = r.Contents()
		return err
	})
	if err == nil {
		err = c.contents(ctx, contents)
	}
	if err == nil {
		err = c.headings(ctx)
	}
	return c.faults, err
}

// check gathers faults.
type check struct {
	keeper   *Keeper
	progress func(Progress)
	faults   []Fault
	sites    map[ID]*trail
	visits   map[ID]*trail
	order    []ID // the sites, as the history names them first
}

// trail is where the history of a site or a visit has come to.
type trail struct {
	site     ID
	revision Revision
	job      Hash
	deleted  bool
	made     bool
	last     time.Time
	photos   map[Hash]int
}

func (c *check) fault(what, about, words string, args ...any) {
	c.faults = append(c.faults, Fault{what, about, fmt.Sprintf(words, args...)})
}

// history follows every change from the first on.
func (c *check) history(ctx context.Context, r Reader) error {
	counts, err := r.Counts()
	if err != nil {
		return err
	}
	var last, read int64
	for {
		page, err := r.Since(last, 2*MostListed)
		if err != nil {
			return err
		}
		for _, change := range page {
			if change.Number != last+1 {
				c.fault("history", fmt.Sprint(change.Number), "after change %d comes change %d; what lay between is lost", last, change.Number)
			}
			last = change.Number
			read++
			c.follow(change)
		}
		c.tell("history", last, counts.Changes)
		if err := ctx.Err(); err != nil {
			return err
		}
		if len(page) == 0 {
			break
		}
	}
	if read != counts.Changes {
		c.fault("history", fmt.Sprint(last), "%d changes are counted, of which %d are there", counts.Changes, read)
	}
	return nil
}

func (c *check) tell(step string, done, all int64) {
	if c.progress != nil {
		c.progress(Progress{step, done, all})
	}
}

// trailOf returns the trail of a thing, a new one where it is not known.
func trailOf(all map[ID]*trail, id, site ID) (t *trail, fresh bool) {
	if t = all[id]; t == nil {
		t, fresh = &trail{site: site, photos: map[Hash]int{}}, true
		all[id] = t
	}
	return t, fresh
}

// follow takes one change.
func (c *check) follow(change Change) {
	site, fresh := trailOf(c.sites, change.Site, change.Site)
	if fresh {
		c.order = append(c.order, change.Site)
	}
	about := fmt.Sprint(change.Number)
	if change.Stamp.At.Before(site.last) {
		c.fault("history", about, "change %d is stamped %s, before the change before it of the same site", change.Number, change.Stamp.At.Format(time.RFC3339))
	}
	site.last = change.Stamp.At
	site.revision++
	if change.Visit == "" {
		if change.Revision != site.revision {
			c.fault("history", about, "change %d makes revision %d of site %s, where %d is due", change.Number, change.Revision, change.Site, site.revision)
		}
		site.deleted = change.Deed == Removed
		return
	}
	visit, _ := trailOf(c.visits, change.Visit, change.Site)
	visit.revision++
	if change.Revision != visit.revision || change.Site != visit.site {
		c.fault("history", about, "change %d makes revision %d of visit %s, where %d is due", change.Number, change.Revision, change.Visit, visit.revision)
	}
	if words := visit.step(change); words != "" {
		c.fault("history", about, "change %d of visit %s: %s", change.Number, change.Visit, words)
	}
}

// step takes a change of a visit and tells what does not fit.
func (t *trail) step(c Change) string {
	switch c.Deed {
	case PhotoIn, PhotoOut:
		return t.stepPhoto(c)
	case Removed:
		if t.deleted || c.Before != t.job {
			return "what is removed does not stand"
		}
		t.deleted = true
	case Recovered:
		if !t.deleted || c.After != t.job {
			return "what is recovered was not removed"
		}
		t.deleted = false
	default:
		was := t.job
		t.job = c.After
		if c.Before != was || t.deleted || t.made != (c.Deed == Altered) {
			t.made = true
			return "what it changes is not what stood before"
		}
		t.made = true
	}
	return ""
}

func (t *trail) stepPhoto(c Change) string {
	if c.Before != "" {
		t.photos[c.Before]--
		if t.photos[c.Before] < 0 {
			return "the photo that is taken away was not there"
		}
	}
	if c.After != "" {
		t.photos[c.After]++
	}
	return ""
}

// ends holds what stands against where the history leads.
func (c *check) ends(r Reader) error {
	var seen int64
	for _, id := range c.order {
		site, visits, err := whole(r, id)
		if absent(err) {
			c.fault("site", string(id), "the history tells of site %s, which is not there", id)
			continue
		}
		if err != nil {
			return fmt.Errorf("site %s: %w", id, err)
		}
		if t := c.sites[id]; t.revision != site.Revision || t.deleted != (site.Deleted != nil) {
			c.fault("site", string(id), "site %s stands at revision %d (removed: %v), its history leads to %d (removed: %v)", id, site.Revision, site.Deleted != nil, t.revision, t.deleted)
		}
		for _, v := range visits {
			seen++
			c.end(v)
		}
	}
	return c.counts(r, seen)
}

// end holds a visit against its history.
func (c *check) end(v Visit) {
	t, fresh := trailOf(c.visits, v.ID, v.Site)
	if fresh {
		c.fault("visit", string(v.ID), "visit %s has no history", v.ID)
		return
	}
	if t.revision != v.Revision || t.job != v.Job || t.deleted != (v.Deleted != nil) || t.site != v.Site {
		c.fault("visit", string(v.ID), "visit %s stands at revision %d (removed: %v), its history leads to %d (removed: %v) or to another job file", v.ID, v.Revision, v.Deleted != nil, t.revision, t.deleted)
	}
	for _, p := range v.Photos {
		t.photos[p.Content]--
	}
	for _, h := range slices.Sorted(maps.Keys(t.photos)) {
		if t.photos[h] != 0 {
			c.fault("visit", string(v.ID), "the photo %s of visit %s stands where its history took it away, or the other way round", h, v.ID)
		}
	}
}

// counts tells of sites and visits that no history leads to, and of visits that
// are not there.
func (c *check) counts(r Reader, visits int64) error {
	counts, err := r.Counts()
	if err != nil {
		return err
	}
	if n := int64(len(c.order)); counts.Sites != n {
		c.fault("count", "sites", "%d sites are kept, the history tells of %d", counts.Sites, n)
	}
	if counts.Visits != visits || int64(len(c.visits)) != visits {
		c.fault("count", "visits", "%d visits are kept, %d of them are of known sites, the history tells of %d", counts.Visits, visits, len(c.visits))
	}
	return nil
}

// contents reads every content that something refers to.
func (c *check) contents(ctx context.Context, all []Hash) error {
	for i, h := range all {
		_, err := c.keeper.Blobs.Get(ctx, h)
		if stop := ctx.Err(); stop != nil {
			return stop
		}
		if err != nil {
			c.fault("content", string(h), "the content %s: %v", h, err)
		}
		c.tell("contents", int64(i+1), int64(len(all)))
	}
	return nil
}

// headings makes every heading again.
func (c *check) headings(ctx context.Context) error {
	for i, id := range c.order {
		var site Site
		var visits []Visit
		err := c.keeper.Store.View(ctx, func(r Reader) (err error) {
			site, visits, err = whole(r, id)
			return err
		})
		if absent(err) {
			continue // told already
		}
		if err != nil {
			return err
		}
		if err := c.made(ctx, site, visits); err != nil {
			return err
		}
		c.tell("sites", int64(i+1), int64(len(c.order)))
	}
	return nil
}

// made holds the headings of a site against what is made of its job files.
func (c *check) made(ctx context.Context, site Site, visits []Visit) error {
	for _, v := range visits {
		job, err := c.keeper.Blobs.Get(ctx, v.Job)
		if stop := ctx.Err(); stop != nil {
			return stop
		}
		if err == nil && !reflect.DeepEqual(c.keeper.heading(v.Format, job), v.Heading) {
			c.fault("heading", string(v.ID), "what lists show of visit %s is not what its job file says; the headings must be made again", v.ID)
		}
	}
	if !reflect.DeepEqual(siteHeading(visits), site.Heading) {
		c.fault("heading", string(site.ID), "what lists show of site %s is not what its visits say; the headings must be made again", site.ID)
	}
	return nil
}

package archive

import (
	"context"
	"fmt"
	"reflect"
)

// Remake makes every heading again from the job files, as a newer program may
// read more in them, and returns how many sites it changed. The history tells
// nothing of it, for nobody changed a job file. A visit whose job file is lost
// or damaged keeps its heading. It may be stopped and begun again at any time,
// while others write.
func (k *Keeper) Remake(ctx context.Context, progress func(Progress)) (changed int64, err error) {
	c := check{keeper: k, progress: progress, sites: map[ID]*trail{}, visits: map[ID]*trail{}}
	err = k.Store.View(ctx, func(r Reader) error { return c.history(ctx, r) })
	for i, id := range c.order {
		if err != nil {
			return changed, err
		}
		var mended bool
		if mended, err = k.remake(ctx, id); mended {
			changed++
		}
		c.tell("sites", int64(i+1), int64(len(c.order)))
	}
	return changed, err
}

// remake makes the headings of one site again.
func (k *Keeper) remake(ctx context.Context, id ID) (bool, error) {
	made := map[Hash]Heading{} // by job file and format
	key := func(v Visit) Hash { return Request(v.Format, v.Job) }
	stale := false
	err := k.Store.View(ctx, func(r Reader) error {
		site, visits, err := whole(r, id)
		for i, v := range visits {
			if job, lost := k.Blobs.Get(ctx, v.Job); lost == nil {
				made[key(v)] = k.heading(v.Format, job)
				stale = stale || !reflect.DeepEqual(made[key(v)], v.Heading)
				visits[i].Heading = made[key(v)]
			}
		}
		stale = stale || !reflect.DeepEqual(siteHeading(visits), site.Heading)
		return err
	})
	if absent(err) || err == nil && !stale {
		return false, ctx.Err()
	}
	if err != nil {
		return false, fmt.Errorf("site %s: %w", id, err)
	}
	err = k.Store.Update(ctx, func(tx Writer) error {
		site, visits, err := whole(tx, id)
		for i, v := range visits {
			h, known := made[key(v)]
			if err == nil && known && !reflect.DeepEqual(h, v.Heading) {
				visits[i].Heading = h
				err = tx.PutVisit(visits[i])
			}
		}
		if err != nil {
			return err
		}
		// Dates may have changed, and with them the order.
		if visits, err = tx.Visits(id); err != nil {
			return err
		}
		site.Heading = siteHeading(visits)
		return tx.PutSite(site)
	})
	return err == nil, err
}

// whole returns a site with its visits.
func whole(r Reader, id ID) (Site, []Visit, error) {
	site, err := r.Site(id)
	if err != nil {
		return site, nil, err
	}
	visits, err := r.Visits(id)
	return site, visits, err
}

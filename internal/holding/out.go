package holding

import (
	"bytes"
	"context"
	"io"
	"slices"

	"undersod/core/adjust"
	"undersod/internal/archive"
	"undersod/internal/bundle"
	"undersod/internal/jobfile"
)

// Export writes a site as an open zip: all visits, removed ones too, with their
// photos and the history.
func (a *Archive) Export(ctx context.Context, by archive.Actor, id archive.ID, w io.Writer) error {
	site, visits, err := a.Records.Site(ctx, by, id)
	if err != nil {
		return err
	}
	changes, err := a.history(ctx, by, id)
	if err != nil {
		return err
	}
	return bundle.Write(ctx, w, bundle.Site{Site: site, Visits: visits, Changes: changes}, a.Folder.Blobs)
}

// history returns every change of a site, the oldest first.
func (a *Archive) history(ctx context.Context, by archive.Actor, id archive.ID) ([]archive.Change, error) {
	var all []archive.Change
	for before := int64(0); ; {
		page, err := a.Records.Changes(ctx, by, id, before, archive.MostListed)
		if err != nil {
			return nil, err
		}
		if len(page) == 0 {
			break
		}
		all = append(all, page...)
		before = page[len(page)-1].Number
	}
	slices.Reverse(all)
	return all, nil
}

// GeoJSON writes what the newest visit of a site has located. bundle.ErrNoPlace
// where it does not know where on earth it lies.
func (a *Archive) GeoJSON(ctx context.Context, id archive.ID) ([]byte, error) {
	_, visits, err := a.Records.Site(ctx, archive.Program(), id)
	if err != nil {
		return nil, err
	}
	at := slices.IndexFunc(visits, func(v archive.Visit) bool { return v.Deleted == nil })
	if at < 0 {
		return nil, archive.Told(archive.ErrNotFound, "site %s has no visit that stands", id)
	}
	_, text, err := a.Records.Job(ctx, archive.Program(), visits[at].ID)
	if err != nil {
		return nil, err
	}
	read, err := jobfile.Read("job."+visits[at].Format, bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	return bundle.GeoJSON(&read.Job, adjust.Solve(&read.Job, adjust.Settings{}))
}

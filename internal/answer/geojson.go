package answer

import (
	"context"
	"errors"

	"undersod/core/rules"
	"undersod/core/site"
	"undersod/internal/bundle"
)

// GeoJSON tells what a plan has located in longitude and latitude, as a
// FeatureCollection of RFC 7946.
func (d *Desk) GeoJSON(ctx context.Context, j Job) (File, error) {
	return with(ctx, d, j, func(o *opened, _ *rules.Pack, _ []site.Problem) (File, error) {
		text, err := bundle.GeoJSON(&o.result.Job, o.plan)
		if errors.Is(err, bundle.ErrNoPlace) {
			return File{}, notThere("%v", bundle.ErrNoPlace)
		}
		return File{"application/geo+json", ".geojson", text}, err
	})
}

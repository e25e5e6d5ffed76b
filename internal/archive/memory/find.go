package memory

import (
	"cmp"
	"slices"

	"undersod/internal/archive"
	"undersod/internal/archive/words"
)

// hit is a site that a search found.
type hit struct {
	found archive.FoundSite
	put   int64
}

func (r reader) Find(q archive.Query) (archive.Found, error) {
	asked := words.Asked(q.Words)
	var hits []hit
	for _, row := range r.sites.rows {
		if (row.site.Deleted != nil) != q.Deleted || !words.Match(row.index, asked) {
			continue
		}
		h := hit{archive.FoundSite{Site: row.site}, row.put}
		if q.Near != nil && !near(*q.Near, &h.found) {
			continue
		}
		hits = append(hits, h)
	}
	slices.SortFunc(hits, order(q.Near != nil))
	return page(hits, q), nil
}

// near measures the distance of a site and reports whether it is within reach.
func near(n archive.Near, s *archive.FoundSite) bool {
	if s.Heading.Latitude == nil || s.Heading.Longitude == nil {
		return false
	}
	s.Distance = n.Distance(*s.Heading.Latitude, *s.Heading.Longitude)
	return !(n.Within > 0) || s.Distance <= n.Within
}

func order(byDistance bool) func(a, b hit) int {
	if byDistance {
		return func(a, b hit) int {
			return cmp.Or(cmp.Compare(a.found.Distance, b.found.Distance), cmp.Compare(a.found.ID, b.found.ID))
		}
	}
	return func(a, b hit) int { return cmp.Compare(b.put, a.put) }
}

// page cuts out what was asked for.
func page(hits []hit, q archive.Query) archive.Found {
	hits = hits[min(len(hits), max(0, q.Skip)):]
	most := limit(q.Most)
	out := archive.Found{More: len(hits) > most}
	for _, h := range hits[:min(len(hits), most)] {
		h.found.Site = copySite(h.found.Site)
		out.Sites = append(out.Sites, h.found)
	}
	return out
}

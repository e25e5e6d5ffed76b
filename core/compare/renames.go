package compare

import (
	"strings"

	"undersod/core/site"
)

// Renames reads what was renamed, each entry as OLD=NEW: what it was called
// before and what it is called now. Refuse makes the error for an entry that is
// not written so or, with twice, that names what an earlier entry named.
func Renames(list []string, refuse func(entry string, twice bool) error) (map[site.Name]site.Name, error) {
	out, taken := map[site.Name]site.Name{}, map[site.Name]bool{}
	for _, one := range list {
		before, after, ok := strings.Cut(one, "=")
		was, is := site.Name(strings.TrimSpace(before)), site.Name(strings.TrimSpace(after))
		if !ok || was == "" || is == "" {
			return nil, refuse(one, false)
		}
		if _, twice := out[was]; twice || taken[is] {
			return nil, refuse(one, true)
		}
		out[was], taken[is] = is, true
	}
	return out, nil
}

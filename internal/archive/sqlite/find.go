package sqlite

import (
	"strings"

	"undersod/internal/archive"
	"undersod/internal/archive/words"
)

func joined(list []string) string { return strings.Join(list, " ") }

func (r reader) Find(q archive.Query) (archive.Found, error) {
	asked := words.Asked(q.Words)
	most, skip := limit(q.Most), max(0, q.Skip)
	switch {
	case q.Near != nil:
		return r.near(q, asked, skip, most)
	case len(asked) > 0:
		return page(r.matching(match(asked, q.Deleted), skip, most+1))(most)
	case q.Deleted:
		return page(sites.all(r.caller, "WHERE deleted_at IS NOT NULL ORDER BY put DESC LIMIT ? OFFSET ?", most+1, skip))(most)
	}
	return page(sites.all(r.caller, "WHERE deleted_at IS NULL ORDER BY put DESC LIMIT ? OFFSET ?", most+1, skip))(most)
}

// match writes a search as FTS5 reads it: every word as the start of one.
func match(asked []string, deleted bool) string {
	parts := make([]string, 0, len(asked)+1)
	for _, a := range asked {
		parts = append(parts, `"`+a+`"*`)
	}
	if deleted {
		return strings.Join(append(parts, `"`+deletedWord+`"`), " AND ")
	}
	return "(" + strings.Join(parts, " AND ") + `) NOT "` + deletedWord + `"`
}

func (r reader) matching(match string, skip, most int) ([]siteRow, error) {
	return sites.all(r.caller, `WHERE put IN (SELECT rowid FROM search WHERE search MATCH ? ORDER BY rowid DESC LIMIT ? OFFSET ?)
		ORDER BY put DESC`, match, most, skip)
}

// page makes an answer of one row more than was asked for.
func page(rows []siteRow, err error) func(most int) (archive.Found, error) {
	return func(most int) (archive.Found, error) {
		out := archive.Found{More: len(rows) > most}
		for _, row := range rows[:min(len(rows), most)] {
			out.Sites = append(out.Sites, archive.FoundSite{Site: row.Site})
		}
		return out, err
	}
}

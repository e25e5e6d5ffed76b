package sqlite

import (
	"cmp"
	"database/sql"
	"encoding/json"
	"slices"
	"strings"

	"undersod/core/unit"
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

// spot is a site that may be near, before its row is read.
type spot struct {
	put      int64
	id       archive.ID
	distance unit.Length
}

// Near is looked for in rings that grow, so that a search without a limit does
// not measure every site there is.
const (
	firstRing  = 500 * unit.Metre
	ringGrows  = 4
	wholeEarth = 21_000_000 * unit.Metre // more than half the way around
)

func (r reader) near(q archive.Query, asked []string, skip, most int) (archive.Found, error) {
	wanted, err := r.wanted(asked, q.Deleted)
	if err != nil {
		return archive.Found{}, err
	}
	last := wholeEarth
	if q.Near.Within > 0 {
		last = min(last, q.Near.Within)
	}
	for reach := min(firstRing, last); ; reach = min(reach*ringGrows, last) {
		spots, err := r.ring(*q.Near, reach, q.Deleted, wanted)
		if err != nil {
			return archive.Found{}, err
		}
		if len(spots) > skip+most || reach >= last {
			return r.nearest(spots, skip, most)
		}
	}
}

// ring returns the spots within reach, unsorted.
func (r reader) ring(n archive.Near, reach unit.Length, deleted bool, wanted map[int64]bool) ([]spot, error) {
	n.Within = reach
	var out []spot
	for _, b := range n.Boxes() {
		err := r.each(`SELECT put, id, latitude, longitude FROM places
			WHERE east >= ? AND west <= ? AND north >= ? AND south <= ? AND deleted = ?`, func(rows *sql.Rows) error {
			var s spot
			var latitude, longitude float64
			if err := rows.Scan(&s.put, &s.id, &latitude, &longitude); err != nil {
				return err
			}
			s.distance = n.Distance(unit.Angle(latitude), unit.Angle(longitude))
			if s.distance <= reach && (wanted == nil || wanted[s.put]) {
				out = append(out, s)
			}
			return nil
		}, b.West.Radians(), b.East.Radians(), b.South.Radians(), b.North.Radians(), deleted)
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// wanted returns which sites have the words asked for; nil for all.
func (r reader) wanted(asked []string, deleted bool) (map[int64]bool, error) {
	if len(asked) == 0 {
		return nil, nil
	}
	// One row with all numbers is read several times faster than as many rows.
	var list []byte
	err := r.each("SELECT json_group_array(rowid) FROM search WHERE search MATCH ?", func(rows *sql.Rows) error {
		return rows.Scan(&list)
	}, match(asked, deleted))
	if err != nil {
		return nil, err
	}
	var puts []int64
	if err := json.Unmarshal(list, &puts); err != nil {
		return nil, err
	}
	out := make(map[int64]bool, len(puts))
	for _, p := range puts {
		out[p] = true
	}
	return out, nil
}

// nearest sorts spots, cuts out those asked for and reads their sites.
func (r reader) nearest(spots []spot, skip, most int) (archive.Found, error) {
	slices.SortFunc(spots, func(a, b spot) int {
		return cmp.Or(cmp.Compare(a.distance, b.distance), cmp.Compare(a.id, b.id))
	})
	spots = slices.CompactFunc(spots, func(a, b spot) bool { return a.put == b.put }) // one on the edge of two boxes
	spots = spots[min(len(spots), skip):]
	out := archive.Found{More: len(spots) > most}
	for _, s := range spots[:min(len(spots), most)] {
		row, err := sites.one(r.caller, "WHERE put = ?", s.put)
		if err != nil {
			return archive.Found{}, err
		}
		out.Sites = append(out.Sites, archive.FoundSite{Site: row.Site, Distance: s.distance})
	}
	return out, nil
}

package sqlite

import (
	"bytes"
	"cmp"
	"database/sql"
	"encoding/json"
	"math"
	"slices"

	"undersod/core/unit"
	"undersod/internal/archive"
)

// spot is a site that may be near, before its row is read.
type spot struct {
	put      int64
	id       archive.ID
	distance unit.Length
}

func nearer(a, b spot) int {
	return cmp.Or(cmp.Compare(a.distance, b.distance), cmp.Compare(a.id, b.id))
}

// Near is looked for in rings that grow, so that a search without a limit does
// not measure every site there is. Where words are asked for too and few sites
// have them, or many but none about here, those that have them are measured
// instead.
const (
	firstRing  = 500 * unit.Metre
	wholeEarth = 21_000_000 * unit.Metre // more than half the way around
	fewMatches = 2000
	mostSeen   = 20_000
)

func (r reader) near(q archive.Query, asked []string, skip, most int) (archive.Found, error) {
	n := *q.Near
	if !(n.Within > 0 && n.Within < wholeEarth) {
		n.Within = wholeEarth
	}
	few, err := r.few(asked, q.Deleted)
	if err != nil {
		return archive.Found{}, err
	}
	var spots []spot
	if few {
		spots, err = r.matched(n, asked, q.Deleted)
	} else {
		spots, err = r.rings(n, asked, q.Deleted, skip+most+1)
	}
	if err != nil {
		return archive.Found{}, err
	}
	return r.nearest(spots, skip, most)
}

// few reports whether few sites have the words asked for.
func (r reader) few(asked []string, deleted bool) (bool, error) {
	if len(asked) == 0 {
		return false, nil
	}
	n, err := r.number("SELECT count(*) FROM (SELECT 1 FROM search WHERE search MATCH ? LIMIT ?)", match(asked, deleted), fewMatches)
	return n < fewMatches, err
}

// rings returns the nearest spots that have the words asked for, so many of
// them or all that are within reach.
func (r reader) rings(n archive.Near, asked []string, deleted bool, wanted int) ([]spot, error) {
	known := map[int64]bool{}
	for reach := min(firstRing, n.Within); ; {
		ring := n
		ring.Within = reach
		spots, err := r.ring(ring, deleted)
		if err != nil {
			return nil, err
		}
		hits, err := r.having(spots, asked, wanted, known)
		switch {
		case err != nil || len(hits) >= wanted || reach >= n.Within:
			return hits, err
		case len(asked) > 0 && len(spots) > mostSeen:
			return r.matched(n, asked, deleted)
		}
		// As far as so many would lie if they lay as dense as these.
		grow := math.Sqrt(1.3 * float64(wanted) / float64(max(1, len(hits))))
		reach = min(reach*unit.Length(min(4, max(1.25, grow))), n.Within)
	}
}

// ring returns the spots within reach, the nearest first.
func (r reader) ring(n archive.Near, deleted bool) (out []spot, err error) {
	for _, b := range n.Boxes() {
		err := r.each(`SELECT put, id, latitude, longitude FROM places
			WHERE east >= ? AND west <= ? AND north >= ? AND south <= ? AND deleted = ?`, within(n, &out),
			b.West.Radians(), b.East.Radians(), b.South.Radians(), b.North.Radians(), deleted)
		if err != nil {
			return nil, err
		}
	}
	slices.SortFunc(out, nearer)
	// One on the edge of two boxes is in both.
	return slices.CompactFunc(out, func(a, b spot) bool { return a.put == b.put }), nil
}

// matched returns the spots within reach among those that have the words, the
// nearest first.
func (r reader) matched(n archive.Near, asked []string, deleted bool) (out []spot, err error) {
	err = r.each(`SELECT put, id, latitude, longitude FROM sites
		WHERE put IN (SELECT rowid FROM search WHERE search MATCH ?) AND latitude IS NOT NULL AND longitude IS NOT NULL`,
		within(n, &out), match(asked, deleted))
	slices.SortFunc(out, nearer)
	return out, err
}

// within takes rows of a number, an ID and a position, and keeps those within
// reach.
func within(n archive.Near, out *[]spot) func(*sql.Rows) error {
	return func(rows *sql.Rows) error {
		var s spot
		var latitude, longitude float64
		err := rows.Scan(&s.put, &s.id, &latitude, &longitude)
		s.distance = n.Distance(unit.Angle(latitude), unit.Angle(longitude))
		if err == nil && s.distance <= n.Within {
			*out = append(*out, s)
		}
		return err
	}
}

// having returns the first of some spots that have the words asked for, at most
// so many. What it learns of a spot it keeps in known.
func (r reader) having(spots []spot, asked []string, most int, known map[int64]bool) ([]spot, error) {
	if len(asked) == 0 {
		return spots, nil
	}
	const together = 256
	var out []spot
	for part := range slices.Chunk(spots, together) {
		if err := r.learn(part, asked, known); err != nil {
			return nil, err
		}
		for _, s := range part {
			if known[s.put] {
				out = append(out, s)
			}
		}
		if len(out) >= most {
			break
		}
	}
	return out, nil
}

// learn finds out which spots have the words asked for.
func (r reader) learn(spots []spot, asked []string, known map[int64]bool) error {
	var unknown []int64
	for _, s := range spots {
		if _, there := known[s.put]; !there {
			unknown = append(unknown, s.put)
		}
	}
	if len(unknown) == 0 {
		return nil
	}
	list, err := json.Marshal(unknown)
	if err != nil {
		return err
	}
	return r.each("SELECT put, found_by FROM sites WHERE put IN (SELECT value FROM json_each(?))", func(rows *sql.Rows) error {
		var put int64
		var words sql.RawBytes
		err := rows.Scan(&put, &words)
		known[put] = has(words, asked)
		return err
	}, string(list))
}

// has reports whether each word asked for starts one of the words of a row,
// which stand between spaces.
func has(words []byte, asked []string) bool {
	for _, a := range asked {
		if !bytes.HasPrefix(words, []byte(a)) && !bytes.Contains(words, []byte(" "+a)) {
			return false
		}
	}
	return true
}

// nearest cuts out the spots asked for and reads their sites.
func (r reader) nearest(spots []spot, skip, most int) (archive.Found, error) {
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

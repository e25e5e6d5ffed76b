package sqlite

import (
	"database/sql"

	"undersod/internal/archive"
)

// reader reads within one transaction.
type reader struct{ caller }

func limit(most int) int {
	if most <= 0 {
		return archive.DefaultMost
	}
	return most
}

func (r reader) Site(id archive.ID) (archive.Site, error) {
	row, err := sites.one(r.caller, "WHERE id = ?", string(id))
	return row.Site, err
}

func (r reader) Visit(id archive.ID) (archive.Visit, error) {
	found, err := r.visits("WHERE id = ?", "WHERE visit = ? ORDER BY place", string(id))
	if err == nil && len(found) == 0 {
		err = archive.ErrNotFound
	}
	if err != nil {
		return archive.Visit{}, err
	}
	return found[0], nil
}

func (r reader) Visits(site archive.ID) ([]archive.Visit, error) {
	return r.visits("WHERE site = ? ORDER BY date DESC, created_at DESC, id",
		"WHERE visit IN (SELECT id FROM visits WHERE site = ?) ORDER BY visit, place", string(site))
}

// visits reads visits, and their photos by a second query with the same argument.
func (r reader) visits(where, wherePhotos, arg string) ([]archive.Visit, error) {
	rows, err := visits.all(r.caller, where, arg)
	if err != nil || len(rows) == 0 {
		return nil, err
	}
	pictures, err := photos.all(r.caller, wherePhotos, arg)
	if err != nil {
		return nil, err
	}
	of := map[archive.ID][]archive.Photo{}
	for _, p := range pictures {
		of[p.visit] = append(of[p.visit], p.Photo)
	}
	out := make([]archive.Visit, len(rows))
	for i, row := range rows {
		row.Photos = of[row.ID]
		if int64(len(row.Photos)) != row.photos {
			err := archive.Told(archive.ErrDamaged, "visit %s has %d photos, %d were written", row.ID, len(row.Photos), row.photos)
			return nil, fault(r.file, "read", err)
		}
		out[i] = row.Visit
	}
	return out, nil
}

func (r reader) Changes(site archive.ID, before int64, most int) ([]archive.Change, error) {
	if before <= 0 {
		return changes.all(r.caller, "WHERE site = ? ORDER BY number DESC LIMIT ?", string(site), limit(most))
	}
	return changes.all(r.caller, "WHERE site = ? AND number < ? ORDER BY number DESC LIMIT ?", string(site), before, limit(most))
}

func (r reader) Since(number int64, most int) ([]archive.Change, error) {
	return changes.all(r.caller, "WHERE number > ? ORDER BY number LIMIT ?", number, limit(most))
}

func (r reader) Due(until string, most int) ([]archive.Site, error) {
	const due = "WHERE deleted_at IS NULL AND next_look <> '' "
	if until == "" {
		return bare(sites.all(r.caller, due+"ORDER BY next_look, id LIMIT ?", limit(most)))
	}
	return bare(sites.all(r.caller, due+"AND next_look <= ? ORDER BY next_look, id LIMIT ?", until, limit(most)))
}

func bare(rows []siteRow, err error) ([]archive.Site, error) {
	var out []archive.Site
	for _, r := range rows {
		out = append(out, r.Site)
	}
	return out, err
}

func (r reader) Account(id archive.ID) (archive.Account, error) {
	return accounts.one(r.caller, "WHERE id = ?", string(id))
}

func (r reader) AccountByLogin(login string) (archive.Account, error) {
	return accounts.one(r.caller, "WHERE login = ?", login)
}

func (r reader) Accounts() ([]archive.Account, error) {
	return accounts.all(r.caller, "ORDER BY login")
}

func (r reader) Session(token archive.Hash) (archive.Session, error) {
	return sessions.one(r.caller, "WHERE token = ?", string(token))
}

func (r reader) Sessions(account archive.ID) ([]archive.Session, error) {
	return sessions.all(r.caller, "WHERE account = ? ORDER BY created DESC, token", string(account))
}

func (r reader) Share(id archive.ID) (archive.Share, error) {
	return shares.one(r.caller, "WHERE id = ?", string(id))
}

func (r reader) ShareByToken(token archive.Hash) (archive.Share, error) {
	return shares.one(r.caller, "WHERE token = ? ORDER BY id LIMIT 1", string(token))
}

func (r reader) Shares(site archive.ID) ([]archive.Share, error) {
	if site == "" {
		return shares.all(r.caller, "ORDER BY created_at DESC, id")
	}
	return shares.all(r.caller, "WHERE site = ? ORDER BY created_at DESC, id", string(site))
}

func (r reader) Events(before int64, most int) ([]archive.Event, error) {
	if before <= 0 {
		return events.all(r.caller, "ORDER BY number DESC LIMIT ?", limit(most))
	}
	return events.all(r.caller, "WHERE number < ? ORDER BY number DESC LIMIT ?", before, limit(most))
}

func (r reader) Answered(key string) ([]byte, error) {
	row, err := answers.one(r.caller, "WHERE key = ?", key)
	return row.answer, err
}

func (r reader) Contents() ([]archive.Hash, error) {
	var out []archive.Hash
	err := r.each(`SELECT job FROM visits UNION SELECT content FROM photos UNION SELECT thumbnail FROM photos
		UNION SELECT before FROM changes UNION SELECT after FROM changes ORDER BY 1`, func(rows *sql.Rows) error {
		var h archive.Hash
		err := rows.Scan(&h)
		if h != "" {
			out = append(out, h)
		}
		return err
	})
	return out, err
}

func (r reader) Counts() (n archive.Counts, err error) {
	err = r.each(`SELECT (SELECT count(*) FROM sites), (SELECT count(*) FROM visits), (SELECT count(*) FROM photos),
		(SELECT count(*) FROM changes)`, func(rows *sql.Rows) error {
		return rows.Scan(&n.Sites, &n.Visits, &n.Photos, &n.Changes)
	})
	return n, err
}

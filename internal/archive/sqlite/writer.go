package sqlite

import (
	"errors"
	"time"

	"undersod/internal/archive"
	"undersod/internal/archive/words"
)

// writer writes within one update.
type writer struct {
	reader
	failed error // the first fault, which no caller may overlook
}

func (w *writer) exec(query string, args ...any) error {
	err := w.reader.exec(query, args...)
	var f *Fault
	if w.failed == nil && errors.As(err, &f) {
		w.failed = err
	}
	return err
}

// inOrder runs statements until one fails.
func inOrder(steps ...func() error) error {
	for _, s := range steps {
		if err := s(); err != nil {
			return err
		}
	}
	return nil
}

func (w *writer) PutSite(s archive.Site) error {
	old, err := w.number("SELECT put FROM sites WHERE id = ?", string(s.ID))
	if err != nil {
		return err
	}
	next, err := w.number("SELECT coalesce(max(put), 0) + 1 FROM sites")
	if err != nil {
		return err
	}
	row := siteRow{s, next, indexed(s)}
	return inOrder(
		func() error { return w.forget(old) },
		func() error { return w.exec(sites.upsert, sites.row(&row)...) },
		func() error { return w.makeFindable(row) },
	)
}

// forget takes a site out of what searches look at.
func (w *writer) forget(put int64) error {
	if put == 0 {
		return nil
	}
	return inOrder(
		func() error { return w.exec("DELETE FROM search WHERE rowid = ?", put) },
		func() error { return w.exec("DELETE FROM places WHERE put = ?", put) },
	)
}

func (w *writer) makeFindable(s siteRow) error {
	if err := w.exec("INSERT INTO search (rowid, words) VALUES (?, ?)", s.put, s.foundBy); err != nil {
		return err
	}
	h := s.Heading
	if h.Latitude == nil || h.Longitude == nil {
		return nil
	}
	north, east := h.Latitude.Radians(), h.Longitude.Radians()
	return w.exec(`INSERT INTO places (put, west, east, south, north, latitude, longitude, id, deleted)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`, s.put, east, east, north, north, north, east, string(s.ID), s.Deleted != nil)
}

func (w *writer) PutVisit(v archive.Visit) error {
	row := visitRow{v, int64(len(v.Photos))}
	return inOrder(
		func() error { return w.exec(visits.upsert, visits.row(&row)...) },
		func() error { return w.exec("DELETE FROM photos WHERE visit = ?", string(v.ID)) },
		func() error { return w.putPhotos(v) },
	)
}

func (w *writer) putPhotos(v archive.Visit) error {
	for i, p := range v.Photos {
		row := photoRow{p, v.ID, int64(i)}
		if err := w.exec(photos.insert, photos.row(&row)...); err != nil {
			return err
		}
	}
	return nil
}

func (w *writer) AddChange(c archive.Change) (int64, error) {
	next, err := w.number("SELECT coalesce(max(number), 0) + 1 FROM changes")
	if err != nil {
		return 0, err
	}
	c.Number = next
	return next, w.exec(changes.insert, changes.row(&c)...)
}

func (w *writer) PutAccount(a archive.Account) error {
	return w.exec(accounts.upsert, accounts.row(&a)...)
}

func (w *writer) PutSession(s archive.Session) error {
	return w.exec(sessions.upsert, sessions.row(&s)...)
}

func (w *writer) DropSession(token archive.Hash) error {
	return w.exec("DELETE FROM sessions WHERE token = ?", string(token))
}

func (w *writer) DropSessions(account archive.ID) error {
	return w.exec("DELETE FROM sessions WHERE account = ?", string(account))
}

func (w *writer) DropExpired(now time.Time) error {
	oldest := now.Add(-archive.AnswersKept)
	// The first millisecond that is not before it.
	first := oldest.Add(time.Millisecond - 1).UnixMilli()
	return inOrder(
		func() error { return w.exec("DELETE FROM sessions WHERE expires <= ?", now.UnixMilli()) },
		func() error { return w.exec("DELETE FROM answers WHERE at < ?", first) },
	)
}

func (w *writer) PutShare(s archive.Share) error { return w.exec(shares.upsert, shares.row(&s)...) }

func (w *writer) AddEvent(e archive.Event) (int64, error) {
	next, err := w.number("SELECT coalesce(max(number), 0) + 1 FROM events")
	if err != nil {
		return 0, err
	}
	e.Number = next
	return next, w.exec(events.insert, events.row(&e)...)
}

func (w *writer) PutAnswer(key string, at time.Time, answer []byte) error {
	row := answerRow{key, at, answer}
	return w.exec(answers.insert, answers.row(&row)...)
}

// deletedWord marks the sites that are deleted among those that a search finds.
// archive/words makes no such word: it is no letter.
const deletedWord = "\ue000"

// indexed returns the words that a site is found by, parted by spaces.
func indexed(s archive.Site) string {
	out := words.Index(s.Heading.Searched())
	if s.Deleted != nil {
		out = append(out, deletedWord)
	}
	return joined(out)
}

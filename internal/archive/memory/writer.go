package memory

import (
	"bytes"
	"time"

	"undersod/internal/archive"
	"undersod/internal/archive/words"
)

// writer changes a state that nobody else sees yet.
type writer struct{ reader }

func (w writer) PutSite(s archive.Site) error {
	w.puts++
	w.sites.put(s.ID, siteRow{copySite(s), w.puts, words.Index(s.Heading.Searched())})
	return nil
}

func (w writer) PutVisit(v archive.Visit) error {
	w.visits.put(v.ID, copyVisit(v))
	return nil
}

func (w writer) AddChange(c archive.Change) (int64, error) {
	c = copyChange(c)
	c.Number = int64(len(w.changes)) + 1
	w.changes = append(w.changes, c)
	return c.Number, nil
}

func (w writer) PutAccount(a archive.Account) error {
	if other, err := w.AccountByLogin(a.Login); err == nil && other.ID != a.ID {
		return archive.ErrExists
	}
	w.accounts.put(a.ID, copyAccount(a))
	return nil
}

func (w writer) PutSession(s archive.Session) error {
	w.sessions.put(s.Token, copySession(s))
	return nil
}

func (w writer) DropSession(token archive.Hash) error {
	w.sessions.drop(func(t archive.Hash, _ archive.Session) bool { return t == token })
	return nil
}

func (w writer) DropSessions(account archive.ID) error {
	w.sessions.drop(func(_ archive.Hash, s archive.Session) bool { return s.Account == account })
	return nil
}

func (w writer) DropExpired(now time.Time) error {
	w.sessions.drop(func(_ archive.Hash, s archive.Session) bool { return !s.Expires.After(now) })
	w.answers.drop(func(_ string, a answer) bool { return a.at.Before(now.Add(-archive.AnswersKept)) })
	return nil
}

func (w writer) PutShare(s archive.Share) error {
	w.shares.put(s.ID, copyShare(s))
	return nil
}

func (w writer) AddEvent(e archive.Event) (int64, error) {
	e = copyEvent(e)
	e.Number = int64(len(w.events)) + 1
	w.events = append(w.events, e)
	return e.Number, nil
}

func (w writer) PutAnswer(key string, at time.Time, text []byte) error {
	if _, there := w.answers.rows[key]; there {
		return archive.ErrExists
	}
	w.answers.put(key, answer{moment(at), bytes.Clone(text)})
	return nil
}

package people

import (
	"context"
	"errors"
	"time"

	"undersod/internal/archive"
)

// How long a session lasts.
const (
	IdleFor    = 14 * 24 * time.Hour // without a request
	LastsFor   = 90 * 24 * time.Hour // at most, whatever is asked
	renewAfter = time.Hour           // so that reading does not write each time
)

const (
	mostSessions = 50 // of one account; the oldest goes for a new one
	longestAgent = 200
)

var errNoSession = archive.Told(archive.ErrNotFound, "the session is over; sign in again")

// putSession opens a session in an update. It clears away what is over.
func (d *Desk) putSession(tx archive.Writer, s archive.Session, about string) error {
	if err := tx.DropExpired(s.Created); err != nil {
		return err
	}
	there, err := tx.Sessions(s.Account)
	if err != nil {
		return err
	}
	for _, old := range there[min(len(there), mostSessions-1):] {
		if err := tx.DropSession(old.Token); err != nil {
			return err
		}
	}
	if err := tx.PutSession(s); err != nil {
		return err
	}
	return d.enter(tx, archive.Actor{Account: s.Account}, SignedIn, about)
}

// SignOut ends a session. One that is over already is left at that.
func (d *Desk) SignOut(ctx context.Context, token string) error {
	_, s, err := d.Who(ctx, token)
	if errors.Is(err, archive.ErrNotFound) {
		return nil
	}
	if err != nil {
		return err
	}
	return d.store.Update(ctx, func(tx archive.Writer) error {
		a, err := tx.Account(s.Account)
		if err != nil {
			return named(s.Account, err)
		}
		if err := tx.DropSession(s.Token); err != nil {
			return err
		}
		return d.enter(tx, archive.Actor{Account: a.ID}, SignedOut, a.Login)
	})
}

// holder is an account with one of its sessions.
type holder struct {
	account archive.Account
	session archive.Session
}

// Who returns who holds a token, and renews the session, at most once an hour.
// It is an archive.ErrNotFound where the token is unknown, the session over or
// the account disabled. A disk that takes nothing any more keeps nobody from
// reading.
func (d *Desk) Who(ctx context.Context, token string) (archive.Account, archive.Session, error) {
	hash, ok := tokenHash(token)
	if !ok {
		return archive.Account{}, archive.Session{}, errNoSession
	}
	now := d.clock()
	h, err := view(ctx, d, func(r archive.Reader) (holder, error) { return held(r, hash, now) })
	if err != nil {
		return archive.Account{}, archive.Session{}, err
	}
	if !due(h.session, now) {
		return h.account, h.session, nil
	}
	renewed := holder{}
	err = d.store.Update(ctx, func(tx archive.Writer) error {
		if renewed, err = held(tx, hash, now); err != nil { // it may be gone by now
			return err
		}
		renewed.session = renewedAt(renewed.session, now)
		return tx.PutSession(renewed.session)
	})
	switch {
	case err == nil:
		return renewed.account, renewed.session, nil
	case errors.Is(err, archive.ErrFull), errors.Is(err, archive.ErrReadOnly):
		return h.account, h.session, nil
	}
	return archive.Account{}, archive.Session{}, err
}

// held reads who holds a token, without the password.
func held(r archive.Reader, token archive.Hash, now time.Time) (holder, error) {
	var h holder
	s, err := r.Session(token)
	if errors.Is(err, archive.ErrNotFound) {
		return h, errNoSession
	}
	if err != nil {
		return h, err
	}
	a, err := r.Account(s.Account)
	switch {
	case errors.Is(err, archive.ErrNotFound):
		return h, errNoSession
	case err != nil:
		return h, err
	case a.Disabled || over(s, now):
		return h, errNoSession
	}
	a.Password = ""
	return holder{a, s}, nil
}

// over reports whether a session is: by what was kept, and by its own age,
// whatever was kept.
func over(s archive.Session, now time.Time) bool {
	return !s.Expires.After(now) || now.Sub(s.Created) >= LastsFor || now.Sub(s.Seen) >= IdleFor
}

// due reports whether a session is to be renewed. A clock that jumped back is a
// reason too: the session would last too long.
func due(s archive.Session, now time.Time) bool {
	return now.Sub(s.Seen).Abs() >= renewAfter
}

// renewedAt returns a session as seen now. One that was made after now, before
// the clock jumped back, counts from now.
func renewedAt(s archive.Session, now time.Time) archive.Session {
	if s.Created.After(now) {
		s.Created = now
	}
	s.Seen = now
	s.Expires = now.Add(IdleFor)
	if last := s.Created.Add(LastsFor); last.Before(s.Expires) {
		s.Expires = last
	}
	return s
}

package people

import (
	"context"

	"undersod/internal/archive"
)

// SetPassword gives an account a new password: an account its own, with the old
// one, or an owner and the program itself another's, without. It signs the
// account out everywhere but in the session that the request came through. A
// wrong old password counts as a failed sign-in.
func (d *Desk) SetPassword(ctx context.Context, w archive.Write, id archive.ID, old, password string) error {
	own := w.By.Account == id && id != ""
	to := manages()
	if own {
		to = staff()
	}
	asked := request("set password", id)
	var done bool
	account, err := view(ctx, d, func(r archive.Reader) (a archive.Account, err error) {
		if _, done, err = peek[bool](r, w, to, asked); done || err != nil {
			return a, err
		}
		a, err = r.Account(id)
		return a, named(id, err)
	})
	if done || err != nil {
		return err
	}
	normal, err := newPassword(account.Login, password)
	if err != nil {
		return err
	}
	if own {
		if err := d.checkOld(ctx, account, old, normal); err != nil {
			return err
		}
	}
	fresh, err := d.hash(ctx, normal)
	if err != nil {
		return err
	}
	_, err = once(ctx, d, w, to, asked, func(tx archive.Writer) (bool, error) {
		return true, d.replacePassword(tx, w.By, account, fresh, own)
	})
	if err == nil {
		d.gate.forgive(byLogin(account.Login))
	}
	return err
}

// checkOld verifies the old password of an account that sets its own.
func (d *Desk) checkOld(ctx context.Context, account archive.Account, old, normal string) error {
	try, err := d.gate.enter(d.clock(), byAccount(account.ID), "")
	if err != nil {
		return err
	}
	h, ok := readHash(account.Password)
	if !ok {
		try.void()
		return denied("the password that is kept cannot be read; ask an owner to set a new one")
	}
	right, err := d.right(ctx, old, h)
	if err != nil {
		try.void()
		return err
	}
	if !right {
		d.failed(ctx, account, true)
		return denied("the old password is wrong")
	}
	try.succeeded()
	if was, err := normalPassword(old); err == nil && was == normal {
		return refused("the new password is the old one; choose another")
	}
	return nil
}

// replacePassword puts a new hash in place of the one that the account had, and
// ends its other sessions.
func (d *Desk) replacePassword(tx archive.Writer, by archive.Actor, was archive.Account, fresh string, own bool) error {
	a, err := tx.Account(was.ID)
	if err != nil {
		return named(was.ID, err)
	}
	if own && a.Password != was.Password {
		return archive.Told(archive.ErrStale, "the password was changed by someone else in the meantime; sign in again")
	}
	a.Password, a.Changed = fresh, d.stamp(by)
	if err := tx.PutAccount(a); err != nil {
		return err
	}
	sessions, err := tx.Sessions(a.ID)
	if err != nil {
		return err
	}
	for _, s := range sessions {
		if own && s.Token == by.Session {
			continue
		}
		if err := tx.DropSession(s.Token); err != nil {
			return err
		}
	}
	return d.enter(tx, by, PasswordSet, a.Login)
}

package people

import (
	"context"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"

	"undersod/internal/archive"
)

var errWrong = denied("the login or the password is wrong")

// SignIn returns a token for the browser, with the session that it opens. A
// wrong login, a wrong password and a disabled account get the same
// archive.ErrDenied for the same work; after too many tries, and when too many
// people sign in at once, it is a *Wait. agent is what the browser calls itself
// and from its address, with or without a port.
func (d *Desk) SignIn(ctx context.Context, login, password, agent, from string) (string, archive.Session, error) {
	var none archive.Session
	login = tidy(login)
	try, err := d.gate.enter(d.clock(), byLogin(login), from)
	if err != nil {
		d.tally.hide(1)
		return "", none, err
	}
	claim, err := d.claim(ctx, login)
	if err != nil {
		try.void()
		return "", none, err
	}
	right, err := d.right(ctx, password, claim.hash)
	if err != nil {
		try.void()
		return "", none, err
	}
	if !right || !claim.usable {
		d.failed(ctx, claim.account, claim.known)
		return "", none, errWrong
	}
	token, s, err := d.open(ctx, try, claim, password, agent)
	switch {
	case err == nil:
		try.succeeded()
	case !errors.Is(err, archive.ErrDenied):
		try.void()
	}
	return token, s, err
}

// What tries are counted by at the gate: those that sign in, and those of an
// account that is signed in to set its password, apart, so that a guesser from
// outside keeps nobody from it.
func byLogin(login string) string    { return "login " + login }
func byAccount(id archive.ID) string { return "account " + string(id) }

// claim is who somebody says to be.
type claim struct {
	account archive.Account
	known   bool // there is such an account
	usable  bool // it may sign in
	hash    hashed
}

// claim looks up who somebody says to be. For nobody there is a hash that no
// password fits.
func (d *Desk) claim(ctx context.Context, login string) (claim, error) {
	all, err := view(ctx, d, func(r archive.Reader) ([]archive.Account, error) { return r.Accounts() })
	if err != nil {
		return claim{}, err
	}
	c := claim{hash: d.standIn(login, all)}
	for _, a := range all {
		if a.Login == login {
			c.account, c.known = a, true
		}
	}
	if h, ok := readHash(c.account.Password); ok {
		c.hash, c.usable = h, !c.account.Disabled
	}
	return c, nil
}

// standIn returns a hash that no password fits. It costs what that of some
// account costs, the same one each time: where accounts have hashes of different
// costs, the time that an answer takes does not tell either that there is none.
func (d *Desk) standIn(login string, all []archive.Account) hashed {
	h := hashed{cost: d.cost, salt: make([]byte, saltBytes), sum: make([]byte, sumBytes)}
	if len(all) == 0 {
		return h
	}
	mac := hmac.New(sha256.New, d.secret)
	mac.Write([]byte("stand-in " + login))
	n := binary.BigEndian.Uint64(mac.Sum(nil)) % uint64(len(all))
	if like, ok := readHash(all[n].Password); ok {
		h.cost = like.cost
	}
	return h
}

// open opens a session for an account whose password was right. A hash whose
// cost is below that of new ones is made anew.
func (d *Desk) open(ctx context.Context, try *try, c claim, password, agent string) (string, archive.Session, error) {
	fresh := d.rehashed(ctx, c, password)
	token := d.newToken()
	now := d.clock()
	s := archive.Session{
		Token: archive.HashOf([]byte(token)), Account: c.account.ID, Created: now,
		Seen: now, Expires: now.Add(IdleFor), Agent: shortened(agent, longestAgent),
	}
	hidden := d.tally.take()
	err := d.store.Update(ctx, func(tx archive.Writer) error {
		a, err := tx.Account(c.account.ID)
		switch {
		case errors.Is(err, archive.ErrNotFound):
			return errWrong
		case err != nil:
			return err
		case a.Disabled || a.Password != c.account.Password: // in the meantime
			return errWrong
		}
		if fresh != "" {
			a.Password = fresh
			if err := tx.PutAccount(a); err != nil {
				return err
			}
		}
		return d.putSession(tx, s, signedInWords(a.Login, try.failed, hidden))
	})
	if err != nil {
		d.tally.hide(hidden)
		return "", archive.Session{}, err
	}
	return token, s, nil
}

// rehashed returns the hash to put in place of one that is too cheap by now, or
// nothing. That it cannot be made at this moment keeps nobody out.
func (d *Desk) rehashed(ctx context.Context, c claim, password string) string {
	if !c.hash.cost.below(d.cost) {
		return ""
	}
	normal, err := normalPassword(password)
	if err != nil {
		return ""
	}
	fresh, err := d.hash(ctx, normal)
	if err != nil {
		return ""
	}
	return fresh
}

func signedInWords(login string, failed, hidden int) string {
	if failed > 0 {
		login += fmt.Sprintf(", after %s", some(failed, "try that went wrong", "tries that went wrong"))
	}
	if hidden > 0 {
		login += fmt.Sprintf("; %s since the last entry not listed", some(hidden, "failed sign-in", "failed sign-ins"))
	}
	return login
}

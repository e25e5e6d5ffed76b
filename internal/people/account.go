package people

import (
	"context"
	"fmt"
	"strings"

	"undersod/internal/archive"
)

const longestPerson = 100 // characters of a name

var errNotFirst = archive.Told(archive.ErrExists, "there is an account already; sign in, or ask an owner to invite you")

// First makes the first account, an owner. It is an archive.ErrExists where any
// account is there, whatever became of it.
func (d *Desk) First(ctx context.Context, login, name, password string) (archive.Account, error) {
	none := archive.Account{}
	err := d.store.View(ctx, func(r archive.Reader) error { return noAccount(r) })
	if err != nil {
		return none, err
	}
	a, err := d.newAccount(ctx, login, name, archive.Owner, password)
	if err != nil {
		return none, err
	}
	a.Created = d.stamp(archive.Actor{Account: a.ID})
	a.Changed = a.Created
	err = d.store.Update(ctx, func(tx archive.Writer) error {
		if err := noAccount(tx); err != nil {
			return err
		}
		if err := tx.PutAccount(a); err != nil {
			return err
		}
		return d.enter(tx, archive.Actor{Account: a.ID}, FirstMade, a.Login)
	})
	if err != nil {
		return none, err
	}
	a.Password = ""
	return a, nil
}

func noAccount(r archive.Reader) error {
	all, err := r.Accounts()
	if err == nil && len(all) > 0 {
		err = errNotFirst
	}
	return err
}

// newAccount checks what an account is made of and hashes its password.
func (d *Desk) newAccount(ctx context.Context, login, name string, role archive.Role, password string) (archive.Account, error) {
	a := archive.Account{ID: archive.NewID(d.random), Role: role}
	var err error
	if a.Login, err = NormalLogin(login); err != nil {
		return a, err
	}
	if a.Name, err = line("the name", name, longestPerson); err != nil {
		return a, err
	}
	normal, err := newPassword(a.Login, password)
	if err != nil {
		return a, err
	}
	a.Password, err = d.hash(ctx, normal)
	return a, err
}

// Accounts returns every account, by login, to an owner.
func (d *Desk) Accounts(ctx context.Context, a archive.Actor) ([]archive.Account, error) {
	return view(ctx, d, func(r archive.Reader) ([]archive.Account, error) {
		if err := may(r, a, manages()); err != nil {
			return nil, err
		}
		all, err := r.Accounts()
		for i := range all {
			all[i].Password = ""
		}
		return all, err
	})
}

// Names returns the names of all accounts, disabled ones too, to everyone who
// has one: for showing who changed what.
func (d *Desk) Names(ctx context.Context, a archive.Actor) (map[archive.ID]string, error) {
	return view(ctx, d, func(r archive.Reader) (map[archive.ID]string, error) {
		if err := may(r, a, staff()); err != nil {
			return nil, err
		}
		all, err := r.Accounts()
		names := map[archive.ID]string{}
		for _, account := range all {
			names[account.ID] = account.Name
		}
		return names, err
	})
}

// Invite makes an account, by an owner. It is an archive.ErrExists where the
// login is taken.
func (d *Desk) Invite(ctx context.Context, w archive.Write, login, name string, role archive.Role, password string) (archive.Account, error) {
	none := archive.Account{}
	asked := request("invite", tidy(login), name, role)
	var done bool
	made, err := view(ctx, d, func(r archive.Reader) (a archive.Account, err error) {
		a, done, err = peek[archive.Account](r, w, manages(), asked)
		return a, err
	})
	if done || err != nil {
		return made, err
	}
	if err := aRole(role); err != nil {
		return none, err
	}
	a, err := d.newAccount(ctx, login, name, role, password)
	if err != nil {
		return none, err
	}
	a.Created = d.stamp(w.By)
	a.Changed = a.Created
	return once(ctx, d, w, manages(), asked, func(tx archive.Writer) (archive.Account, error) {
		if _, err := tx.AccountByLogin(a.Login); err == nil {
			return none, archive.Told(archive.ErrExists, "the login %s is taken; choose another, or enable that account again", a.Login)
		}
		if err := tx.PutAccount(a); err != nil {
			return none, err
		}
		shown := a
		shown.Password = ""
		return shown, d.enter(tx, w.By, Invited, fmt.Sprintf("%s as %s", a.Login, role))
	})
}

// Change sets the name and the role of an account, and whether it is disabled,
// by an owner. The last owner who can sign in stays one. A disabled account
// loses its sessions at once.
func (d *Desk) Change(ctx context.Context, w archive.Write, id archive.ID, name string, role archive.Role, disabled bool) (archive.Account, error) {
	none := archive.Account{}
	asked := request("change", id, name, role, disabled)
	stamp := d.stamp(w.By)
	return once(ctx, d, w, manages(), asked, func(tx archive.Writer) (archive.Account, error) {
		if err := aRole(role); err != nil {
			return none, err
		}
		name, err := line("the name", name, longestPerson)
		if err != nil {
			return none, err
		}
		old, err := tx.Account(id)
		if err != nil {
			return none, named(id, err)
		}
		a := old
		a.Name, a.Role, a.Disabled = name, role, disabled
		if a != old {
			a.Changed = stamp
			if err := d.alter(tx, w.By, old, a); err != nil {
				return none, err
			}
		}
		a.Password = ""
		return a, nil
	})
}

// alter puts an account in place of what it was, with its entries in the audit
// list.
func (d *Desk) alter(tx archive.Writer, by archive.Actor, old, a archive.Account) error {
	if old.Role == archive.Owner && (a.Role != archive.Owner || a.Disabled) {
		if err := keepsAnOwner(tx, old); err != nil {
			return err
		}
	}
	if err := tx.PutAccount(a); err != nil {
		return err
	}
	if about := changedWords(old, a); about != "" {
		if err := d.enter(tx, by, Changed, a.Login+": "+about); err != nil {
			return err
		}
	}
	switch {
	case a.Disabled && !old.Disabled:
		if err := tx.DropSessions(a.ID); err != nil {
			return err
		}
		return d.enter(tx, by, Disabled, a.Login)
	case old.Disabled && !a.Disabled:
		return d.enter(tx, by, Enabled, a.Login)
	}
	return nil
}

// changedWords says what changed of an account.
func changedWords(old, a archive.Account) string {
	var changed []string
	if old.Role != a.Role {
		changed = append(changed, fmt.Sprintf("role from %s to %s", old.Role, a.Role))
	}
	if old.Name != a.Name {
		changed = append(changed, fmt.Sprintf("name from %s to %s", old.Name, a.Name))
	}
	return strings.Join(changed, ", ")
}

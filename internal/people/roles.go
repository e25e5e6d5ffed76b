package people

import (
	"errors"
	"fmt"
	"slices"

	"undersod/internal/archive"
)

// right is something that some roles may do; the others are told who.
type right struct {
	roles []archive.Role
	words string
}

// Who may do what. A role that is not listed may not.
func manages() right { return right{[]archive.Role{archive.Owner}, "only an owner may do that"} }
func shares() right {
	return right{[]archive.Role{archive.Owner, archive.Office}, "only an owner or the office may do that"}
}
func staff() right { return right{archive.Roles(), "only a person with an account may do that"} }

// may denies an actor who has not got a right, by what the request says and
// by what the store says now: a role may have been taken away, or the account
// disabled, since the request began. The program itself has no account.
func may(r archive.Reader, a archive.Actor, to right) error {
	if a.Share != "" || a.Site != "" || !slices.Contains(to.roles, a.Role) {
		return denied(to.words)
	}
	if a.Account == "" {
		return nil
	}
	account, err := r.Account(a.Account)
	switch {
	case errors.Is(err, archive.ErrNotFound):
		return denied("this account is no longer there")
	case err != nil:
		return err
	case account.Disabled:
		return denied("this account was disabled")
	case !slices.Contains(to.roles, account.Role):
		return denied(to.words)
	}
	return nil
}

// aRole refuses what is none.
func aRole(role archive.Role) error {
	if !slices.Contains(archive.Roles(), role) {
		return refused("the role %.20q: one of %q, %q, %q and %q is expected", role, archive.Owner, archive.Office, archive.Crew, archive.ReadOnly)
	}
	return nil
}

// keepsAnOwner refuses to take the last owner away who can still sign in.
func keepsAnOwner(r archive.Reader, gone archive.Account) error {
	all, err := r.Accounts()
	if err != nil {
		return err
	}
	for _, a := range all {
		if a.ID != gone.ID && a.Role == archive.Owner && !a.Disabled {
			return nil
		}
	}
	return refused("%s is the only owner who can sign in: make another account an owner first", gone.Login)
}

// named wraps what the store says about an account that was asked for.
func named(id archive.ID, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("account %.40q: %w", id, err)
}

package pages

import (
	"time"

	"undersod/internal/archive"
)

// People is the view of the accounts.
type People struct {
	Rows        []AccountRow
	Roles       []Choice
	Login, Name string // as typed, where it is to be typed again
}

// AccountRow is one account.
type AccountRow struct {
	ID               archive.ID
	Name, Login      string
	Role             archive.Role
	Disabled         bool
	Since            string
	Roles            []Choice
	Self             bool // of whoever looks
	Open             bool // it is being changed
	Key, PasswordKey string
}

// RoleChoices lists the roles with what they may do.
func RoleChoices(chosen archive.Role) []Choice {
	words := map[archive.Role]string{
		archive.Owner: "owner: everything, people included", archive.Office: "office: sites, visits, links and the audit list",
		archive.Crew: "crew: sites and visits", archive.ReadOnly: "read-only: looks",
	}
	var out []Choice
	for _, r := range archive.Roles() {
		out = append(out, Choice{string(r), words[r], r == chosen})
	}
	return out
}

// AccountRows turns a list of accounts; key makes a fresh key for each form.
func AccountRows(list []archive.Account, self, open archive.ID, key func() string) []AccountRow {
	var out []AccountRow
	for _, a := range list {
		out = append(out, AccountRow{a.ID, a.Name, a.Login, a.Role, a.Disabled, Date(a.Created.At), RoleChoices(a.Role), a.ID == self, a.ID == open, key(), key()})
	}
	return out
}

// Account is the view of one's own account.
type Account struct {
	Name, Login string
	Role        archive.Role
}

// Shares is the view of the links of a site.
type Shares struct {
	Site        archive.ID
	Link, Until string // of the link made just now
	Label, Days string
	Rows        []ShareRow
}

// ShareRow is one link.
type ShareRow struct {
	ID              archive.ID
	Label, Made, By string
	State           string
	Open            bool
	Key             string
}

// ShareRows turns a list of links; key makes a fresh key for each form.
func ShareRows(list []archive.Share, names Names, now time.Time, key func() string) []ShareRow {
	var out []ShareRow
	for _, s := range list {
		row := ShareRow{ID: s.ID, Label: s.Label, Made: Date(s.Created.At), By: names.Of(s.Created), Key: key()}
		switch {
		case s.Revoked != nil:
			row.State = "revoked " + Date(s.Revoked.At) + " by " + names.Of(*s.Revoked)
		case !now.Before(s.Expires):
			row.State = "ended " + Date(s.Expires)
		default:
			row.State, row.Open = "open until "+Date(s.Expires), true
		}
		out = append(out, row)
	}
	return out
}

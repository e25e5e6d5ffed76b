package people_test

import (
	"strings"
	"testing"
	"time"

	"undersod/internal/archive"
)

func TestFirst(t *testing.T) {
	o := newOffice(t)
	for _, c := range []struct{ login, name, password, words string }{
		{"a b", "Rosalind", secret, "the login"},
		{"rosalind", "", secret, "the name: 1 to 100 characters"},
		{"rosalind", " \t ", secret, "the name"},
		{"rosalind", "Rosa\u202elind", secret, "the name"},
		{"rosalind", strings.Repeat("x", 101), secret, "the name"},
		{"rosalind", "\xff", secret, "the name"},
		{"rosalind", "Rosalind", "short", "at least 12"},
	} {
		_, err := o.First(ctx, c.login, c.name, c.password)
		o.is(err, archive.ErrRefused)
		o.says(err, c.words)
	}
	if o.hashings.Load() != 0 {
		t.Error("what is refused was hashed")
	}
	a, err := o.First(ctx, "Rosalind", " Rosalind Du\u0308nmoor ", secret)
	o.ok(err)
	kept := o.kept(a.ID)
	if fields := strings.Split(kept.Password, "$"); len(fields) != 6 || fields[1] != "argon2id" || a.Password != "" {
		t.Errorf("kept as %q, shown as %q", kept.Password, a.Password)
	}
	kept.Password = ""
	want := archive.Account{ID: a.ID, Login: "rosalind", Name: "Rosalind Dünmoor", Role: archive.Owner,
		Created: archive.Stamp{At: opening, By: a.ID}, Changed: archive.Stamp{At: opening, By: a.ID}}
	if a != want || kept != want || !a.ID.Valid() {
		t.Errorf("%+v\n%+v, want\n%+v", a, kept, want)
	}
	for _, login := range []string{"rosalind", "ann", "a b"} {
		_, err := o.First(ctx, login, "", "")
		o.is(err, archive.ErrExists)
		o.says(err, "ask an owner to invite you")
	}
	if got := o.audit(); len(got) != 1 || got[0] != "first account made: rosalind" {
		t.Errorf("%q", got)
	}
}

func TestInvite(t *testing.T) {
	o := newOffice(t)
	owner := o.first()
	o.pass(time.Hour)
	a, err := o.Invite(ctx, by(actor(owner)), "Ann@Example.org", "Ann Fernleaf", archive.Office, secret)
	o.ok(err)
	stamp := archive.Stamp{At: opening.Add(time.Hour), By: owner.ID}
	if want := (archive.Account{ID: a.ID, Login: "ann@example.org", Name: "Ann Fernleaf", Role: archive.Office, Created: stamp, Changed: stamp}); a != want {
		t.Errorf("%+v, want %+v", a, want)
	}
	o.signed("ann@example.org")
	for _, c := range []struct {
		login, name string
		role        archive.Role
		password    string
		kind        error
		words       string
	}{
		{"ann@example.org", "Another Ann", archive.Crew, secret, archive.ErrExists, "the login ann@example.org is taken"},
		{"zoe", "Zoe", "boss", secret, archive.ErrRefused, `"read-only" is expected`},
		{"zoe", "Zoe", "", secret, archive.ErrRefused, "the role"},
		{"zoe", "", archive.Crew, secret, archive.ErrRefused, "the name"},
		{"z o e", "Zoe", archive.Crew, secret, archive.ErrRefused, "the login"},
		{"zoe", "Zoe", archive.Crew, "", archive.ErrRefused, "the password"},
	} {
		_, err := o.Invite(ctx, by(actor(owner)), c.login, c.name, c.role, c.password)
		o.is(err, c.kind)
		o.says(err, c.words)
	}
	if got := o.audit(); len(got) != 3 || got[1] != "invited: ann@example.org as office" {
		t.Errorf("%q", got)
	}
}

func TestChange(t *testing.T) {
	o := newOffice(t)
	owner := o.first()
	ann := o.invited("ann", archive.Crew)
	token, _ := o.signed("ann")
	o.pass(time.Minute)
	change := func(name string, role archive.Role, disabled bool) archive.Account {
		t.Helper()
		a, err := o.Change(ctx, by(actor(owner)), ann.ID, name, role, disabled)
		o.ok(err)
		if a.Password != "" {
			t.Error("the password is shown")
		}
		kept := o.kept(ann.ID)
		if kept.Password == "" {
			t.Error("the password is gone")
		}
		if kept.Password = ""; kept != a {
			t.Errorf("%+v is kept, %+v was told", kept, a)
		}
		return a
	}
	if a := change(ann.Name, archive.Crew, false); a != ann {
		t.Errorf("nothing changed, and yet %+v", a)
	}
	a := change("Ann Fernleaf", archive.Office, false)
	if a.Name != "Ann Fernleaf" || a.Role != archive.Office || a.Changed != (archive.Stamp{At: o.now(), By: owner.ID}) || a.Created != ann.Created {
		t.Errorf("%+v", a)
	}
	if who, _, err := o.Who(ctx, token); err != nil || who.Role != archive.Office {
		t.Errorf("the session does not know the new role: %+v, %v", who, err)
	}
	change("Ann Fernleaf", archive.Office, true)
	if o.holds(token) || o.sessions(ann.ID) != 0 {
		t.Error("a disabled account has a session")
	}
	change("Ann Fernleaf", archive.Office, false)
	if o.holds(token) {
		t.Error("the session is back")
	}
	o.signed("ann")
	want := []string{"first account made: rosalind", "invited: ann as crew", "signed in: ann",
		"account changed: ann: role from crew to office, name from ann by name to Ann Fernleaf",
		"account disabled: ann", "account enabled: ann", "signed in: ann"}
	if got := o.audit(); strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%q", got)
	}
	for _, c := range []struct {
		id    archive.ID
		name  string
		role  archive.Role
		kind  error
		words string
	}{
		{"unknown", "Ann", archive.Crew, archive.ErrNotFound, `account "unknown"`},
		{ann.ID, "", archive.Crew, archive.ErrRefused, "the name"},
		{ann.ID, "Ann", "boss", archive.ErrRefused, "the role"},
	} {
		_, err := o.Change(ctx, by(actor(owner)), c.id, c.name, c.role, false)
		o.is(err, c.kind)
		o.says(err, c.words)
	}
}

func TestTheLastOwnerStays(t *testing.T) {
	o := newOffice(t)
	one := o.first()
	set := func(by archive.Actor, a archive.Account, role archive.Role, disabled bool) error {
		_, err := o.Change(ctx, archive.Write{By: by}, a.ID, a.Name, role, disabled)
		return err
	}
	last := func(err error, login string) {
		t.Helper()
		o.is(err, archive.ErrRefused)
		o.says(err, login+" is the only owner who can sign in: make another account an owner first")
	}
	for _, by := range []archive.Actor{actor(one), archive.Program()} {
		last(set(by, one, archive.Owner, true), "rosalind")
		last(set(by, one, archive.Office, false), "rosalind")
	}
	two := o.invited("ann", archive.Owner)
	o.ok(set(actor(one), two, archive.Owner, true))
	last(set(actor(one), one, archive.Crew, false), "rosalind") // the other cannot sign in
	o.ok(set(actor(one), two, archive.Owner, false))
	o.ok(set(actor(one), one, archive.Crew, false))
	last(set(actor(two), two, archive.Owner, true), "ann")
	o.is(set(actor(one), one, archive.Owner, false), archive.ErrDenied)
	_, err := o.Change(ctx, by(actor(two)), two.ID, "Ann Fernleaf", archive.Owner, false)
	o.ok(err)
}

// everything calls each method that needs a role, and returns what it said.
func (o *office) everything(a archive.Actor, other archive.Account, share archive.ID) map[string]error {
	said := map[string]error{}
	_, said["accounts"] = o.Accounts(ctx, a)
	_, said["names"] = o.Names(ctx, a)
	_, said["invite"] = o.Invite(ctx, by(a), "new"+string(archive.NewID(counter)), "New", archive.Crew, secret)
	_, said["change"] = o.Change(ctx, by(a), other.ID, "Other", archive.Crew, false)
	said["password of another"] = o.SetPassword(ctx, by(a), other.ID, "", "another secret of another")
	_, _, said["share"] = o.Desk.Share(ctx, by(a), hollow, "county office", 30)
	_, said["shares"] = o.Shares(ctx, a, hollow)
	said["revoke"] = o.Revoke(ctx, by(a), share)
	_, said["events"] = o.Events(ctx, a, 0, 10)
	said["exported"] = o.Exported(ctx, a, "site "+string(hollow)+" as a bundle")
	return said
}

func TestEveryMethodDeniesByRole(t *testing.T) {
	o := newOffice(t)
	owner := o.first()
	o.site(hollow)
	other := o.invited("other", archive.Crew)
	_, share, err := o.Desk.Share(ctx, by(archive.Program()), hollow, "county office", 30)
	o.ok(err)
	office, crew, looker := o.invited("office", archive.Office), o.invited("crew", archive.Crew), o.invited("looker", archive.ReadOnly)
	gone := o.invited("gone", archive.Owner)
	_, err = o.Change(ctx, by(actor(owner)), gone.ID, "Gone", archive.Owner, true)
	o.ok(err)
	demoted := o.invited("demoted", archive.Crew)
	posing := actor(demoted)
	posing.Role = archive.Owner
	visitor := archive.Actor{Share: share.ID, Site: hollow}
	posingVisitor := archive.Actor{Account: owner.ID, Role: archive.Owner, Share: share.ID, Site: hollow}
	const all = "accounts names invite change password of another share shares revoke events exported"
	for _, c := range []struct {
		name  string
		actor archive.Actor
		may   string
	}{
		{"the program", archive.Program(), all},
		{"an owner", actor(owner), all},
		{"the office", actor(office), "names share shares revoke events exported"},
		{"the crew", actor(crew), "names exported"},
		{"one who looks", actor(looker), "names exported"},
		{"a visitor", visitor, "exported"},
		{"a visitor with an account", posingVisitor, "exported"},
		{"nobody", archive.Actor{}, ""},
		{"an account without a role", archive.Actor{Account: owner.ID}, ""},
		{"an unknown role", archive.Actor{Account: owner.ID, Role: "boss"}, ""},
		{"an unknown account", archive.Actor{Account: "unknown", Role: archive.Owner}, ""},
		{"a disabled owner", actor(gone), ""},
		{"one who was an owner", posing, "names exported"},
		{"an owner who asks as crew", archive.Actor{Account: owner.ID, Role: archive.Crew}, "names exported"},
	} {
		for method, err := range o.everything(c.actor, other, share.ID) {
			allowed := strings.Contains(" "+c.may+" ", " "+method+" ")
			if allowed && err != nil {
				t.Errorf("%s, %s: %v", c.name, method, err)
			}
			if !allowed {
				o.is(err, archive.ErrDenied)
			}
		}
	}
}

func TestAccountsAndNames(t *testing.T) {
	o := newOffice(t)
	owner := o.first()
	ann := o.invited("ann", archive.ReadOnly)
	all, err := o.Accounts(ctx, actor(owner))
	o.ok(err)
	if len(all) != 2 || all[0] != ann || all[1] != owner {
		t.Errorf("%+v", all)
	}
	names, err := o.Names(ctx, actor(ann))
	o.ok(err)
	if len(names) != 2 || names[owner.ID] != "Rosalind Dunmoor" || names[ann.ID] != "ann by name" {
		t.Errorf("%v", names)
	}
}

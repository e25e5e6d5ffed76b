package archive_test

import (
	"errors"
	"reflect"
	"testing"

	"undersod/internal/archive"
)

var _ archive.Records = (*archive.Keeper)(nil)

// call is one method of archive.Records, asked by someone about the site that
// is shared or about another one.
type call func(b *bench, a archive.Actor, of scene) error

// scene is a site with a visit, two of them removed in part.
type scene struct {
	site    archive.ID
	visit   archive.ID
	content archive.Hash
}

// calls lists every method. A new one fails the test until it is here.
var calls = map[string]call{
	"SaveVisit": func(b *bench, a archive.Actor, s scene) error {
		return second(b.SaveVisit(ctx, archive.Write{By: a}, "", s.visit, 2, "yaml", []byte("a: 2")))
	},
	"AddPhoto": func(b *bench, a archive.Actor, s scene) error {
		return second(b.AddPhoto(ctx, archive.Write{By: a}, s.visit, "b.jpg", []byte("picture")))
	},
	"RemovePhoto": func(b *bench, a archive.Actor, s scene) error {
		return second(b.RemovePhoto(ctx, archive.Write{By: a}, s.visit, "a.jpg"))
	},
	"RemoveVisit": func(b *bench, a archive.Actor, s scene) error {
		return second(b.RemoveVisit(ctx, archive.Write{By: a}, s.visit, 2))
	},
	"RecoverVisit": func(b *bench, a archive.Actor, s scene) error {
		return second(b.RecoverVisit(ctx, archive.Write{By: a}, s.visit))
	},
	"RemoveSite": func(b *bench, a archive.Actor, s scene) error {
		return second(b.RemoveSite(ctx, archive.Write{By: a}, s.site, 2))
	},
	"RecoverSite": func(b *bench, a archive.Actor, s scene) error {
		return second(b.RecoverSite(ctx, archive.Write{By: a}, s.site))
	},
	"Site": func(b *bench, a archive.Actor, s scene) error {
		_, _, err := b.Site(ctx, a, s.site)
		return err
	},
	"Visit": func(b *bench, a archive.Actor, s scene) error {
		_, err := b.Visit(ctx, a, s.visit)
		return err
	},
	"Job": func(b *bench, a archive.Actor, s scene) error {
		_, _, err := b.Job(ctx, a, s.visit)
		return err
	},
	"JobAt": func(b *bench, a archive.Actor, s scene) error {
		_, err := b.JobAt(ctx, a, s.visit, s.content)
		return err
	},
	"PictureAt": func(b *bench, a archive.Actor, s scene) error {
		_, err := b.PictureAt(ctx, a, s.visit, archive.HashOf([]byte("full picture")))
		return err
	},
	"Picture": func(b *bench, a archive.Actor, s scene) error {
		_, err := b.Picture(ctx, a, s.visit, "a.jpg", true)
		return err
	},
	"Changes": func(b *bench, a archive.Actor, s scene) error {
		_, err := b.Changes(ctx, a, s.site, 0, 5)
		return err
	},
	"Find": func(b *bench, a archive.Actor, s scene) error {
		_, err := b.Find(ctx, a, archive.Query{})
		return err
	},
	"Due": func(b *bench, a archive.Actor, s scene) error {
		_, err := b.Due(ctx, a, "", 5)
		return err
	},
}

// kind sorts the methods by what may be done.
var kind = map[string]string{
	"SaveVisit": "write", "AddPhoto": "write", "RemovePhoto": "write", "RemoveVisit": "write", "RecoverVisit": "write", "RemoveSite": "write", "RecoverSite": "write",
	"Site": "look", "Visit": "look", "Job": "look", "Picture": "look",
	"JobAt": "list", "PictureAt": "list", "Changes": "list", "Find": "list", "Due": "list",
}

// allowed is the closed table: for each actor, the error of each kind of
// method, of the shared site and of another one.
var allowed = []struct {
	name  string
	actor func(shared archive.ID) archive.Actor
	own   map[string]error
	other map[string]error
}{
	{"owner", role(archive.Owner), all(nil), all(nil)},
	{"office", role(archive.Office), all(nil), all(nil)},
	{"crew", role(archive.Crew), all(nil), all(nil)},
	{"the program", func(archive.ID) archive.Actor { return archive.Program() }, all(nil), all(nil)},
	{"read-only", role(archive.ReadOnly), looker, looker},
	{"visitor", func(s archive.ID) archive.Actor { return archive.Actor{Share: own(77), Site: s} },
		map[string]error{"write": archive.ErrDenied, "look": nil, "list": archive.ErrNotFound},
		map[string]error{"write": archive.ErrDenied, "look": archive.ErrNotFound, "list": archive.ErrNotFound}},
	{"visitor who claims a role", func(s archive.ID) archive.Actor {
		return archive.Actor{Account: "x", Role: archive.Owner, Share: own(77), Site: s}
	}, map[string]error{"write": archive.ErrDenied, "look": nil, "list": archive.ErrNotFound},
		map[string]error{"write": archive.ErrDenied, "look": archive.ErrNotFound, "list": archive.ErrNotFound}},
	{"nobody", func(archive.ID) archive.Actor { return archive.Actor{} }, all(archive.ErrDenied), all(archive.ErrDenied)},
	{"a role that is none", role("admin"), all(archive.ErrDenied), all(archive.ErrDenied)},
	{"an account without a role", role(""), all(archive.ErrDenied), all(archive.ErrDenied)},
	{"a share without a site", func(archive.ID) archive.Actor { return archive.Actor{Share: own(77)} }, all(archive.ErrDenied), all(archive.ErrDenied)},
	{"a site without a share", func(s archive.ID) archive.Actor { return archive.Actor{Site: s} }, all(archive.ErrDenied), all(archive.ErrDenied)},
}

func role(r archive.Role) func(archive.ID) archive.Actor {
	return func(archive.ID) archive.Actor { return archive.Actor{Account: "someone", Role: r} }
}

func all(err error) map[string]error {
	return map[string]error{"write": err, "look": err, "list": err}
}

var looker = map[string]error{"write": archive.ErrDenied, "look": nil, "list": nil}

func (b *bench) scene() scene {
	b.Helper()
	s := b.save("", "a: 1")
	b.must(b.AddPhoto(ctx, asCrew, s.Visit, "a.jpg", []byte("picture")))
	return scene{s.Site, s.Visit, archive.HashOf([]byte("a: 1"))}
}

func TestEveryRoleAndMethod(t *testing.T) {
	records := reflect.TypeFor[archive.Records]()
	for i := range records.NumMethod() {
		name := records.Method(i).Name
		method := calls[name]
		if method == nil || kind[name] == "" {
			t.Errorf("%s is not in the table of roles and methods", name)
			continue
		}
		for _, who := range allowed {
			b := newBench(t)
			shared, other := b.scene(), b.scene()
			a := who.actor(shared.site)
			before := len(b.history(shared.site)) + len(b.history(other.site))
			for of, want := range map[scene]error{shared: who.own[kind[name]], other: who.other[kind[name]]} {
				if err := method(b, a, of); !errors.Is(err, want) {
					t.Errorf("%s asks %s (shared: %v): %v, want %v", who.name, name, of == shared, err, want)
				}
			}
			if after := len(b.history(shared.site)) + len(b.history(other.site)); who.own["write"] != nil && after != before {
				t.Errorf("%s changed something by %s", who.name, name)
			}
			b.sound()
		}
	}
	if len(calls) != records.NumMethod() {
		t.Errorf("the table has %d methods, there are %d", len(calls), records.NumMethod())
	}
}

// TestVisitorsSeeNothingRemoved holds that a link shows neither a removed visit
// nor a removed site, nor tells that there was one.
func TestVisitorsSeeNothingRemoved(t *testing.T) {
	b := newBench(t)
	s, gone := b.scene(), b.save("", "a: 1")
	extra := b.save(s.site, "a: 2")
	visitor := archive.Actor{Share: own(77), Site: s.site}
	b.must(b.RemoveVisit(ctx, asCrew, extra.Visit, 1))
	_, visits, err := b.Site(ctx, visitor, s.site)
	if err != nil || len(visits) != 1 || visits[0].ID != s.visit {
		t.Errorf("a visitor sees %d visits: %v", len(visits), err)
	}
	_, unknown := b.Visit(ctx, visitor, own(5))
	for _, id := range []archive.ID{extra.Visit, gone.Visit} {
		_, err = b.Visit(ctx, visitor, id)
		b.is(err, archive.ErrNotFound)
		if err != nil && len(err.Error()) != len(unknown.Error()) {
			t.Errorf("what is hidden is told otherwise than what is unknown: %v, %v", err, unknown)
		}
	}
	site, _, err := b.Site(ctx, crew, s.site)
	if err != nil {
		t.Fatal(err)
	}
	b.must(b.RemoveSite(ctx, asCrew, s.site, site.Revision))
	for name, method := range calls {
		if kind[name] == "look" {
			b.is(method(b, visitor, s), archive.ErrNotFound)
			if err := method(b, crew, s); err != nil {
				t.Errorf("%s of a removed site by crew: %v", name, err)
			}
		}
	}
}

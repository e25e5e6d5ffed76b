package archivetest

import (
	"slices"
	"strings"
	"time"

	"undersod/internal/archive"
)

func testNothing(b *bench) {
	b.view(func(r archive.Reader) {
		missing[archive.Site](b, "site")(r.Site(id("site", 1)))
		missing[archive.Visit](b, "visit")(r.Visit(id("visit", 1)))
		missing[archive.Account](b, "account")(r.Account(id("account", 1)))
		missing[archive.Account](b, "account by login")(r.AccountByLogin("rosalind"))
		missing[archive.Session](b, "session")(r.Session(hash("token", 1)))
		missing[archive.Share](b, "share")(r.Share(id("share", 1)))
		missing[archive.Share](b, "share by token")(r.ShareByToken(hash("token", 1)))
		missing[[]byte](b, "answer")(r.Answered("key"))
		missing[archive.Site](b, "site without ID")(r.Site(""))
		listed[archive.Visit](b, "visits")(r.Visits(id("site", 1)))()
		listed[archive.Change](b, "changes")(r.Changes(id("site", 1), 0, 10))()
		listed[archive.Change](b, "since")(r.Since(0, 10))()
		listed[archive.Site](b, "due")(r.Due("9999-12-31", 10))()
		listed[archive.Account](b, "accounts")(r.Accounts())()
		listed[archive.Session](b, "sessions")(r.Sessions(id("account", 1)))()
		listed[archive.Share](b, "shares")(r.Shares(""))()
		listed[archive.Event](b, "events")(r.Events(0, 10))()
		listed[archive.Hash](b, "contents")(r.Contents())()
		found[archive.Counts](b, "counts")(r.Counts())(archive.Counts{})
		found[archive.Found](b, "find")(r.Find(archive.Query{}))(archive.Found{})
	})
	b.update(func(w archive.Writer) {
		b.ok(w.DropSession(hash("token", 1)))
		b.ok(w.DropSessions(id("account", 1)))
		b.ok(w.DropExpired(day))
	})
}

func testSites(b *bench) {
	plain, full := archive.Site{ID: id("site", 1), Revision: 1, Created: at(0), Changed: at(0)}, site(2)
	gone := at(7)
	full.Deleted = &gone
	b.update(func(w archive.Writer) {
		b.ok(w.PutSite(plain))
		b.ok(w.PutSite(full))
	})
	b.view(func(r archive.Reader) {
		found[archive.Site](b, "a plain site")(r.Site(plain.ID))(plain)
		found[archive.Site](b, "a full, deleted site")(r.Site(full.ID))(full)
		found[archive.Counts](b, "counts")(r.Counts())(archive.Counts{Sites: 2})
	})
	full.Deleted, full.Heading.Latitude, full.Heading.Longitude, full.Revision = nil, nil, nil, 9
	b.update(func(w archive.Writer) { b.ok(w.PutSite(full)) })
	b.view(func(r archive.Reader) {
		found[archive.Site](b, "a site put again")(r.Site(full.ID))(full)
		found[archive.Counts](b, "counts")(r.Counts())(archive.Counts{Sites: 2})
	})
}

func testVisits(b *bench) {
	one, two := visit(1, 1), archive.Visit{ID: id("visit", 2), Site: id("site", 1), Revision: 1, Created: at(0), Changed: at(0), Job: hash("job", 2), Format: "json"}
	b.update(func(w archive.Writer) {
		b.ok(w.PutSite(site(1)))
		b.ok(w.PutVisit(one))
		b.ok(w.PutVisit(two))
	})
	b.view(func(r archive.Reader) {
		found[archive.Visit](b, "a full visit")(r.Visit(one.ID))(one)
		found[archive.Visit](b, "a plain visit")(r.Visit(two.ID))(two)
		found[archive.Counts](b, "counts")(r.Counts())(archive.Counts{Sites: 1, Visits: 2, Photos: 2})
	})
	gone := at(50)
	one.Deleted, one.Revision, one.Photos = &gone, 4, one.Photos[1:]
	b.update(func(w archive.Writer) { b.ok(w.PutVisit(one)) })
	b.view(func(r archive.Reader) {
		found[archive.Visit](b, "a visit put again, with a photo less")(r.Visit(one.ID))(one)
		found[archive.Counts](b, "counts")(r.Counts())(archive.Counts{Sites: 1, Visits: 2, Photos: 1})
	})
}

func testVisitOrder(b *bench) {
	dated := func(n, minute int, date string) archive.Visit {
		v := visit(n, 1)
		v.Created, v.Heading.Date, v.Photos = at(minute), date, nil
		return v
	}
	want := []archive.Visit{
		dated(1, 0, "2026-05-12"), dated(2, 0, "2026-05-02"), dated(5, 9, "2019-10-01"), dated(3, 4, "2019-10-01"), dated(4, 4, "2019-10-01"), dated(6, 30, ""),
	}
	gone := at(1)
	want[1].Deleted = &gone
	b.update(func(w archive.Writer) {
		b.ok(w.PutSite(site(1)))
		b.ok(w.PutSite(site(2)))
		for _, i := range []int{3, 0, 5, 2, 4, 1} {
			b.ok(w.PutVisit(want[i]))
		}
		b.ok(w.PutVisit(visit(7, 2)))
	})
	b.view(func(r archive.Reader) {
		listed[archive.Visit](b, "visits")(r.Visits(id("site", 1)))(want...)
	})
}

func testChanges(b *bench) {
	var all, ofOne []archive.Change
	b.update(func(w archive.Writer) {
		b.ok(w.PutSite(site(1)))
		b.ok(w.PutSite(site(2)))
		for n := range 130 {
			c := change(n, n%2+1)
			if n == 4 {
				c.Fields, c.Before, c.Visit = nil, "", ""
			}
			c.Number = 77 // the store counts by itself
			number, err := w.AddChange(c)
			b.ok(err)
			if number != int64(n)+1 {
				b.Errorf("change %d has number %d", n+1, number)
			}
			c.Number = number
			all = append(all, c)
			if n%2 == 0 {
				ofOne = append(ofOne, c)
			}
		}
	})
	newest := slices.Clone(ofOne)
	slices.Reverse(newest)
	b.view(func(r archive.Reader) {
		one := id("site", 1)
		listed[archive.Change](b, "changes of a site")(r.Changes(one, 0, 1000))(newest...)
		listed[archive.Change](b, "three changes")(r.Changes(one, 0, 3))(newest[:3]...)
		listed[archive.Change](b, "changes before one")(r.Changes(one, newest[2].Number, 2))(newest[3:5]...)
		listed[archive.Change](b, "changes before the first")(r.Changes(one, 1, 2))()
		listed[archive.Change](b, "as many as usual")(r.Changes(one, 0, 0))(newest[:archive.DefaultMost]...)
		listed[archive.Change](b, "since the start")(r.Since(0, 1000))(all...)
		listed[archive.Change](b, "as many as usual since the start")(r.Since(0, 0))(all[:archive.DefaultMost]...)
		listed[archive.Change](b, "since a change")(r.Since(100, 3))(all[100:103]...)
		listed[archive.Change](b, "since the last")(r.Since(130, 3))()
		listed[archive.Change](b, "since what is to come")(r.Since(1000, 3))()
		found[archive.Counts](b, "counts")(r.Counts())(archive.Counts{Sites: 2, Changes: 130})
	})
}

func testContents(b *bench) {
	one, two := visit(1, 1), visit(2, 1)
	two.Job = one.Job
	gone := at(3)
	two.Deleted = &gone
	c := change(3, 1)
	c.After = ""
	want := []archive.Hash{one.Job, c.Before}
	for _, p := range append(slices.Clone(one.Photos), two.Photos...) {
		want = append(want, p.Content, p.Thumbnail)
	}
	slices.Sort(want)
	b.update(func(w archive.Writer) {
		b.ok(w.PutSite(site(1)))
		b.ok(w.PutVisit(one))
		b.ok(w.PutVisit(two))
		_, err := w.AddChange(c)
		b.ok(err)
	})
	b.view(func(r archive.Reader) { listed[archive.Hash](b, "contents")(r.Contents())(want...) })
}

func testDue(b *bench) {
	dates := map[int]string{1: "2027-03-01", 2: "2026-12-24", 3: "", 4: "2026-12-24", 5: "2030-01-01", 6: "2020-01-01"}
	all := map[int]archive.Site{}
	b.update(func(w archive.Writer) {
		for n := 6; n >= 1; n-- {
			s := site(n)
			s.Heading.NextLook = dates[n]
			if n == 6 {
				gone := at(9)
				s.Deleted = &gone
			}
			all[n] = s
			b.ok(w.PutSite(s))
		}
		for n := 100; n < 160; n++ {
			s := site(n)
			s.Heading.NextLook = "2050-01-01"
			b.ok(w.PutSite(s))
		}
	})
	b.view(func(r archive.Reader) {
		listed[archive.Site](b, "due")(r.Due("2027-03-01", 10))(all[2], all[4], all[1])
		listed[archive.Site](b, "due a day before")(r.Due("2027-02-28", 10))(all[2], all[4])
		listed[archive.Site](b, "one due")(r.Due("2027-03-01", 1))(all[2])
		every, err := r.Due("", 1000)
		b.ok(err)
		if len(every) != 64 {
			b.Errorf("%d sites are due some day, want 64", len(every))
		}
		usual, err := r.Due("9999", 0)
		b.ok(err)
		if len(usual) != archive.DefaultMost {
			b.Errorf("%d sites are listed where nothing is said of how many, want %d", len(usual), archive.DefaultMost)
		}
	})
}

func testTexts(b *bench) {
	for i, text := range []string{
		"", " ", "Ærø Łódź Žižek 老橡树 дуб שלום 🌳", "e\u0301 and é are kept apart", "quote ' \" ; -- %_ \\ \t\n\r line", "NULL", "\u202etfel ot thgir", strings.Repeat("root 根 ", 20_000),
	} {
		s, v, c := site(i), visit(i, i), change(i, i)
		h := &s.Heading
		h.Name, h.Address, h.County, h.Owner, h.Parcel, h.Permit, h.Authority = text, text, text, text, text, text, text
		h.By, h.Fill, h.NextWhat, h.Words = text, text, text, text
		v.Heading, v.Photos[0].Name = s.Heading, text
		c.Words, c.Fields = text, []archive.Field{{Pointer: text, Before: text, After: text}}
		b.update(func(w archive.Writer) {
			b.ok(w.PutSite(s))
			b.ok(w.PutVisit(v))
			n, err := w.AddChange(c)
			b.ok(err)
			c.Number = n
		})
		b.view(func(r archive.Reader) {
			found[archive.Site](b, "site")(r.Site(s.ID))(s)
			found[archive.Visit](b, "visit")(r.Visit(v.ID))(v)
			listed[archive.Change](b, "change")(r.Changes(s.ID, 0, 5))(c)
		})
	}
}

func testTimes(b *bench) {
	zone := time.FixedZone("somewhere", -6*3600)
	s := site(1)
	s.Created.At = time.Date(2026, 11, 1, 1, 30, 0, 999_999_999, zone)
	s.Changed.At = time.Date(1996, 2, 29, 0, 0, 0, 0, zone)
	gone := archive.Stamp{At: time.Date(2096, 2, 29, 23, 59, 59, 0, zone)}
	s.Deleted = &gone
	b.update(func(w archive.Writer) { b.ok(w.PutSite(s)) })
	s.Created.At = s.Created.At.UTC().Truncate(time.Millisecond)
	s.Changed.At = s.Changed.At.UTC()
	s.Deleted = &archive.Stamp{At: gone.At.UTC()}
	b.view(func(r archive.Reader) { found[archive.Site](b, "times in UTC")(r.Site(s.ID))(s) })
}

// testOwnership changes what was given and what was returned; neither may
// change what is kept.
func testOwnership(b *bench) {
	v, c := visit(1, 1), change(1, 1)
	gone := at(1)
	v.Deleted = &gone
	answer := []byte("answer")
	b.update(func(w archive.Writer) {
		b.ok(w.PutSite(site(1)))
		b.ok(w.PutVisit(v))
		_, err := w.AddChange(c)
		b.ok(err)
		b.ok(w.PutAnswer("key", day, answer))
	})
	spoil := func(v archive.Visit, c archive.Change, answer []byte) {
		v.Photos[0].Name, *v.Heading.Latitude, v.Deleted.By = "spoilt", 1, "spoilt"
		c.Fields[0].Pointer, answer[0] = "spoilt", 'X'
	}
	spoil(v, c, answer)
	for range 2 {
		b.view(func(r archive.Reader) {
			v, err := r.Visit(v.ID)
			b.ok(err)
			changes, err := r.Changes(v.Site, 0, 1)
			b.ok(err)
			answer, err := r.Answered("key")
			b.ok(err)
			want := visit(1, 1)
			asked := at(1)
			want.Deleted = &asked
			same(b, "visit", v, want)
			same(b, "fields", changes[0].Fields, change(1, 1).Fields)
			same(b, "answer", string(answer), "answer")
			spoil(v, changes[0], answer)
		})
	}
}

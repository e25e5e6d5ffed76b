package archivetest

import (
	"slices"
	"strings"
	"time"

	"undersod/internal/archive"
)

func testAccounts(b *bench) {
	rosalind, ann := account(1, "rosalind"), account(2, "ann")
	b.update(func(w archive.Writer) {
		b.ok(w.PutAccount(rosalind))
		b.ok(w.PutAccount(ann))
	})
	b.view(func(r archive.Reader) {
		found[archive.Account](b, "account")(r.Account(rosalind.ID))(rosalind)
		found[archive.Account](b, "account by login")(r.AccountByLogin("ann"))(ann)
		listed[archive.Account](b, "accounts")(r.Accounts())(ann, rosalind)
		missing[archive.Account](b, "part of a login")(r.AccountByLogin("an"))
		missing[archive.Account](b, "a login in other letters")(r.AccountByLogin("Ann"))
	})
	second := account(3, "ann")
	b.update(func(w archive.Writer) {
		b.is(w.PutAccount(second), archive.ErrExists)
		ann.Login, ann.Role, ann.Disabled, ann.Password = "zoe", archive.Owner, true, ""
		b.ok(w.PutAccount(ann)) // a new login for the same account
		b.ok(w.PutAccount(ann)) // and again
		b.ok(w.PutAccount(second))
		rosalind.Login = "zoe"
		b.is(w.PutAccount(rosalind), archive.ErrExists)
		rosalind.Login = "rosalind"
	})
	b.view(func(r archive.Reader) {
		listed[archive.Account](b, "accounts")(r.Accounts())(second, rosalind, ann)
		found[archive.Account](b, "account by its new login")(r.AccountByLogin("zoe"))(ann)
		found[archive.Account](b, "the login's new account")(r.AccountByLogin("ann"))(second)
	})
}

func testSessions(b *bench) {
	one, two, other := session(1, 1), session(2, 1), session(3, 2)
	b.update(func(w archive.Writer) {
		b.ok(w.PutAccount(account(1, "rosalind")))
		b.ok(w.PutAccount(account(2, "ann")))
		for _, s := range []archive.Session{one, other, two} {
			b.ok(w.PutSession(s))
		}
	})
	b.view(func(r archive.Reader) {
		found[archive.Session](b, "session")(r.Session(one.Token))(one)
		listed[archive.Session](b, "sessions")(r.Sessions(id("account", 1)))(two, one)
	})
	one.Seen, one.Expires, one.Agent = at(99).At, at(999).At, strings.Repeat("ü", 300)
	b.update(func(w archive.Writer) {
		b.ok(w.PutSession(one))
		b.ok(w.DropSession(two.Token))
		b.ok(w.DropSession(two.Token))
	})
	b.view(func(r archive.Reader) {
		listed[archive.Session](b, "sessions")(r.Sessions(id("account", 1)))(one)
		missing[archive.Session](b, "a dropped session")(r.Session(two.Token))
	})
	b.update(func(w archive.Writer) { b.ok(w.DropSessions(id("account", 1))) })
	b.view(func(r archive.Reader) {
		listed[archive.Session](b, "sessions")(r.Sessions(id("account", 1)))()
		listed[archive.Session](b, "another's sessions")(r.Sessions(id("account", 2)))(other)
	})
}

func testShares(b *bench) {
	one, two, three, other := share(1, 1), share(2, 1), share(3, 1), share(4, 2)
	three.Created = two.Created
	b.update(func(w archive.Writer) {
		b.ok(w.PutSite(site(1)))
		b.ok(w.PutSite(site(2)))
		for _, s := range []archive.Share{three, one, other, two} {
			b.ok(w.PutShare(s))
		}
	})
	b.view(func(r archive.Reader) {
		found[archive.Share](b, "share")(r.Share(one.ID))(one)
		found[archive.Share](b, "share by token")(r.ShareByToken(two.Token))(two)
		listed[archive.Share](b, "shares of a site")(r.Shares(id("site", 1)))(two, three, one)
		listed[archive.Share](b, "all shares")(r.Shares(""))(other, two, three, one)
		listed[archive.Share](b, "shares of an unknown site")(r.Shares(id("site", 9)))()
	})
	revoked := at(70)
	two.Revoked, two.Label = &revoked, ""
	b.update(func(w archive.Writer) { b.ok(w.PutShare(two)) })
	b.view(func(r archive.Reader) { found[archive.Share](b, "a revoked share")(r.ShareByToken(two.Token))(two) })
}

func testEvents(b *bench) {
	var newest []archive.Event
	b.update(func(w archive.Writer) {
		for n := range 60 {
			e := event(n)
			e.Number = 5 // the store counts by itself
			number, err := w.AddEvent(e)
			b.ok(err)
			if number != int64(n)+1 {
				b.Errorf("event %d has number %d", n+1, number)
			}
			e.Number = number
			newest = append(newest, e)
		}
	})
	slices.Reverse(newest)
	b.view(func(r archive.Reader) {
		listed[archive.Event](b, "events")(r.Events(0, 100))(newest...)
		listed[archive.Event](b, "two events")(r.Events(0, 2))(newest[:2]...)
		listed[archive.Event](b, "events before one")(r.Events(newest[1].Number, 3))(newest[2:5]...)
		listed[archive.Event](b, "events before the first")(r.Events(1, 3))()
		listed[archive.Event](b, "as many as usual")(r.Events(0, 0))(newest[:archive.DefaultMost]...)
	})
}

func testAnswers(b *bench) {
	binary := []byte("\x00\xff{}")
	b.update(func(w archive.Writer) {
		b.ok(w.PutAnswer("one", day, binary))
		b.ok(w.PutAnswer("ONE", day, nil))
		b.is(w.PutAnswer("one", day, []byte("another")), archive.ErrExists)
	})
	b.update(func(w archive.Writer) {
		b.is(w.PutAnswer("one", day, []byte("another")), archive.ErrExists)
		b.ok(w.PutAnswer("ключ "+strings.Repeat("k", 300), day, []byte("long")))
	})
	b.view(func(r archive.Reader) {
		found[[]byte](b, "answer")(r.Answered("one"))(binary)
		text, err := r.Answered("ONE")
		b.ok(err)
		if len(text) != 0 {
			b.Errorf("an empty answer comes back as %q", text)
		}
		found[[]byte](b, "answer of a long key")(r.Answered("ключ " + strings.Repeat("k", 300)))([]byte("long"))
		missing[[]byte](b, "another key")(r.Answered("on"))
	})
}

func testExpiry(b *bench) {
	over, ends, stays := session(1, 1), session(2, 1), session(3, 1)
	now := day.Add(100 * time.Hour)
	over.Expires, ends.Expires, stays.Expires = now.Add(-time.Hour), now, now.Add(time.Millisecond)
	b.update(func(w archive.Writer) {
		b.ok(w.PutAccount(account(1, "rosalind")))
		for _, s := range []archive.Session{over, ends, stays} {
			b.ok(w.PutSession(s))
		}
		b.ok(w.PutAnswer("old", now.Add(-archive.AnswersKept-time.Millisecond), []byte("old")))
		b.ok(w.PutAnswer("young", now.Add(-archive.AnswersKept), []byte("young")))
		b.ok(w.DropExpired(now))
	})
	b.view(func(r archive.Reader) {
		listed[archive.Session](b, "sessions")(r.Sessions(id("account", 1)))(stays)
		missing[[]byte](b, "an answer that is over")(r.Answered("old"))
		found[[]byte](b, "an answer that is remembered")(r.Answered("young"))([]byte("young"))
	})
	b.update(func(w archive.Writer) { b.ok(w.PutAnswer("old", now, []byte("new"))) })
}

package archivetest

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"

	"undersod/core/unit"
	"undersod/internal/archive"
)

// testRandom carries out random updates, some of which fail, on the store and
// on a plain model, and reads everything of both.
func testRandom(b *bench) {
	const updates = 300
	r := &random{rand.New(rand.NewPCG(20260512, 7))}
	kept, given := newModel(), errors.New("the caller's own error")
	for n := range updates {
		var next *model
		fails := r.one(4)
		err := b.store.Update(context.Background(), func(w archive.Writer) error {
			next = kept.clone()
			for range 1 + r.IntN(6) {
				if err := r.operate(w, next); err != nil {
					return err
				}
			}
			if r.one(5) {
				r.compare(b, w, next)
			}
			if fails {
				return given
			}
			return nil
		})
		switch {
		case fails && !errors.Is(err, given), !fails && err != nil:
			b.Fatalf("update %d: %v", n, err)
		case !fails:
			kept = next
		}
		if r.one(3) {
			b.view(func(v archive.Reader) { r.compare(b, v, kept) })
		}
		if b.Failed() {
			b.Fatalf("after update %d", n)
		}
	}
	b.view(func(v archive.Reader) { r.compare(b, v, kept) })
}

// random makes what the updates put.
type random struct{ *rand.Rand }

// one is true once in n times.
func (r *random) one(n int) bool { return r.IntN(n) == 0 }

func (r *random) pick(list ...string) string { return list[r.IntN(len(list))] }

func (r *random) words() string {
	var out string
	for range r.IntN(4) {
		out += r.pick("oak", "oaken", "Hollow", "lane", "quarry", "quarter", "box", "BOXES", "a", "fern") + " "
	}
	return out
}

func (r *random) stampOrNil() *archive.Stamp {
	if r.one(3) {
		s := at(r.IntN(1000))
		return &s
	}
	return nil
}

func (r *random) heading() archive.Heading {
	h := archive.Heading{Name: r.words(), Address: r.words(), Owner: r.words(), Permit: r.words(), Words: r.words(), Mistakes: r.IntN(9), Fill: r.words()}
	h.Date = r.pick("", "2019-10-01", "2026-05-12", "2026-05-13")
	h.NextLook = r.pick("", "2027-01-01", "2027-01-02", "2028-05-05")
	if !r.one(4) {
		la, lo := r.place()
		h.Latitude, h.Longitude = &la, &lo
	}
	return h
}

// place returns one of a few neighbourhoods, two of them over the date line and
// about a pole.
func (r *random) place() (latitude, longitude unit.Angle) {
	small := func() float64 { return r.Float64()*0.02 - 0.01 }
	switch r.IntN(3) {
	case 0:
		return unit.Angle(44+small()) * unit.Degree, unit.Angle(-93+small()) * unit.Degree
	case 1:
		return unit.Angle(-17+small()) * unit.Degree, (unit.Angle(180+small()) * unit.Degree).HalfTurn()
	default:
		return unit.Angle(90-r.Float64()*0.02) * unit.Degree, unit.Angle(r.Float64()*360-180) * unit.Degree
	}
}

// operate puts something random in the store and in the model.
func (r *random) operate(w archive.Writer, m *model) error {
	n, of := r.IntN(12), r.IntN(12)
	switch r.IntN(9) {
	case 0, 1, 2:
		s := archive.Site{ID: id("site", n), Revision: archive.Revision(r.IntN(99)), Created: at(r.IntN(9)), Changed: at(r.IntN(9)), Deleted: r.stampOrNil(), Heading: r.heading()}
		m.putSite(s)
		return w.PutSite(s)
	case 3, 4:
		return r.putVisit(w, m, n)
	case 5:
		c := change(n, of)
		c.Fields = c.Fields[:r.IntN(3)]
		number, err := w.AddChange(c)
		c.Number = int64(len(m.changes)) + 1
		m.changes = append(m.changes, c)
		return errors.Join(err, counted(number, c.Number))
	case 6:
		a := account(n, r.pick("ann", "bo", "cy", "di", "eve"))
		return agree(w.PutAccount(a), m.putAccount(a))
	case 7:
		return r.putSmall(w, m, n, of)
	default:
		key, answer := fmt.Sprint("key ", r.IntN(200)), r.words()
		return agree(w.PutAnswer(key, day, []byte(answer)), m.putAnswer(key, answer))
	}
}

func counted(got, want int64) error {
	if got != want {
		return fmt.Errorf("the number is %d, want %d", got, want)
	}
	return nil
}

// putVisit puts a visit of a site that is there, or nothing.
func (r *random) putVisit(w archive.Writer, m *model, n int) error {
	if len(m.sites) == 0 {
		return nil
	}
	v := visit(n, 0)
	v.Site, v.Created, v.Deleted, v.Heading, v.Photos = m.sites[r.IntN(len(m.sites))].ID, at(r.IntN(4)), r.stampOrNil(), r.heading(), v.Photos[:r.IntN(3)]
	if old, there := m.visits[v.ID]; there {
		v.Site = old.Site
	}
	m.visits[v.ID] = v
	return w.PutVisit(v)
}

// putSmall puts an event, a session or a share, or drops sessions. The account
// or the site may not be there.
func (r *random) putSmall(w archive.Writer, m *model, n, of int) error {
	switch r.IntN(5) {
	case 0:
		e := event(n)
		number, err := w.AddEvent(e)
		e.Number = int64(len(m.events)) + 1
		m.events = append(m.events, e)
		return errors.Join(err, counted(number, e.Number))
	case 1, 2:
		if _, there := m.accounts[id("account", of%4)]; !there {
			return nil
		}
		s := session(n, of%4)
		m.sessions[s.Token] = s
		return w.PutSession(s)
	case 3:
		if !slices.ContainsFunc(m.sites, func(s archive.Site) bool { return s.ID == id("site", of) }) {
			return nil
		}
		s := share(n, of)
		m.shares[s.ID] = s
		return w.PutShare(s)
	default:
		delete(m.sessions, hash("token", n))
		return w.DropSession(hash("token", n))
	}
}

// compare reads a store and the model in the same way.
func (r *random) compare(b *bench, v archive.Reader, m *model) {
	n := r.IntN(12)
	one := id("site", n)
	before, most := int64(r.IntN(len(m.changes)+2)), 1+r.IntN(30)
	for range 4 {
		q := r.query()
		found[archive.Found](b, fmt.Sprintf("find %s", told(q)))(v.Find(q))(m.find(q))
	}
	listed[archive.Site](b, "due")(v.Due("2027-01-02", most))(m.due("2027-01-02", most)...)
	listed[archive.Visit](b, "visits")(v.Visits(one))(m.visitsOf(one)...)
	listed[archive.Change](b, "changes")(v.Changes(one, before, most))(newest(m.changes, most, func(c archive.Change) bool {
		return c.Site == one && (before == 0 || c.Number < before)
	})...)
	after := m.changes[min(int(before), len(m.changes)):]
	listed[archive.Change](b, "since")(v.Since(before, most))(after[:min(most, len(after))]...)
	listed[archive.Event](b, "events")(v.Events(0, most))(newest(m.events, most, func(archive.Event) bool { return true })...)
	listed[archive.Hash](b, "contents")(v.Contents())(m.contents()...)
	found[archive.Counts](b, "counts")(v.Counts())(m.counts())
	comparePeople(b, v, m)
}

func comparePeople(b *bench, v archive.Reader, m *model) {
	for n := range 12 {
		a, err := v.Account(id("account", n))
		b.compareOne("account", told(a), told(m.accounts[a.ID]), err, m.accounts[id("account", n)].ID != "")
		s, err := v.Session(hash("token", n))
		b.compareOne("session", told(s), told(m.sessions[s.Token]), err, m.sessions[hash("token", n)].Token != "")
		h, err := v.Share(id("share", n))
		b.compareOne("share", told(h), told(m.shares[h.ID]), err, m.shares[id("share", n)].ID != "")
	}
	for key := range 200 {
		answer, err := v.Answered(fmt.Sprint("key ", key))
		want, there := m.answers[fmt.Sprint("key ", key)]
		b.compareOne("answer", string(answer), want, err, there)
	}
}

func (b *bench) compareOne(what, got, want string, err error, there bool) {
	b.Helper()
	switch {
	case !there && !errors.Is(err, archive.ErrNotFound):
		b.Errorf("%s: %v, want %v", what, err, archive.ErrNotFound)
	case there && (err != nil || got != want):
		b.Errorf("%s: %v\n got %.2000s\nwant %.2000s", what, err, got, want)
	}
}

func (r *random) query() archive.Query {
	q := archive.Query{Words: r.words(), Deleted: r.one(3), Skip: r.IntN(3), Most: 1 + r.IntN(8)}
	if r.one(2) {
		q.Words = ""
	}
	if r.one(2) {
		la, lo := r.place()
		q.Near = &archive.Near{Latitude: la, Longitude: lo, Within: unit.Length(100+r.IntN(3000)) * unit.Metre}
	}
	return q
}

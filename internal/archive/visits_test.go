package archive_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"undersod/core/unit"
	"undersod/internal/archive"
)

func TestSaveVisitMakesSiteAndVisit(t *testing.T) {
	b := newBench(t)
	job := "owner: A. Fernleaf\npermit: T-1996-0412\ndate: 2026-05-12\n"
	s := b.save("", job)
	if !s.Site.Valid() || !s.Visit.Valid() || s.Revision != 1 || s.Change != 1 {
		t.Errorf("saved as %+v", s)
	}
	v, kept, err := b.Job(ctx, crew, s.Visit)
	if err != nil || string(kept) != job || v.Heading.Owner != "A. Fernleaf" || v.Created.By != "crew" || !v.Created.At.Equal(b.now) {
		t.Errorf("%+v, %q, %v", v, kept, err)
	}
	site, visits, err := b.Site(ctx, crew, s.Site)
	if err != nil || len(visits) != 1 || site.Heading.Permit != "T-1996-0412" || site.Revision != 1 || !site.Created.At.Equal(b.now) {
		t.Errorf("%+v, %d visits, %v", site, len(visits), err)
	}
	c := b.history(s.Site)
	if len(c) != 1 || c[0].Deed != archive.Made || c[0].Before != "" || c[0].After != v.Job || c[0].Words != "site and visit made" {
		t.Errorf("the history is %+v", c)
	}
	if f, err := b.Find(ctx, crew, archive.Query{Words: "1996-0412"}); err != nil || len(f.Sites) != 1 {
		t.Errorf("%+v, %v", f, err)
	}
	b.sound()
}

func TestSaveVisitOfAPhone(t *testing.T) {
	b := newBench(t)
	first := b.must(b.SaveVisit(ctx, asCrew, own(1), own(2), 0, "json", []byte(`{}`)))
	if first.Site != own(1) || first.Visit != own(2) {
		t.Errorf("the phone's own names became %+v", first)
	}
	again := b.must(b.SaveVisit(ctx, asCrew, own(1), own(2), 0, "json", []byte(`{}`)))
	if again.Change != 0 || again.Revision != 1 {
		t.Errorf("sent again it became %+v", again)
	}
	_, err := b.SaveVisit(ctx, asCrew, own(1), own(2), 0, "json", []byte(`{"a": 1}`))
	b.is(err, archive.ErrStale)
	_, err = b.SaveVisit(ctx, asCrew, own(3), own(2), 1, "json", []byte(`{"a": 1}`))
	b.is(err, archive.ErrRefused)
	_, err = b.SaveVisit(ctx, asCrew, "", own(4), 1, "json", []byte(`{}`))
	b.is(err, archive.ErrNotFound)
	b.sound()
}

func TestSaveVisitTellsWhatChanged(t *testing.T) {
	b := newBench(t)
	s := b.save("", "owner: A\nreadings: [a, b]\n")
	b.now = b.now.Add(time.Hour)
	s2 := b.must(b.SaveVisit(ctx, archive.Write{By: office}, "", s.Visit, 1, "json", []byte(`{"owner": "B", "readings": ["a", "x", "b"]}`)))
	if s2.Revision != 2 || s2.Change != 2 {
		t.Errorf("%+v", s2)
	}
	c := b.history(s.Site)[0]
	want := []archive.Field{{Pointer: "/owner", Before: `"A"`, After: `"B"`}, {Pointer: "/readings/1", After: `"x"`}}
	if fmt.Sprint(c.Fields) != fmt.Sprint(want) || c.Words != "2 entries changed" || c.Stamp.By != "office" || !c.Stamp.At.Equal(b.now) || c.Deed != archive.Altered {
		t.Errorf("%+v", c)
	}
	b.must(b.SaveVisit(ctx, asCrew, "", s.Visit, 2, "yaml", []byte("readings: [a, x, b] # checked\nowner: B\n")))
	if c := b.history(s.Site)[0]; c.Words != "no entry changed, only how they are written" || len(c.Fields) != 0 {
		t.Errorf("%+v", c)
	}
	b.must(b.SaveVisit(ctx, asCrew, "", s.Visit, 3, "yaml", []byte("readings: [a, x")))
	if c := b.history(s.Site)[0]; len(c.Fields) != 1 || c.Fields[0].Pointer != "" {
		t.Errorf("%+v", c)
	}
	for _, c := range b.history(s.Site) {
		job, err := b.JobAt(ctx, crew, s.Visit, c.After)
		if err != nil || archive.HashOf(job) != c.After {
			t.Errorf("the job file %s: %v", c.After, err)
		}
	}
	_, err := b.JobAt(ctx, crew, s.Visit, archive.HashOf([]byte("never its own")))
	b.is(err, archive.ErrNotFound)
	other := b.save(s.Site, "of another visit")
	b.must(b.AddPhoto(ctx, asCrew, s.Visit, "a.jpg", []byte("picture")))
	for _, h := range []archive.Hash{"", archive.HashOf([]byte("of another visit")), archive.HashOf([]byte("full picture"))} {
		_, err = b.JobAt(ctx, crew, s.Visit, h)
		b.is(err, archive.ErrNotFound)
	}
	if _, err = b.JobAt(ctx, crew, other.Visit, archive.HashOf([]byte("of another visit"))); err != nil {
		t.Error(err)
	}
	b.sound()
}

func TestManyChangedEntriesAreCounted(t *testing.T) {
	b := newBench(t)
	var before, after strings.Builder
	for i := range 1000 {
		fmt.Fprintf(&before, "k%d: 1\n", i)
		fmt.Fprintf(&after, "k%d: 2\n", i)
	}
	s := b.save("", before.String())
	b.must(b.SaveVisit(ctx, asCrew, "", s.Visit, 1, "yaml", []byte(after.String())))
	c := b.history(s.Site)[0]
	if len(c.Fields) != archive.MostFields || c.Words != "1000 entries changed, of which the first 200 are listed and 800 more are not" {
		t.Errorf("%d fields, %q", len(c.Fields), c.Words)
	}
}

func TestStaleAndPhotosBetween(t *testing.T) {
	b := newBench(t)
	s := b.save("", "a: 1")
	b.must(b.AddPhoto(ctx, asCrew, s.Visit, "photos/box.jpg", []byte("picture")))
	b.must(b.RemovePhoto(ctx, asCrew, s.Visit, "photos/box.jpg"))
	s2 := b.must(b.SaveVisit(ctx, asCrew, "", s.Visit, 1, "yaml", []byte("a: 2")))
	if s2.Revision != 4 {
		t.Errorf("after two changes of photos it is revision %d", s2.Revision)
	}
	for _, base := range []archive.Revision{0, 1, 2, 3, 5, 99} {
		_, err := b.SaveVisit(ctx, asCrew, "", s.Visit, base, "yaml", []byte("a: 3"))
		b.is(err, archive.ErrStale)
		_, err = b.RemoveVisit(ctx, asCrew, s.Visit, base)
		b.is(err, archive.ErrStale)
	}
	// Who worked on an old one and came to the same has nothing to do.
	if same := b.must(b.SaveVisit(ctx, asCrew, "", s.Visit, 1, "yaml", []byte("a: 2"))); same.Change != 0 || same.Revision != 4 {
		t.Errorf("the same content gave %+v", same)
	}
	_, err := b.RemoveSite(ctx, asCrew, s.Site, 1)
	b.is(err, archive.ErrStale)
	b.sound()
}

func TestTheSameKeyChangesNothing(t *testing.T) {
	b := newBench(t)
	key := archive.Write{By: crew, Key: "key-1"}
	first := b.must(b.SaveVisit(ctx, key, "", "", 0, "yaml", []byte("a: 1")))
	b.now = b.now.Add(time.Hour)
	if again := b.must(b.SaveVisit(ctx, key, "", "", 0, "yaml", []byte("a: 1"))); again != first {
		t.Errorf("first %+v, then %+v", first, again)
	}
	photo := archive.Write{By: crew, Key: "key-2"}
	p1 := b.must(b.AddPhoto(ctx, photo, first.Visit, "a.jpg", []byte("picture")))
	b.must(b.RemovePhoto(ctx, asCrew, first.Visit, "a.jpg"))
	if p2 := b.must(b.AddPhoto(ctx, photo, first.Visit, "a.jpg", []byte("picture"))); p2 != p1 {
		t.Errorf("first %+v, then %+v", p1, p2)
	}
	v, err := b.Visit(ctx, crew, first.Visit)
	if err != nil || len(v.Photos) != 0 {
		t.Errorf("a repeated request brought the photo back: %v, %v", v.Photos, err)
	}
	remove := archive.Write{By: crew, Key: "key-3"}
	r1 := b.must(b.RemoveVisit(ctx, remove, first.Visit, v.Revision))
	b.must(b.RecoverVisit(ctx, asCrew, first.Visit))
	if r2 := b.must(b.RemoveVisit(ctx, remove, first.Visit, v.Revision)); r2 != r1 {
		t.Errorf("first %+v, then %+v", r1, r2)
	}
	_, err = b.SaveVisit(ctx, key, "", "", 0, "yaml", []byte("a: 2"))
	b.is(err, archive.ErrKeyUsed)
	_, err = b.RecoverVisit(ctx, key, first.Visit)
	b.is(err, archive.ErrKeyUsed)
	if other := b.must(b.SaveVisit(ctx, archive.Write{By: office, Key: "key-1"}, "", "", 0, "yaml", []byte("a: 1"))); other == first {
		t.Error("another account's key gave this account's answer")
	}
	for _, bad := range []string{strings.Repeat("k", 201), "a\x00b", "\xff"} {
		_, err = b.SaveVisit(ctx, archive.Write{By: crew, Key: bad}, "", "", 0, "yaml", nil)
		b.is(err, archive.ErrRefused)
	}
	b.sound()
}

func TestAFailedRequestIsNotRemembered(t *testing.T) {
	b := newBench(t)
	s := b.save("", "a: 1")
	key := archive.Write{By: crew, Key: "k"}
	_, err := b.SaveVisit(ctx, key, "", s.Visit, 7, "yaml", []byte("a: 2"))
	b.is(err, archive.ErrStale)
	b.must(b.SaveVisit(ctx, key, "", s.Visit, 1, "yaml", []byte("a: 2")))
}

func TestWhatIsRefused(t *testing.T) {
	b := newBench(t)
	for _, c := range []struct {
		site, visit archive.ID
		base        archive.Revision
		format      string
		job         []byte
		want        error
	}{
		{"", "", 0, "xml", nil, archive.ErrRefused},
		{"", "", 0, "", nil, archive.ErrRefused},
		{"../..", "", 0, "yaml", nil, archive.ErrRefused},
		{"", "SHOUTED", 0, "yaml", nil, archive.ErrRefused},
		{"", "", -1, "yaml", nil, archive.ErrRefused},
		{"", "", 0, "yaml", make([]byte, archive.MostJobBytes+1), archive.ErrTooLarge},
	} {
		_, err := b.SaveVisit(ctx, asCrew, c.site, c.visit, c.base, c.format, c.job)
		b.is(err, c.want)
	}
	b.must(b.SaveVisit(ctx, asCrew, "", "", 0, "yaml", make([]byte, archive.MostJobBytes)))
	b.must(b.SaveVisit(ctx, asCrew, "", "", 0, "yaml", nil))
	b.sound()
}

func TestStampsNeverGoBack(t *testing.T) {
	b := newBench(t)
	start := b.now
	s := b.save("", "a: 1")
	b.now = start.Add(-10 * 365 * 24 * time.Hour)
	s = b.must(b.SaveVisit(ctx, asCrew, "", s.Visit, s.Revision, "yaml", []byte("a: 2")))
	s = b.must(b.AddPhoto(ctx, asCrew, s.Visit, "a.jpg", []byte("picture")))
	s = b.must(b.RemoveVisit(ctx, asCrew, s.Visit, s.Revision))
	site, _, err := b.Site(ctx, crew, s.Site)
	if err != nil {
		t.Fatal(err)
	}
	b.must(b.RemoveSite(ctx, asCrew, s.Site, site.Revision))
	for _, c := range b.history(s.Site) {
		if !c.Stamp.At.Equal(start) {
			t.Errorf("while the clock was back, %s was stamped %v", c.Words, c.Stamp.At)
		}
	}
	b.now = start.Add(time.Minute)
	b.must(b.RecoverSite(ctx, asCrew, s.Site))
	if c := b.history(s.Site)[0]; !c.Stamp.At.Equal(b.now) {
		t.Errorf("after the clock had passed it, the stamp is %v", c.Stamp.At)
	}
	b.sound()
}

func TestHeadingsAreBroughtToWhatCanBeKept(t *testing.T) {
	b := newBench(t)
	bad, lat, lon := unit.Angle(math.NaN()), 44*unit.Degree, 267*unit.Degree
	full := archive.Heading{Owner: "a\xff\x00b", Address: strings.Repeat("é", 5000), Date: "yesterday", NextLook: "2027-13-01", Latitude: &lat, Longitude: &lon, Words: strings.Repeat("é", 100_000)}
	b.Read = func(string, []byte) archive.Heading { return full }
	v, err := b.Visit(ctx, crew, b.save("", "a").Visit)
	if err != nil {
		t.Fatal(err)
	}
	h := v.Heading
	if h.Owner != "a\uFFFD b" || len(h.Address) != 1000 || h.Date != "" || h.NextLook != "" || len(h.Words) != 64<<10 || math.Abs(h.Longitude.Degrees()+93) > 1e-9 {
		t.Errorf("%.200q, %v", fmt.Sprint(h.Owner, len(h.Address), h.Date, h.NextLook, len(h.Words)), h.Longitude)
	}
	for _, place := range [][2]*unit.Angle{{&lat, nil}, {nil, &lon}, {&bad, &lon}, {&lat, &bad}, {&lon, &lon}} {
		full.Latitude, full.Longitude = place[0], place[1]
		v, err := b.Visit(ctx, crew, b.save("", "a").Visit)
		if err != nil || v.Heading.Latitude != nil || v.Heading.Longitude != nil {
			t.Errorf("a place that is none is kept: %v, %v", v.Heading, err)
		}
	}
	full.Latitude, full.Longitude = nil, nil
}

func TestASiteShowsItsNewestVisit(t *testing.T) {
	b := newBench(t)
	old := b.save("", "date: 2019-10-01\nowner: A. Fernleaf\nnotes: roots\nnext: 2020-01-01\n")
	mid := b.save(old.Site, "date: 2026-05-12\nowner: B. Mossgate\nnext: 2029-05-12\n")
	b.save(old.Site, "date: 2010-01-01\nowner: C. Dell\n")
	check := func(when, owner, next string, found ...string) {
		t.Helper()
		site, _, err := b.Site(ctx, crew, old.Site)
		if err != nil || site.Heading.Owner != owner || site.Heading.NextLook != next {
			t.Errorf("%s: %+v, %v", when, site.Heading, err)
		}
		for _, words := range found {
			if f, err := b.Find(ctx, crew, archive.Query{Words: words}); err != nil || len(f.Sites) != 1 {
				t.Errorf("%s: %q is not found: %v", when, words, err)
			}
		}
		b.sound()
	}
	check("three visits", "B. Mossgate", "2029-05-12", "mossgate", "fernleaf roots", "dell")
	b.must(b.RemoveVisit(ctx, asCrew, mid.Visit, 1))
	check("the newest removed", "A. Fernleaf", "2020-01-01", "fernleaf dell")
	if f, _ := b.Find(ctx, crew, archive.Query{Words: "mossgate"}); len(f.Sites) != 0 {
		t.Error("a removed visit is found")
	}
	b.must(b.RecoverVisit(ctx, asCrew, mid.Visit))
	check("recovered", "B. Mossgate", "2029-05-12", "mossgate")
}

func TestRemovedAndRecovered(t *testing.T) {
	b := newBench(t)
	s := b.save("", "owner: A. Fernleaf\nnext: 2027-01-01\ndate: 2026-05-12")
	b.must(b.AddPhoto(ctx, asCrew, s.Visit, "a.jpg", []byte("picture")))
	removed := b.must(b.RemoveVisit(ctx, asCrew, s.Visit, 2))
	if again := b.must(b.RemoveVisit(ctx, asCrew, s.Visit, 2)); again.Change != 0 || again.Revision != removed.Revision {
		t.Errorf("removed again: %+v", again)
	}
	for name, err := range map[string]error{
		"save":         second(b.SaveVisit(ctx, asCrew, "", s.Visit, removed.Revision, "yaml", []byte("a: 1"))),
		"photo":        second(b.AddPhoto(ctx, asCrew, s.Visit, "b.jpg", []byte("picture"))),
		"remove photo": second(b.RemovePhoto(ctx, asCrew, s.Visit, "a.jpg")),
	} {
		if err == nil || !strings.Contains(err.Error(), archive.ErrRemoved.Error()) {
			t.Errorf("%s on a removed visit: %v", name, err)
		}
	}
	site, visits, err := b.Site(ctx, crew, s.Site)
	if err != nil || len(visits) != 1 || visits[0].Deleted == nil || site.Heading.Owner != "A. Fernleaf" || site.Heading.NextLook != "" {
		t.Errorf("a site without a standing visit: %+v, %v", site, err)
	}
	b.must(b.RecoverVisit(ctx, asCrew, s.Visit))
	if again := b.must(b.RecoverVisit(ctx, asCrew, s.Visit)); again.Change != 0 {
		t.Errorf("recovered again: %+v", again)
	}
	site, _, _ = b.Site(ctx, crew, s.Site)
	b.must(b.RemoveSite(ctx, asCrew, s.Site, site.Revision))
	b.must(b.RemoveSite(ctx, asCrew, s.Site, site.Revision))
	_, err = b.SaveVisit(ctx, asCrew, s.Site, "", 0, "yaml", []byte("a: 1"))
	b.is(err, archive.ErrRemoved)
	_, err = b.SaveVisit(ctx, asCrew, "", s.Visit, 4, "yaml", []byte("a: 1"))
	b.is(err, archive.ErrRemoved)
	if f, err := b.Find(ctx, crew, archive.Query{Deleted: true}); err != nil || len(f.Sites) != 1 {
		t.Errorf("the removed site is not among the removed: %v, %v", f, err)
	}
	if due, err := b.Due(ctx, crew, "", 0); err != nil || len(due) != 0 {
		t.Errorf("a removed site is due: %v, %v", due, err)
	}
	b.must(b.RecoverSite(ctx, asCrew, s.Site))
	b.must(b.RecoverSite(ctx, asCrew, s.Site))
	if picture, err := b.Picture(ctx, crew, s.Visit, "a.jpg", true); err != nil || string(picture) != "small picture" {
		t.Errorf("%q, %v", picture, err)
	}
	b.sound()
}

func second(_ archive.Saved, err error) error { return err }

func TestPhotos(t *testing.T) {
	b := newBench(t)
	s := b.save("", "a: 1")
	one := b.must(b.AddPhoto(ctx, asCrew, s.Visit, "photos/box.jpg", []byte("picture 1")))
	if again := b.must(b.AddPhoto(ctx, asCrew, s.Visit, "photos/box.jpg", []byte("picture 1"))); again.Change != 0 || again.Revision != one.Revision {
		t.Errorf("the same photo again: %+v", again)
	}
	b.must(b.AddPhoto(ctx, asCrew, s.Visit, "photos/ä b.jpg", []byte("picture 2")))
	_, err := b.AddPhoto(ctx, asCrew, s.Visit, "photos/box.jpg", []byte("picture 3"))
	b.is(err, archive.ErrExists)
	if kept, err := b.Picture(ctx, crew, s.Visit, "photos/box.jpg", false); err != nil || string(kept) != "full picture 1" {
		t.Errorf("another picture of the name took its place: %q, %v", kept, err)
	}
	b.must(b.RemovePhoto(ctx, asCrew, s.Visit, "photos/box.jpg"))
	b.must(b.AddPhoto(ctx, asCrew, s.Visit, "photos/box.jpg", []byte("picture 3")))
	v, err := b.Visit(ctx, crew, s.Visit)
	if err != nil || len(v.Photos) != 2 || v.Photos[1].Name != "photos/box.jpg" || v.Photos[1].Bytes != int64(len("full picture 3")) || v.Photos[1].Width != 4000 {
		t.Errorf("%+v, %v", v.Photos, err)
	}
	if c := b.history(s.Site)[0]; c.Words != "photo photos/box.jpg added" || c.Before != "" || c.After != v.Photos[1].Content {
		t.Errorf("%+v", c)
	}
	full, err := b.Picture(ctx, crew, s.Visit, "photos/box.jpg", false)
	if err != nil || !bytes.Equal(full, []byte("full picture 3")) {
		t.Errorf("%q, %v", full, err)
	}
	_, err = b.Picture(ctx, crew, s.Visit, "photos/other.jpg", false)
	b.is(err, archive.ErrNotFound)
	_, err = b.RemovePhoto(ctx, asCrew, s.Visit, "photos/other.jpg")
	b.is(err, archive.ErrNotFound)
	_, err = b.AddPhoto(ctx, asCrew, s.Visit, "a.jpg", []byte("no such thing"))
	b.is(err, archive.ErrRefused)
	if err != nil && !strings.Contains(err.Error(), "send a JPEG") {
		t.Errorf("the words of the check are lost: %v", err)
	}
	_, err = b.AddPhoto(ctx, asCrew, s.Visit, "a.jpg", make([]byte, archive.MostPictureBytes+1))
	b.is(err, archive.ErrTooLarge)
	_, err = b.AddPhoto(ctx, asCrew, own(9), "a.jpg", []byte("picture"))
	b.is(err, archive.ErrNotFound)
	for _, name := range []string{"", ".", "..", "../a.jpg", "/a.jpg", "a//b.jpg", "a/", `a\b.jpg`, "c:a.jpg", "a\n.jpg", "a\x00.jpg", "\xff.jpg", strings.Repeat("a", 201)} {
		_, err = b.AddPhoto(ctx, asCrew, s.Visit, name, []byte("picture"))
		b.is(err, archive.ErrRefused)
	}
	b.sound()
}

func TestPhotosAreNotEndless(t *testing.T) {
	b := newBench(t)
	s := b.save("", "a: 1")
	for i := range archive.MostPhotos {
		b.must(b.AddPhoto(ctx, asCrew, s.Visit, fmt.Sprintf("%d.jpg", i), []byte("picture")))
	}
	_, err := b.AddPhoto(ctx, asCrew, s.Visit, "more.jpg", []byte("picture"))
	b.is(err, archive.ErrRefused)
	b.must(b.AddPhoto(ctx, asCrew, s.Visit, "7.jpg", []byte("picture")))
}

func TestFindAndDueRefuseWhatIsNoPlaceAndNoDay(t *testing.T) {
	b := newBench(t)
	nan := unit.Angle(math.NaN())
	for _, n := range []archive.Near{{Latitude: nan}, {Longitude: nan}, {Latitude: 91 * unit.Degree}, {Longitude: unit.Angle(math.Inf(1))}, {Within: unit.Length(nan)}} {
		_, err := b.Find(ctx, crew, archive.Query{Near: &n})
		b.is(err, archive.ErrRefused)
	}
	_, err := b.Due(ctx, crew, "soon", 5)
	b.is(err, archive.ErrRefused)
	b.save("", "latitude: 10\nlongitude: 179.9999")
	f, err := b.Find(ctx, crew, archive.Query{Near: &archive.Near{Latitude: 10 * unit.Degree, Longitude: 180.0001 * unit.Degree, Within: 100 * unit.Metre}, Skip: -3, Most: -1})
	if err != nil || len(f.Sites) != 1 {
		t.Errorf("%+v, %v", f, err)
	}
	_, err = b.Changes(ctx, crew, own(1), 0, 5)
	b.is(err, archive.ErrNotFound)
}

func FuzzSaveVisit(f *testing.F) {
	f.Add([]byte("owner: A"), []byte("owner: B\nlatitude: NaN"))
	f.Add([]byte(""), []byte("\xff\x00"))
	f.Add([]byte("a: [1, 2"), []byte(`{"a": "\u0000"}`))
	f.Add([]byte("date: 2026-05-12\nlatitude: 91\nlongitude: 1e300"), []byte("&a [*a]"))
	f.Fuzz(func(t *testing.T, one, two []byte) {
		b := newBench(t)
		s := b.must(b.SaveVisit(ctx, asCrew, "", "", 0, "yaml", one))
		s = b.must(b.SaveVisit(ctx, asCrew, "", s.Visit, 1, "json", two))
		_, kept, err := b.Job(ctx, crew, s.Visit)
		if err != nil || !bytes.Equal(kept, two) {
			t.Errorf("%q is kept as %q: %v", two, kept, err)
		}
		kept, err = b.JobAt(ctx, crew, s.Visit, archive.HashOf(one))
		if err != nil || !bytes.Equal(kept, one) {
			t.Errorf("%q is kept in the history as %q: %v", one, kept, err)
		}
		b.sound()
	})
}

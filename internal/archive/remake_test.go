package archive_test

import (
	"fmt"
	"testing"

	"undersod/internal/archive"
)

func TestRemakeMakesHeadingsAgain(t *testing.T) {
	b := newBench(t)
	one := b.save("", "owner: A\ndate: 2026-05-12\n")
	b.save(one.Site, "owner: B\ndate: 2027-01-01\n")
	two := b.save("", "owner: C\n")
	three := b.save("", "owner: D\n")
	removed := b.save("", "owner: C\nnotes: of a visit that was removed\n")
	b.save(removed.Site, "owner: E\n")
	b.must(b.RemoveVisit(ctx, asCrew, removed.Visit, 1))
	if n, err := b.Remake(ctx, nil); n != 0 || err != nil {
		t.Errorf("%d sites changed where nothing had to: %v", n, err)
	}
	older := b.Read
	b.Read = func(format string, job []byte) archive.Heading {
		h := older(format, job)
		if h.Owner == "A" || h.Owner == "C" {
			h.Words = "read by a newer program"
		}
		if h.Owner == "A" {
			h.Date = "2028-01-01"
		}
		return h
	}
	if faults, err := b.Verify(ctx, nil); len(faults) != 3 || err != nil {
		t.Errorf("before: %v, %v", faults, err)
	}
	before := fmt.Sprint(b.history(one.Site), b.history(two.Site), b.history(three.Site))
	var last archive.Progress
	if n, err := b.Remake(ctx, func(p archive.Progress) { last = p }); n != 3 || err != nil || last != (archive.Progress{Step: "sites", Done: 4, All: 4}) {
		t.Errorf("%d sites changed, %v, %+v", n, err, last)
	}
	b.sound()
	if after := fmt.Sprint(b.history(one.Site), b.history(two.Site), b.history(three.Site)); after != before {
		t.Error("the history tells of it")
	}
	if f, err := b.Find(ctx, crew, archive.Query{Words: "newer program"}); err != nil || len(f.Sites) != 2 {
		t.Errorf("%+v, %v", f, err)
	}
	site, _, err := b.Site(ctx, crew, one.Site)
	if err != nil || site.Heading.Owner != "A" || site.Revision != 2 {
		t.Errorf("%+v, %v", site, err)
	}
	b.blobs.Damage(archive.HashOf([]byte("owner: C\n")))
	b.Read = older
	if n, err := b.Remake(ctx, nil); n != 2 || err != nil {
		t.Errorf("beside a damaged job file %d sites changed: %v", n, err)
	}
	v, err := b.Visit(ctx, crew, two.Visit)
	if err != nil || v.Heading.Owner != "C" {
		t.Errorf("the heading of a damaged job file is %+v, %v", v.Heading, err)
	}
}

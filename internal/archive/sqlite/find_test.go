package sqlite_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"reflect"
	"testing"

	"undersod/core/unit"
	"undersod/internal/archive"
	"undersod/internal/archive/invented"
	"undersod/internal/archive/memory"
)

// TestFindsLikeTheMemory asks an archive of thousands of sites, enough for every
// way of searching near a place, and one in memory the same questions.
func TestFindsLikeTheMemory(t *testing.T) {
	ctx := context.Background()
	plain, s := memory.New(), fresh(t)
	m := invented.New(1)
	var sites []archive.Site
	for n := range 2400 {
		site := m.Site()
		if n%10 == 9 {
			site.Deleted = &archive.Stamp{At: site.Created.At}
		}
		if n%50 == 7 {
			site.Heading.Latitude, site.Heading.Longitude = nil, nil
		}
		sites = append(sites, site)
	}
	fill := func(w archive.Writer) (err error) {
		for _, site := range sites {
			err = errors.Join(err, w.PutSite(site))
		}
		return err
	}
	if err := errors.Join(plain.Update(ctx, fill), s.Update(ctx, fill)); err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(3, 3))
	found := 0
	for range 120 {
		q := anyQuery(r, sites)
		want, err := ask(plain, q)
		got, err1 := ask(s, q)
		if err = errors.Join(err, err1); err != nil {
			t.Fatalf("%+v: %v", q, err)
		}
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("%+v near %+v finds %d sites, want %d", q, q.Near, len(got.Sites), len(want.Sites))
		}
		found += len(got.Sites)
	}
	if found < 1000 {
		t.Errorf("only %d sites were found in all", found)
	}
}

func ask(s archive.Store, q archive.Query) (f archive.Found, err error) {
	err = s.View(context.Background(), func(r archive.Reader) error {
		f, err = r.Find(q)
		return err
	})
	return f, err
}

func anyQuery(r *rand.Rand, sites []archive.Site) archive.Query {
	h := sites[r.IntN(len(sites))].Heading
	texts := []string{"", "county", "health dist", "fine roots", "the h", "distributionb", "standing", h.Permit, h.Address, h.Owner, h.County, h.Parcel + " " + h.Owner[:4], "nowhere"}
	q := archive.Query{Words: texts[r.IntN(len(texts))], Deleted: r.IntN(5) == 0, Most: r.IntN(80)}
	if r.IntN(3) == 0 {
		q.Skip = r.IntN(200)
	}
	if h.Latitude != nil && r.IntN(4) > 0 {
		q.Near = &archive.Near{Latitude: *h.Latitude + unit.Angle(r.NormFloat64())*unit.Degree/10, Longitude: *h.Longitude}
		q.Near.Within = []unit.Length{0, 100, 3000, 50_000, 1e9}[r.IntN(5)] * unit.Metre
	}
	return q
}

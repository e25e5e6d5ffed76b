package archivetest

import (
	"fmt"
	"math"
	"strings"

	"undersod/core/unit"
	"undersod/internal/archive"
)

// names tells which sites a search found, in order.
func (b *bench) names(r archive.Reader, q archive.Query) string {
	b.Helper()
	f, err := r.Find(q)
	if err != nil {
		b.Fatalf("find %+v: %v", q, err)
	}
	var out []string
	for _, s := range f.Sites {
		out = append(out, s.Heading.Name)
	}
	if f.More {
		out = append(out, "...")
	}
	return strings.Join(out, " ")
}

// headed puts a site of a name with a heading of its own.
func (b *bench) headed(w archive.Writer, n int, name string, edit func(*archive.Site)) {
	s := archive.Site{ID: id("site", n), Revision: 1, Created: at(0), Changed: at(0)}
	edit(&s)
	s.Heading.Name = name
	b.ok(w.PutSite(s))
}

func putNamed(b *bench) {
	b.update(func(w archive.Writer) {
		b.headed(w, 1, "alpha", func(s *archive.Site) {
			s.Heading.Address, s.Heading.Owner, s.Heading.Permit = "18 Quarry Hollow Lane", "Señora O'Hara", "T-1996-0412"
		})
		b.headed(w, 2, "beta", func(s *archive.Site) {
			s.Heading.Address, s.Heading.Owner, s.Heading.County = "1 Quarrel Street", "Jörg Müßig", "Tamsin County"
		})
		b.headed(w, 3, "gamma", func(s *archive.Site) {
			s.Heading.Parcel, s.Heading.Authority, s.Heading.By, s.Heading.NextWhat = "07-141", "Health District", "Dunmoor", "pump the tank"
			s.Heading.Words = "fine roots at 41 ft near the maple; Lane"
		})
		b.headed(w, 4, "delta", func(s *archive.Site) {
			gone := at(1)
			s.Deleted, s.Heading.Address = &gone, "20 Quarry Hollow Lane"
		})
		b.headed(w, 5, "epsilon", func(s *archive.Site) {
			s.Heading.Fill, s.Heading.Date, s.Heading.NextLook = "Verdict", "2026-05-12", "2027-05-12"
		})
	})
}

func testFindWords(b *bench) {
	putNamed(b)
	b.view(func(r archive.Reader) {
		for _, c := range []struct{ words, want string }{
			{"", "epsilon gamma beta alpha"},
			{"quarry", "alpha"},
			{"QUARR", "beta alpha"},
			{"quar hollow", "alpha"},
			{"lane quarry", "alpha"},
			{"lane", "gamma alpha"},
			{"uarry", ""},
			{"quarry gamma", ""},
			{"T-1996-0412", "alpha"},
			{"t19960412", "alpha"},
			{"1996-04", "alpha"},
			{"0412", "alpha"},
			{"412", ""},
			{"T-1997-0412", ""},
			{"senora", "alpha"},
			{"SEÑORA", "alpha"},
			{"sen\u0303ora", "alpha"},
			{"o'hara", "alpha"},
			{"O’Hara", "alpha"},
			{"ohara", "alpha"},
			{"hara", "alpha"},
			{"jorg mussig", "beta"},
			{"tamsin", "beta"},
			{"07-141", "gamma"},
			{"health", "gamma"},
			{"dunmoor", "gamma"},
			{"pump", "gamma"},
			{"maple roots fine", "gamma"},
			{"alpha", "alpha"},
			{"1", "gamma beta alpha"},
			{"18", "alpha"},
			{"verdict", ""},
			{"2026", ""},
			{"epsilon", "epsilon"},
		} {
			if got := b.names(r, archive.Query{Words: c.words}); got != c.want {
				b.Errorf("%q finds %q, want %q", c.words, got, c.want)
			}
		}
		if got := b.names(r, archive.Query{Words: "quarry", Deleted: true}); got != "delta" {
			b.Errorf("among the deleted, %q is found, want delta", got)
		}
		if got := b.names(r, archive.Query{Deleted: true}); got != "delta" {
			b.Errorf("the deleted are %q, want delta", got)
		}
	})
}

// testFindStrange searches for what a query language might take for its own.
func testFindStrange(b *bench) {
	putNamed(b)
	all := "epsilon gamma beta alpha"
	b.view(func(r archive.Reader) {
		for words, want := range map[string]string{
			"***": all, "\"": all, "' OR 1=1 --": "", "quarry OR maple": "", "quarry AND": "", "NOT quarry": "", "NEAR(quarry lane)": "",
			"quarry*": "alpha", "\"quarry\"": "alpha", "quarry:hollow": "alpha", "^quarry": "alpha", "{words}: maple": "", "-quarry": "alpha",
			"quarry\x00hollow": "alpha", "quarry\xff": "alpha", "%": all, "_uarry": "", "(": all, "🌳": all, "\\": all,
			strings.Repeat("quarry ", 5000): "alpha", strings.Repeat("q", 100_000): "", strings.Repeat("(", 5000): all,
		} {
			if got := b.names(r, archive.Query{Words: words}); got != want {
				b.Errorf("%.80q finds %q, want %q", words, got, want)
			}
		}
	})
}

// place puts a site of a name at a place in degrees.
func (b *bench) place(w archive.Writer, n int, name string, latitude, longitude float64) {
	b.headed(w, n, name, func(s *archive.Site) {
		la, lo := unit.Angle(latitude)*unit.Degree, unit.Angle(longitude)*unit.Degree
		s.Heading.Latitude, s.Heading.Longitude, s.Heading.Address = &la, &lo, "Hollow Lane"
	})
}

func near(latitude, longitude float64, within unit.Length) *archive.Near {
	return &archive.Near{Latitude: unit.Angle(latitude) * unit.Degree, Longitude: unit.Angle(longitude) * unit.Degree, Within: within}
}

func testFindNear(b *bench) {
	b.update(func(w archive.Writer) {
		b.place(w, 1, "lawn", 44.5, -93)
		b.place(w, 2, "street", 44.501, -93)  // 111 m north
		b.place(w, 3, "road", 44.5, -93.0028) // 222 m west
		b.place(w, 4, "town", 44.6, -93)      // 11.1 km north
		b.place(w, 5, "west", 10, -179.9995)
		b.place(w, 6, "east", 10, 179.999)
		b.place(w, 7, "line", 10, 180)
		b.place(w, 8, "pole", 90, 0)
		b.place(w, 9, "beyond", 89.999, 170)
		b.place(w, 10, "south", -89.9995, -60)
		b.place(w, 13, "twin", 44.5, -93)
		b.headed(w, 11, "nowhere", func(*archive.Site) {})
		b.place(w, 12, "gone", 44.5, -93)
		s, err := w.Site(id("site", 12))
		b.ok(err)
		gone := at(3)
		s.Deleted = &gone
		b.ok(w.PutSite(s))
	})
	const km = 1000 * unit.Metre
	b.view(func(r archive.Reader) {
		for _, c := range []struct {
			name string
			q    archive.Query
			want string
		}{
			{"on the lawn", archive.Query{Near: near(44.5, -93, 10*unit.Metre)}, "lawn twin"},
			{"about", archive.Query{Near: near(44.5, -93, 300*unit.Metre)}, "lawn twin street road"},
			{"short of the road", archive.Query{Near: near(44.5, -93, 220*unit.Metre)}, "lawn twin street"},
			{"from the other side", archive.Query{Near: near(44.5, -93.003, 300*unit.Metre)}, "road lawn twin street"},
			{"up to town", archive.Query{Near: near(44.5, -93, 12*km)}, "lawn twin street road town"},
			{"date line from the west", archive.Query{Near: near(10, 179.9999, 200*unit.Metre)}, "line west east"},
			{"date line from the east", archive.Query{Near: near(10, -179.9999, 200*unit.Metre)}, "line west east"},
			{"date line, longitude past it", archive.Query{Near: near(10, 180.0001, 200*unit.Metre)}, "line west east"},
			{"the pole", archive.Query{Near: near(89.9999, -20, 200*unit.Metre)}, "pole beyond"},
			{"the south pole", archive.Query{Near: near(-90, 100, 200*unit.Metre)}, "south"},
			{"with words", archive.Query{Words: "town hollow", Near: near(44.5, -93, 100*km)}, "town"},
			{"deleted", archive.Query{Deleted: true, Near: near(44.5, -93, km)}, "gone"},
			{"second page", archive.Query{Near: near(44.5, -93, km), Skip: 1, Most: 2}, "twin street ..."},
			{"last page", archive.Query{Near: near(44.5, -93, km), Skip: 2, Most: 2}, "street road"},
			{"the whole Earth", archive.Query{Near: near(44.5, -93, 30000*km), Words: "hollow", Most: 5}, "lawn twin street road town ..."},
			{"no limit", archive.Query{Near: near(44.5, -93, 0), Most: 5}, "lawn twin street road town ..."},
		} {
			if got := b.names(r, c.q); got != c.want {
				b.Errorf("%s: %q is found, want %q", c.name, got, c.want)
			}
		}
		checkDistances(b, r)
	})
}

// checkDistances holds the distances told against those of the contract.
func checkDistances(b *bench, r archive.Reader) {
	n := near(44.5, -93, 20000*unit.Metre)
	f, err := r.Find(archive.Query{Near: n})
	b.ok(err)
	for _, s := range f.Sites {
		want := n.Distance(*s.Heading.Latitude, *s.Heading.Longitude)
		if math.Abs((s.Distance - want).Metres()) > 1e-3 {
			b.Errorf("%s lies %v m off, want %v m", s.Heading.Name, s.Distance.Metres(), want.Metres())
		}
	}
	f, err = r.Find(archive.Query{})
	b.ok(err)
	for _, s := range f.Sites {
		if s.Distance != 0 {
			b.Errorf("%s has a distance without a place", s.Heading.Name)
		}
	}
}

func testFindPages(b *bench) {
	b.update(func(w archive.Writer) {
		for n := range 120 {
			b.headed(w, 500-n, fmt.Sprintf("n%d", n), func(s *archive.Site) { s.Heading.Address = "Hollow Lane" })
		}
	})
	b.view(func(r archive.Reader) {
		for _, words := range []string{"", "hollow"} {
			usual, err := r.Find(archive.Query{Words: words})
			b.ok(err)
			if len(usual.Sites) != archive.DefaultMost || !usual.More {
				b.Errorf("%q: %d are found where nothing is said of how many (more: %v), want %d", words, len(usual.Sites), usual.More, archive.DefaultMost)
			}
			var all []string
			for skip := 0; ; skip += 17 {
				f, err := r.Find(archive.Query{Words: words, Skip: skip, Most: 17})
				b.ok(err)
				for _, s := range f.Sites {
					all = append(all, s.Heading.Name)
				}
				if !f.More {
					break
				}
			}
			for i, name := range all {
				if want := fmt.Sprintf("n%d", 119-i); name != want {
					b.Fatalf("%q: the %dth is %s, want %s", words, i+1, name, want)
				}
			}
			if len(all) != 120 {
				b.Errorf("%q: the pages hold %d sites, want 120", words, len(all))
			}
			exact, err := r.Find(archive.Query{Words: words, Most: 120})
			b.ok(err)
			if exact.More {
				b.Errorf("%q: more than all are said to be there", words)
			}
			past, err := r.Find(archive.Query{Words: words, Skip: 1000})
			b.ok(err)
			if past.More || len(past.Sites) > 0 {
				b.Errorf("%q: something is found past the end", words)
			}
		}
	})
}

// testFindFollows changes, deletes, moves and recovers a site and looks for it.
func testFindFollows(b *bench) {
	s := site(1)
	s.Heading.Name = "one"
	check := func(when, words, want string) {
		b.Helper()
		b.view(func(r archive.Reader) {
			if got := b.names(r, archive.Query{Words: words}); got != want {
				b.Errorf("%s: %q finds %q, want %q", when, words, got, want)
			}
		})
	}
	put := func() { b.Helper(); b.update(func(w archive.Writer) { b.ok(w.PutSite(s)) }) }
	put()
	check("new", "fernleaf", "one")
	s.Heading.Owner = "B. Mossgate"
	put()
	check("changed", "fernleaf", "")
	check("changed", "mossgate", "one")
	put()
	check("put again", "mossgate", "one")
	gone := at(3)
	s.Deleted = &gone
	put()
	check("deleted", "mossgate", "")
	s.Deleted = nil
	put()
	check("recovered", "mossgate", "one")

	moved := unit.Angle(10) * unit.Degree
	s.Heading.Latitude = &moved
	put()
	b.view(func(r archive.Reader) {
		if got := b.names(r, archive.Query{Near: near(10, -93, unit.Metre)}); got != "one" {
			b.Errorf("a moved site is not found where it is: %q", got)
		}
		if got := b.names(r, archive.Query{Near: near(44+1.0/64, -93, 1000*unit.Metre)}); got != "" {
			b.Errorf("a moved site is found where it was: %q", got)
		}
	})
	other := site(2)
	other.Heading.Name = "two"
	b.update(func(w archive.Writer) { b.ok(w.PutSite(other)) })
	check("put after", "", "two one")
	put()
	check("put last", "", "one two")
	check("put last", "quarry", "one two")
}

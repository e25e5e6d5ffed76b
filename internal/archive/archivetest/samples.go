package archivetest

import (
	"fmt"

	"undersod/core/unit"
	"undersod/internal/archive"
)

// site returns an invented site, every field filled.
func site(n int) archive.Site {
	latitude, longitude := 44*unit.Degree+unit.Angle(n)*unit.Degree/64, -93*unit.Degree
	return archive.Site{
		ID: id("site", n), Revision: archive.Revision(n + 1), Created: at(n), Changed: at(n + 5),
		Heading: archive.Heading{
			Name: fmt.Sprintf("Site %d", n), Address: fmt.Sprintf("%d Quarry Hollow Lane", n), County: "Tamsin County",
			Owner: "A. Fernleaf", Parcel: fmt.Sprintf("07-%03d", n), Permit: fmt.Sprintf("T-1996-%04d", n), Authority: "Tamsin Health District",
			Date: "2026-05-12", By: "R. Dunmoor", Latitude: &latitude, Longitude: &longitude,
			Fill: "The hole may be filled.", Mistakes: n, Acts: 2,
			NextLook: fmt.Sprintf("2027-01-%02d", n%28+1), NextWhat: "pump the tank", Words: "distribution box, fine roots",
		},
	}
}

// visit returns an invented visit of a site, every field filled.
func visit(n, of int) archive.Visit {
	return archive.Visit{
		ID: id("visit", n), Site: id("site", of), Revision: 3, Created: at(n), Changed: at(n + 1),
		Job: hash("job", n), Format: "yaml", Heading: site(of).Heading,
		Photos: []archive.Photo{
			{Name: "photos/zz.jpg", Content: hash("photo", n), Thumbnail: hash("thumbnail", n), Bytes: 123456, Width: 4000, Height: 3000, Added: at(n)},
			{Name: "photos/box.jpg", Content: hash("other photo", n), Thumbnail: hash("other thumbnail", n), Bytes: 7, Width: 1, Height: 2, Added: at(n + 1)},
		},
	}
}

// change returns an invented change; the store gives it its number.
func change(n, of int) archive.Change {
	return archive.Change{
		Stamp: at(n), Deed: archive.Altered, Site: id("site", of), Visit: id("visit", n), Revision: archive.Revision(n),
		Before: hash("before", n), After: hash("after", n), Words: "1 entry changed",
		Fields: []archive.Field{
			{Pointer: "/readings/3/tie", Before: `"31' 9\""`, After: `"31.9 ft"`},
			{Pointer: "", Before: "", After: "null"},
		},
	}
}

// account returns an invented account.
func account(n int, login string) archive.Account {
	return archive.Account{
		ID: id("account", n), Login: login, Name: "Rosalind Dünmoor", Role: archive.Crew,
		Password: "$argon2id$v=19$m=65536,t=3,p=2$c2FsdA$aGFzaA", Disabled: n%2 == 1, Created: at(n), Changed: at(n + 1),
	}
}

// session returns an invented session of an account.
func session(n, of int) archive.Session {
	return archive.Session{Token: hash("token", n), Account: id("account", of), Created: at(n).At, Seen: at(n + 1).At, Expires: at(n + 60).At, Agent: "a browser"}
}

// share returns an invented share of a site.
func share(n, of int) archive.Share {
	revoked := at(n + 9)
	s := archive.Share{ID: id("share", n), Token: hash("share token", n), Site: id("site", of), Label: "county office", Created: at(n), Expires: at(n + 600).At}
	if n%2 == 1 {
		s.Revoked = &revoked
	}
	return s
}

// event returns an invented event of the audit list.
func event(n int) archive.Event {
	return archive.Event{Stamp: at(n), What: "signed in", About: fmt.Sprintf("person %d", n)}
}

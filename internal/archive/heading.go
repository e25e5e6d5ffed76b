package archive

import (
	"math"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"undersod/core/unit"
)

// What a heading keeps of what Read makes, in bytes.
const (
	longestEntry = 1000
	longestWords = 64 << 10
)

// plainText reports whether a text can be kept and shown on one line as it is.
func plainText(text string) bool {
	return utf8.ValidString(text) && !strings.ContainsFunc(text, unicode.IsControl)
}

// kept makes a text that every store can keep: UTF-8 without zero bytes, and
// no longer than a limit.
func kept(text string, longest int) string {
	text = strings.ReplaceAll(strings.ToValidUTF8(text, "\uFFFD"), "\x00", " ")
	if len(text) <= longest {
		return text
	}
	for longest > 0 && !utf8.RuneStart(text[longest]) {
		longest--
	}
	return text[:longest]
}

// isDate reports whether a text is a day as ISO 8601 writes it.
func isDate(text string) bool {
	_, err := time.Parse(time.DateOnly, text)
	return err == nil
}

// heading reads a job file and brings what Read made of it to what every store
// can keep.
func (k *Keeper) heading(format string, job []byte) Heading {
	h := k.Read(format, job)
	for _, text := range []*string{&h.Name, &h.Address, &h.County, &h.Owner, &h.Parcel, &h.Permit, &h.Authority, &h.By, &h.Fill, &h.NextWhat} {
		*text = kept(*text, longestEntry)
	}
	h.Words = kept(h.Words, longestWords)
	for _, date := range []*string{&h.Date, &h.NextLook} {
		if !isDate(*date) {
			*date = ""
		}
	}
	h.Latitude, h.Longitude = position(h.Latitude, h.Longitude)
	return h
}

// position keeps a place that is one, its longitude within half a turn.
func position(latitude, longitude *unit.Angle) (*unit.Angle, *unit.Angle) {
	if latitude == nil || longitude == nil || !onEarth(*latitude, *longitude) {
		return nil, nil
	}
	la, lo := *latitude, longitude.HalfTurn()
	return &la, &lo
}

// onEarth reports whether a latitude and a longitude are numbers that make a
// place.
func onEarth(latitude, longitude unit.Angle) bool {
	return math.Abs(latitude.Degrees()) <= 90 && math.Abs(longitude.Degrees()) <= 3600
}

// siteHeading makes the heading of a site from its visits, the newest first: of
// the newest that stands, found by what the others say too. Where none stands,
// the names of the newest are left, so that it can be found and brought back.
func siteHeading(visits []Visit) Heading {
	var standing []Visit
	for _, v := range visits {
		if v.Deleted == nil {
			standing = append(standing, v)
		}
	}
	switch {
	case len(visits) == 0:
		return Heading{}
	case len(standing) == 0:
		h := visits[0].Heading
		return Heading{
			Name: h.Name, Address: h.Address, County: h.County, Owner: h.Owner, Parcel: h.Parcel,
			Permit: h.Permit, Authority: h.Authority, Latitude: h.Latitude, Longitude: h.Longitude,
		}
	}
	h := standing[0].Heading
	said := map[string]bool{}
	for _, line := range strings.Split(h.Searched(), "\n") {
		said[line] = true
	}
	words := []string{h.Words}
	for _, v := range standing[1:] {
		for _, line := range strings.Split(v.Heading.Searched(), "\n") {
			if !said[line] {
				said[line] = true
				words = append(words, line)
			}
		}
	}
	h.Words = kept(strings.Join(words, "\n"), longestWords)
	return h
}

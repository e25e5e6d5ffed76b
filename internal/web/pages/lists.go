package pages

import (
	"fmt"
	"regexp"
	"strings"

	"undersod/core/english"
	"undersod/core/unit"
	"undersod/internal/archive"
)

// SignIn is the view of the page to sign in.
type SignIn struct {
	To    string // where to go then
	Login string
}

// First is the view of the page of the first account.
type First struct {
	AskCode     bool
	Login, Name string
}

// Sites is the view of the list of sites.
type Sites struct {
	Words, Near    string
	Reaches        []Choice
	Deleted        bool
	Rows           []SiteRow
	Empty          string
	Earlier, Later string
	MayWrite       bool
}

// SiteRow is one site of a list.
type SiteRow struct {
	ID              archive.ID
	Name, Where     string
	Facts           []string
	Distance        string
	Due, DueClass   string
	Acts            string
	Fill, FillClass string
}

// SiteRows turns what a search found; today is an ISO 8601 date.
func SiteRows(found []archive.FoundSite, near *archive.Near, today string) []SiteRow {
	var out []SiteRow
	for _, f := range found {
		h := f.Heading
		row := SiteRow{ID: f.ID, Name: siteName(h), Where: strings.Join(filled(other(h.Address, h.Name), h.County), ", "), Fill: h.Fill, FillClass: fillClass(h.Fill)}
		row.Facts = filled(h.Owner, labelled("permit ", h.Permit), labelled("parcel ", h.Parcel), labelled("visit ", Day(h.Date)))
		row.Due, row.DueClass = dueWords(h.NextLook, today)
		if row.DueClass == "note" {
			row.Due = ""
		}
		if h.Acts > 0 {
			row.Acts = english.Several(h.Acts, "thing to act on", "things to act on")
		}
		if near != nil {
			row.Distance = away(*near, f)
		}
		out = append(out, row)
	}
	return out
}

// siteName is what a site is called.
func siteName(h archive.Heading) string {
	for _, name := range []string{h.Name, h.Address, h.Owner} {
		if name != "" {
			return name
		}
	}
	return "a site without a name"
}

// other leaves out a text that says the same as another.
func other(text, as string) string {
	if text == as {
		return ""
	}
	return text
}

func labelled(label, text string) string {
	if text == "" {
		return ""
	}
	return label + text
}

// Reaches lists how far a search about a place may go; chosen is one of their
// values. Values are metres.
func Reaches(chosen string) []Choice {
	if chosen == "" {
		chosen = "5000"
	}
	list := []Choice{{Value: "200", Words: "650 ft (200 m)"}, {Value: "1000", Words: "0.6 mi (1 km)"}, {Value: "5000", Words: "3 mi (5 km)"},
		{Value: "25000", Words: "15 mi (25 km)"}, {Value: "0", Words: "any distance"}}
	for i := range list {
		list[i].Chosen = list[i].Value == chosen
	}
	return list
}

// Due is the view of the list of what is due.
type Due struct {
	Until, Caption string
	Rows           []DueRow
}

// DueRow is one site where something is due.
type DueRow struct {
	ID        archive.ID
	On, Class string
	Name      string
	Owner     string
	What      string
}

// DueRows turns a list of what is due.
func DueRows(sites []archive.Site, today string) []DueRow {
	var out []DueRow
	for _, s := range sites {
		h := s.Heading
		_, class := dueWords(h.NextLook, today)
		out = append(out, DueRow{s.ID, Day(h.NextLook), class, siteName(h), strings.Join(filled(h.Owner, other(h.Address, h.Name)), ", "), h.NextWhat})
	}
	return out
}

// History is the view of the history of a site.
type History struct {
	Rows  []ChangeRow
	Later string
}

// ChangeRow is one change.
type ChangeRow struct {
	Words, When, Who string
	Visit            archive.ID
	Date             string
	Fields           []archive.Field
	FieldsHead       string
	Before, After    string // the job files
	Picture, Former  string // the photo that came or went, and the one in whose place it came
}

// ChangeRows turns a history. Job files and pictures
// are linked where a change has any.
func ChangeRows(list []archive.Change, dates map[archive.ID]string, names Names) []ChangeRow {
	var out []ChangeRow
	for _, c := range list {
		row := ChangeRow{Words: changeWords(c), When: Moment(c.Stamp.At), Who: names.Of(c.Stamp), Visit: c.Visit, Fields: c.Fields,
			Date: dayOr(dates[c.Visit], "no day"), FieldsHead: english.Several(len(c.Fields), "entry, before and after", "entries, before and after")}
		switch c.Deed {
		case archive.Made, archive.Altered:
			row.Before, row.After = contentLink(c.Visit, "job", c.Before), contentLink(c.Visit, "job", c.After)
		case archive.PhotoIn:
			row.Picture, row.Former = contentLink(c.Visit, "photos-at", c.After), contentLink(c.Visit, "photos-at", c.Before)
		case archive.PhotoOut:
			row.Picture = contentLink(c.Visit, "photos-at", c.Before)
		}
		out = append(out, row)
	}
	return out
}

func changeWords(c archive.Change) string {
	what := "the site"
	if c.Visit != "" {
		what = "the visit"
	}
	head := strings.ToUpper(what[:1]) + what[1:] + " was " + string(c.Deed)
	switch {
	case c.Deed == archive.PhotoIn || c.Deed == archive.PhotoOut:
		return capital(c.Words)
	case c.Words == "" || c.Deed == archive.Removed || c.Deed == archive.Recovered:
		return head
	case c.Deed == archive.Altered:
		return capital(c.Words)
	}
	return head
}

func capital(s string) string {
	if s != "" && s[0] >= 'a' && s[0] <= 'z' {
		return strings.ToUpper(s[:1]) + s[1:]
	}
	return s
}

func contentLink(visit archive.ID, of string, content archive.Hash) string {
	if content == "" || visit == "" {
		return ""
	}
	return fmt.Sprintf("/visits/%s/%s/%s", visit, of, content)
}

// Audit is the view of the audit list.
type Audit struct {
	Rows  []EventRow
	Later string
}

// EventRow is one entry.
type EventRow struct {
	When, Who, What, About string
	Site                   archive.ID // that it is about, if any
}

// siteInWords finds the site that an entry of the audit list names.
var siteInWords = regexp.MustCompile(`^site ([a-z0-9]{26})(?: for)? ?`)

// EventRows turns an audit list.
func EventRows(list []archive.Event, names Names) []EventRow {
	var out []EventRow
	for _, e := range list {
		row := EventRow{Moment(e.Stamp.At), names.Of(e.Stamp), e.What, e.About, ""}
		if m := siteInWords.FindStringSubmatch(e.About); m != nil {
			row.Site, row.About = archive.ID(m[1]), strings.Replace(e.About, m[0], "", 1)
		}
		out = append(out, row)
	}
	return out
}

// Degrees writes a place as it is typed.
func Degrees(latitude, longitude unit.Angle) string {
	return fmt.Sprintf("%.5f, %.5f", latitude.Degrees(), longitude.Degrees())
}

package pages

import (
	"fmt"
	"net/url"
	"slices"
	"strings"

	"undersod/core/english"
	"undersod/core/site"
	"undersod/internal/archive"
	"undersod/internal/judgefile"
)

// Site is the view of a site with one of its visits.
type Site struct {
	ID                  archive.ID
	Revision            archive.Revision
	Where               string
	Removed             string
	Tools               []Link
	Facts               []Fact
	Visits              []VisitRow
	Visit               *Visit // nil where the site has none
	Pairs               string // where the visit is compared with another
	Bundle              string // the whole site as one file, empty for none
	MayWrite, MayChange bool
}

// SheetForms are the formats of the record drawing.
func (Site) SheetForms() []string { return []string{"pdf", "svg", "png", "dxf"} }

// Fact is one line about a property.
type Fact struct{ Name, Words string }

// VisitRow is one visit of a list.
type VisitRow struct {
	ID             archive.ID
	Date, By, Fill string
	Removed, Here  bool
}

// SiteOf turns a site. The visit is filled in by whoever has it.
func SiteOf(s archive.Site, visits []archive.Visit, here archive.ID, names Names) Site {
	h := s.Heading
	out := Site{ID: s.ID, Revision: s.Revision, Where: strings.Join(filled(other(h.Address, h.Name), h.County), ", ")}
	if s.Deleted != nil {
		out.Removed = names.stampWords(*s.Deleted)
	}
	add := func(name, words string) {
		if words != "" {
			out.Facts = append(out.Facts, Fact{name, words})
		}
	}
	add("Owner", h.Owner)
	add("Address", h.Address)
	add("County", h.County)
	add("Parcel", h.Parcel)
	add("Permit", h.Permit)
	add("Authority", h.Authority)
	if h.Latitude != nil && h.Longitude != nil {
		add("Place", Degrees(*h.Latitude, *h.Longitude))
	}
	for _, v := range visits {
		out.Visits = append(out.Visits, VisitRow{v.ID, dayOr(v.Heading.Date, "no day stated"), v.Heading.By, v.Heading.Fill, v.Deleted != nil, v.ID == here})
	}
	return out
}

// Name is what a site is called.
func Name(h archive.Heading) string { return siteName(h) }

// Visit is the view of one visit.
type Visit struct {
	ID             archive.ID
	Revision       archive.Revision
	Date, By, Pack string
	Format         string
	Removed        string
	Class, Verdict string
	Trouble        string // why there is no answer
	Reasons        []string
	Mistakes       []string
	MistakesHead   string
	Drawn          bool
	Placed         bool // it is known where on the Earth it lies
	Grades         []Grade
	Actions        []Action
	Reminders      []Reminder
	Lids           []Lid
	Photos         []Photo
	Wanted         []string // photos that the job names and that are not here
}

// WantedWords counts the photos that are not here.
func (v Visit) WantedWords() string { return english.Several(len(v.Wanted), "photo", "photos") }

// Reminder is a day and what is due on it.
type Reminder struct{ On, Words string }

// Grade is the findings of one grade.
type Grade struct {
	Class, Words string
	Findings     []Finding
}

// Finding is one thing that was seen.
type Finding struct {
	Words, Note, Why string
	Near             []string
}

// Action is one thing to do.
type Action struct{ Class, Urgency, What, Why, By string }

// Lid is a part that can be found again by a tie card.
type Lid struct{ Name, PDF, PNG string }

// Photo is a picture of a visit.
type Photo struct{ Name, Full, Small, Key string }

// VisitOf turns a visit; key makes a fresh key for each form.
func VisitOf(v archive.Visit, names Names, key func() string) *Visit {
	out := &Visit{ID: v.ID, Revision: v.Revision, Date: dayOr(v.Heading.Date, "no day stated"), By: v.Heading.By, Format: v.Format,
		Verdict: v.Heading.Fill, Class: fillClass(v.Heading.Fill),
		Placed: v.Heading.Latitude != nil && v.Heading.Longitude != nil}
	if v.Deleted != nil {
		out.Removed = names.stampWords(*v.Deleted)
	}
	for _, p := range v.Photos {
		path := escaped(p.Name)
		out.Photos = append(out.Photos, Photo{p.Name, fmt.Sprintf("/visits/%s/photos/%s", v.ID, path), fmt.Sprintf("/visits/%s/thumbnails/%s", v.ID, path), key()})
	}
	return out
}

// escaped writes a name as a path.
func escaped(name string) string {
	parts := strings.Split(name, "/")
	for i := range parts {
		parts[i] = url.PathEscape(parts[i])
	}
	return strings.Join(parts, "/")
}

// Judge fills in what was computed of the visit.
func (v *Visit) Judge(d judgefile.CheckDocument, lids []site.Name) {
	v.Drawn, v.Pack = true, d.Judgement.Pack
	v.Verdict, v.Reasons = d.Verdict.Words, d.Verdict.Reasons
	v.Class = d.Verdict.Fill
	for _, p := range d.Problems {
		if !p.Remark {
			v.Mistakes = append(v.Mistakes, mistakeWords(p.Line, p.Subject, p.Found, p.Expected, p.Example, p.Advice))
		}
	}
	v.MistakesHead = english.Several(len(v.Mistakes), "mistake in the job file", "mistakes in the job file")
	v.Grades = grades(d)
	for _, a := range d.Judgement.Actions {
		class := map[string]string{"now": "act", "soon": "watch"}[a.Urgency]
		v.Actions = append(v.Actions, Action{class, a.Urgency, sentence(a.What), a.Why, Day(a.By)})
	}
	for _, r := range d.Judgement.Reminders {
		v.Reminders = append(v.Reminders, Reminder{Day(r.On), r.Words})
	}
	for _, name := range lids {
		link := fmt.Sprintf("/visits/%s/card.%%s?part=%s", v.ID, url.QueryEscape(string(name)))
		v.Lids = append(v.Lids, Lid{string(name), strings.Replace(link, "%s", "pdf", 1), strings.Replace(link, "%s", "png", 1)})
	}
	v.Wanted = v.missingPhotos(d)
}

// mistakeWords writes one thing that is wrong with a job file.
func mistakeWords(line int, subject, found, expected, example, advice string) string {
	var b strings.Builder
	if line > 0 {
		fmt.Fprintf(&b, "Line %d: ", line)
	}
	b.WriteString(subject)
	if found != "" {
		fmt.Fprintf(&b, ": “%s” was read", found)
	}
	if expected != "" {
		fmt.Fprintf(&b, ", %s is expected", expected)
	}
	if example != "" {
		fmt.Fprintf(&b, ", for example %s", example)
	}
	b.WriteString(". ")
	b.WriteString(advice)
	return strings.TrimSpace(b.String())
}

// grades sorts what was seen, the worst first.
func grades(d judgefile.CheckDocument) []Grade {
	all := slices.Clone(d.Judgement.Parts)
	for _, r := range d.Judgement.Runs {
		all = append(all, r.Findings...)
	}
	var out []Grade
	for _, g := range []Grade{{Class: "act", Words: "Act"}, {Class: "watch", Words: "Watch"}, {Class: "note", Words: "Note"}} {
		for _, f := range all {
			if f.Grade == g.Class {
				g.Findings = append(g.Findings, findingOf(f))
			}
		}
		if len(g.Findings) > 0 {
			out = append(out, g)
		}
	}
	return out
}

func findingOf(f judgefile.Finding) Finding {
	out := Finding{Words: sentence(f.Words), Note: f.Note, Why: sentence(f.Why)}
	for _, n := range f.Near {
		if n.Explains {
			out.Near = append(out.Near, sentence(n.Words))
		}
	}
	return out
}

// missingPhotos lists the photos that findings name and that the visit lacks.
func (v *Visit) missingPhotos(d judgefile.CheckDocument) []string {
	var out []string
	want := func(list []judgefile.Finding) {
		for _, f := range list {
			for _, name := range f.Photos {
				here := slices.ContainsFunc(v.Photos, func(p Photo) bool { return p.Name == name })
				if !here && !slices.Contains(out, name) {
					out = append(out, name)
				}
			}
		}
	}
	want(d.Judgement.Parts)
	for _, r := range d.Judgement.Runs {
		want(r.Findings)
	}
	return out
}

// sentence begins large and ends with a full stop.
func sentence(s string) string {
	s = capital(strings.TrimSpace(s))
	if s != "" && !strings.ContainsAny(s[len(s)-1:], ".!?") {
		s += "."
	}
	return s
}

// NewVisit is the view of the page that takes a job file.
type NewVisit struct {
	Site     archive.ID
	SiteName string
	Text     string
	Bundles  bool // whole sites are taken too
}

// Job is the view of the text of a job file.
type Job struct {
	Visit    archive.ID
	Revision archive.Revision // that the text starts from
	Format   string
	Text     string
	MayWrite bool
	Theirs   string // the text as someone else left it in the meantime
	Who      string
	Fields   []archive.Field
}

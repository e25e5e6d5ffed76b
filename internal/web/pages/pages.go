// Package pages is what the office pages look like: their templates, their one
// style sheet, and the views that the templates are filled from, with every
// date, distance and answer in words. It knows no request and no archive but
// the kinds of things that one keeps.
//
// The pages work without a script. Nothing in them comes from another host.
package pages

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"strings"
)

//go:embed *.html
var templates embed.FS

// Style is the style sheet of every page.
//
//go:embed style.css
var Style []byte

// Icon is the mark of the pages, as SVG.
//
//go:embed icon.svg
var Icon []byte

// names are the pages.
func names() []string {
	return []string{"signin", "first", "sites", "newvisit", "site", "job", "history", "shares", "setbacks", "fit", "compare", "due", "people", "account", "audit", "problem"}
}

// Book holds the pages ready to be filled. Use New.
type Book struct{ pages map[string]*template.Template }

// New reads the templates. It is an error where one is not sound.
func New() (*Book, error) {
	funcs := template.FuncMap{"upper": strings.ToUpper}
	base, err := template.New("base").Funcs(funcs).ParseFS(templates, "base.html", "parts.html")
	if err != nil {
		return nil, fmt.Errorf("pages: %w", err)
	}
	b := &Book{map[string]*template.Template{}}
	for _, name := range names() {
		page, err := base.Clone()
		if err == nil {
			page, err = page.ParseFS(templates, name+".html")
		}
		if err != nil {
			return nil, fmt.Errorf("pages: %w", err)
		}
		b.pages[name] = page
	}
	return b, nil
}

// Link is a way to another page.
type Link struct {
	To, Words string
	Here      bool // it is the page that is shown
}

// Problem is what went wrong, at the head of a page.
type Problem struct {
	Head, Words, Do string
	Field           string // the field of the form that it is about, empty for none
	Request         string // its number in the log
}

// Frame is what stands about the content of a page.
type Frame struct {
	Title      string
	Here       string // the path of the page
	Nav, Trail []Link
	Person     string // who is signed in, empty for nobody
	Role       string
	Guest      string // for whom the link is that a visitor holds
	GuestUntil string
	Notice     string // what was done just now
	Problem    *Problem
	Key        string // of what the form on the page asks for
}

// Is tells whether the problem of the page is about a field.
func (f Frame) Is(field string) bool { return f.Problem != nil && f.Problem.Field == field }

// Page fills a page. V is the view of that page.
func (b *Book) Page(name string, f Frame, view any) ([]byte, error) {
	page, ok := b.pages[name]
	if !ok {
		return nil, fmt.Errorf("pages: there is no page %q", name)
	}
	var out bytes.Buffer
	err := page.ExecuteTemplate(&out, "page", struct {
		Frame
		V any
	}{f, view})
	return out.Bytes(), err
}

// Choice is one entry of a list to choose from.
type Choice struct {
	Value, Words string
	Chosen       bool
}

// Choices makes a list of values that are their own words.
func Choices[T ~string](values []T, chosen T) []Choice {
	var out []Choice
	for _, v := range values {
		out = append(out, Choice{string(v), string(v), v == chosen})
	}
	return out
}

// Package text prints what was found about a job in plain words, for a person at
// a terminal of 80 columns. What a job says can never steer the terminal.
package text

import (
	"fmt"
	"io"
	"reflect"
	"strings"

	"undersod/core/adjust"
	"undersod/core/caution"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile"
)

// Of is the job that a text is about.
type Of struct {
	Name   string // of its file
	Read   jobfile.Result
	Plan   *adjust.Plan
	Colour bool // where it is read can show colour
}

func (of Of) teller(w io.Writer) *teller {
	return &teller{w: w, colour: of.Colour, job: &of.Read.Job, plan: of.Plan}
}

// teller prints a plan in plain words.
type teller struct {
	w          io.Writer
	colour     bool
	job        *site.Job
	plan       *adjust.Plan
	everything bool
}

// Terminal colours, used only where Colour is set.
const (
	red    = "\x1b[31m"
	green  = "\x1b[32m"
	yellow = "\x1b[33m"
	bold   = "\x1b[1m"
	plain  = "\x1b[0m"
)

// print prints with every text in args made safe for a terminal.
func (t *teller) print(format string, args ...any) {
	for i := range args {
		args[i] = visible(args[i])
	}
	fmt.Fprintf(t.w, format, args...)
}

func (t *teller) paint(colour, text string) painted {
	text = jobfile.Visible(text)
	if !t.colour {
		return painted(text)
	}
	return painted(colour + text + plain)
}

func (t *teller) title(text string) { t.print("\n%s\n", t.paint(bold, text)) }

// length is how the job wants lengths printed.
func (t *teller) length(l unit.Length) string { return t.style().Format(l) }

func (t *teller) style() unit.Style { return t.job.Show.Style() }

func (t *teller) head() {
	name := t.job.Site.Name
	if name == "" {
		name = "a job without a name"
	}
	t.print("%s", t.paint(bold, name))
	if t.job.Visit.Date != "" {
		t.print(", measured %s", t.job.Visit.Date)
	}
	t.print("\n")
}

// wrapped prints a text within 80 columns, hung on its bullet.
func (t *teller) wrapped(bullet, text string) {
	line := bullet
	width := len([]rune(bullet))
	for _, word := range strings.Fields(text) {
		n := len([]rune(word))
		if width+n > 78 && strings.TrimSpace(line) != strings.TrimSpace(bullet) {
			t.print("%s\n", strings.TrimRight(line, " "))
			line = strings.Repeat(" ", len([]rune(bullet)))
			width = len([]rune(bullet))
		}
		line += word + " "
		width += n + 1
	}
	t.print("%s\n", strings.TrimRight(line, " "))
}

// hung prints a text whose first line has begun, within 80 columns.
func (t *teller) hung(indent, text string) {
	line, width := "", len(indent)
	for _, word := range strings.Fields(text) {
		n := len([]rune(word))
		if width+n > 78 && line != "" {
			t.print("%s\n", strings.TrimRight(line, " "))
			line, width = indent, len(indent)
		}
		line += word + " "
		width += n + 1
	}
	t.print("%s\n", strings.TrimRight(line, " "))
}

// short cuts a text to a width.
func short(s string, width int) string {
	r := []rune(s)
	if len(r) <= width {
		return s
	}
	return string(r[:width-1]) + "…"
}

// cautions prints the usual cautions of what is about to be done.
func (t *teller) cautions(title string, where ...caution.Where) {
	t.title(title)
	for _, c := range caution.For(where...) {
		t.wrapped("- ", fmt.Sprintf("%s (%s)", c.Words, c.Source))
	}
	t.wrapped("- ", caution.Decides)
}

// painted is text of the program's own making with the codes of its colours.
type painted string

// visible makes a value to be printed safe for a terminal, unless it is
// painted, which holds safe text already.
func visible(v any) any {
	if _, ok := v.(painted); ok {
		return v
	}
	if s := reflect.ValueOf(v); s.Kind() == reflect.String {
		return jobfile.Visible(s.String())
	}
	return v
}

// Package table reads the rows of a CSV file as groups of keys, so that what
// reads a job file reads them too, each cell with its place.
package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"undersod/core/english"
	"undersod/core/site"
	"undersod/internal/jobfile/tell"
	"undersod/internal/jobfile/tree"
	"undersod/internal/jobfile/values"
)

// Row takes one row: its cells by column, and the same as a group of keys.
// Empty cells are in neither.
type Row func(named map[string]*tree.Node, value *tree.Node)

// Read hands the rows of a table to row, one by one. The first row of the file
// names the columns, which are of those known. What is wrong in a cell is told
// to r; the error is a site.Problem, for what is no table at all.
func Read(r *values.Reader, src []byte, known []string, row Row) error {
	if at := tree.NotText(src); at >= 0 {
		return tree.Refusal(r.File, bytes.Count(src[:at], []byte("\n"))+1, 1, "bytes that are no text", "text in UTF-8", "Save the table as CSV in UTF-8.")
	}
	c := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(src, []byte("\xef\xbb\xbf"))))
	c.FieldsPerRecord = -1
	c.LazyQuotes = true // an inch mark in a cell without quotes is common
	c.ReuseRecord = true
	c.Comma = separator(src)
	t := table{Reader: r, csv: c}
	if !t.header(known) {
		return nil
	}
	for {
		cells, err := c.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return t.words(err)
		}
		if named, value := t.row(cells); len(named) > 0 {
			row(named, value)
		}
	}
}

// table is a file while it is read.
type table struct {
	*values.Reader
	csv     *csv.Reader
	columns []string // names of the columns, empty for one without
}

func (t *table) words(err error) error {
	line, column := 0, 0
	var pe *csv.ParseError
	if errors.As(err, &pe) {
		line, column = pe.Line, pe.Column
	}
	return tree.Refusal(t.File, line, max(column, 1), tell.Clip(t.Line(line)), "a row of cells with commas between", "Look for a quote mark that is not closed.")
}

// separator tells which character parts the cells of the first row.
func separator(src []byte) rune {
	first := tell.SourceLine(src, 1)
	for _, c := range ",;\t" {
		if strings.ContainsRune(first, c) {
			return c
		}
	}
	return ','
}

// cell makes a node of a cell. The csv package counts columns in bytes.
func (t *table) cell(i int, text string) *tree.Node {
	line, column := t.csv.FieldPos(i)
	source := t.Line(line)
	if column-1 <= len(source) {
		column = utf8.RuneCountInString(source[:column-1]) + 1
	}
	text = strings.TrimSpace(text)
	return &tree.Node{Text: text, Null: text == "", Line: line, Column: column}
}

// header reads the names of the columns.
func (t *table) header(known []string) bool {
	cells, err := t.csv.Read()
	if err != nil {
		t.Tell(site.Problem{Place: site.Place{File: t.File, Line: 1, Column: 1}, Subject: "the table",
			Expected: "a first row that names the columns", Example: "kind,from,to,read,with,note"})
		return false
	}
	t.columns = make([]string, len(cells))
	seen := map[string]bool{}
	for i, text := range cells {
		n := t.cell(i, strings.ToLower(text))
		switch {
		case n.Null:
		case seen[n.Text]:
			t.Wrong(n, "the columns of the table", "each column once", "")
		case !slices.Contains(known, n.Text):
			t.unknown(n, known)
		default:
			t.columns[i] = n.Text
			seen[n.Text] = true
		}
	}
	if !seen["kind"] {
		t.Tell(site.Problem{Place: site.Place{File: t.File, Line: 1, Column: 1}, Subject: "the columns of the table",
			Expected: "a column named kind", Example: "kind,from,to,read,with,note"})
	}
	return seen["kind"]
}

func (t *table) unknown(n *tree.Node, known []string) {
	p := site.Problem{Place: t.At(n), Subject: "the columns of the table", Found: n.Shown(), Expected: "one of " + english.Or(known)}
	if near, ok := english.Nearest(n.Text, known); ok {
		p.Advice = fmt.Sprintf("Did you mean %q?", near)
	}
	t.Tell(p)
}

// row makes a group of keys of one row.
func (t *table) row(cells []string) (map[string]*tree.Node, *tree.Node) {
	line, _ := t.csv.FieldPos(0)
	value := &tree.Node{Form: tree.Dict, Line: line, Column: 1}
	named := map[string]*tree.Node{}
	for i, text := range cells {
		n := t.cell(i, text)
		switch {
		case n.Null:
		case i >= len(t.columns):
			t.Wrong(n, "a row of the table", fmt.Sprintf("at most %d cells, as the first row has", len(t.columns)), "")
		case t.columns[i] != "":
			named[t.columns[i]] = n
			value.Keys = append(value.Keys, &tree.Node{Text: t.columns[i], Line: n.Line, Column: n.Column})
			value.Items = append(value.Items, n)
		}
	}
	return named, value
}

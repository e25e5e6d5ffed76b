package render

import (
	"bufio"
	"crypto/sha256"
	"fmt"
	"hash"
	"io"
	"strings"
	"time"
	"unicode/utf16"

	"undersod/core/sheet"
)

// pdfRef is the number of an object of a PDF file, written as a reference.
type pdfRef int

func (r pdfRef) String() string { return fmt.Sprintf("%d 0 R", int(r)) }

// pdfDocument collects the objects of a PDF file (ISO 32000-1:2008, 7.5).
type pdfDocument struct {
	objects [][][]byte // by number less 1, each in pieces, so that no picture is copied
}

func newPDFDocument() *pdfDocument { return &pdfDocument{} }

// reserve takes a number for an object that is set later.
func (d *pdfDocument) reserve() pdfRef {
	d.objects = append(d.objects, nil)
	return pdfRef(len(d.objects))
}

func (d *pdfDocument) set(r pdfRef, body string) { d.objects[r-1] = [][]byte{[]byte(body)} }

func (d *pdfDocument) add(body string) pdfRef {
	r := d.reserve()
	d.set(r, body)
	return r
}

// stream adds deflated data with further entries for its dictionary.
func (d *pdfDocument) stream(entries string, data []byte) pdfRef {
	return d.packed("/Filter /FlateDecode "+entries, deflated(data))
}

// packed adds data that a filter named in the entries unpacks.
func (d *pdfDocument) packed(entries string, data []byte) pdfRef {
	r := d.reserve()
	d.objects[r-1] = [][]byte{fmt.Appendf(nil, "<< /Length %d %s>>\nstream\n", len(data), entries), data, []byte("\nendstream")}
	return r
}

// pdfFile counts and digests what it passes on.
type pdfFile struct {
	*bufio.Writer
	digest hash.Hash
	length int
}

func (f *pdfFile) Write(p []byte) (int, error) {
	f.digest.Write(p) // never fails
	f.length += len(p)
	return f.Writer.Write(p)
}

// write writes the whole file and returns the error of w. The identifier of
// the file is made of its content.
func (d *pdfDocument) write(w io.Writer, catalog, info pdfRef) error {
	// A bufio.Writer keeps its first error until Flush.
	f := &pdfFile{bufio.NewWriter(w), sha256.New(), 0}
	fmt.Fprint(f, "%PDF-1.5\n%\xe2\xe3\xcf\xd3\n")
	offsets := make([]int, len(d.objects))
	for i, pieces := range d.objects {
		offsets[i] = f.length
		fmt.Fprintf(f, "%d 0 obj\n", i+1)
		for _, piece := range pieces {
			f.Write(piece)
		}
		fmt.Fprint(f, "\nendobj\n")
	}
	id := f.digest.Sum(nil)
	table := f.length
	fmt.Fprintf(f, "xref\n0 %d\n0000000000 65535 f \n", len(offsets)+1)
	for _, at := range offsets {
		fmt.Fprintf(f, "%010d 00000 n \n", at)
	}
	fmt.Fprintf(f, "trailer\n<< /Size %d /Root %s /Info %s /ID [<%x> <%x>] >>\nstartxref\n%d\n%%%%EOF\n",
		len(offsets)+1, catalog, info, id[:16], id[:16], table)
	return f.Flush()
}

// pdfInfo returns the dictionary with the title of the document and, where
// the scene has a date written year-month-day, with that date.
func pdfInfo(s sheet.Scene) string {
	info := "<< /Title " + pdfText(s.Title) + " /Producer (undersod)"
	if day, err := time.Parse(time.DateOnly, s.Date); err == nil {
		d := day.Format("20060102")
		info += fmt.Sprintf(" /CreationDate (D:%s) /ModDate (D:%s)", d, d)
	}
	return info + " >>"
}

// pdfText writes a text string as UTF-16 in hexadecimal digits, which needs
// no escapes.
func pdfText(s string) string {
	var b strings.Builder
	b.WriteString("<FEFF")
	for _, u := range utf16.Encode([]rune(s)) {
		fmt.Fprintf(&b, "%04X", u)
	}
	return b.String() + ">"
}

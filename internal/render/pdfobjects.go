package render

import (
	"bytes"
	"crypto/sha256"
	"fmt"
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
	objects [][]byte // by number less 1
}

func newPDFDocument() *pdfDocument { return &pdfDocument{} }

// reserve takes a number for an object that is set later.
func (d *pdfDocument) reserve() pdfRef {
	d.objects = append(d.objects, nil)
	return pdfRef(len(d.objects))
}

func (d *pdfDocument) set(r pdfRef, body string) { d.objects[r-1] = []byte(body) }

func (d *pdfDocument) add(body string) pdfRef {
	r := d.reserve()
	d.set(r, body)
	return r
}

// stream adds deflated data with further entries for its dictionary.
func (d *pdfDocument) stream(entries string, data []byte) pdfRef {
	packed := deflated(data)
	r := d.reserve()
	var b bytes.Buffer
	fmt.Fprintf(&b, "<< /Length %d /Filter /FlateDecode %s>>\nstream\n", len(packed), entries)
	b.Write(packed)
	b.WriteString("\nendstream")
	d.objects[r-1] = b.Bytes()
	return r
}

// finish returns the whole file. Its identifier is made of its content.
func (d *pdfDocument) finish(catalog, info pdfRef) []byte {
	var b bytes.Buffer
	b.WriteString("%PDF-1.5\n%\xe2\xe3\xcf\xd3\n")
	offsets := make([]int, len(d.objects))
	for i, body := range d.objects {
		offsets[i] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, body)
	}
	id := sha256.Sum256(b.Bytes())
	table := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(offsets)+1)
	for _, at := range offsets {
		fmt.Fprintf(&b, "%010d 00000 n \n", at)
	}
	fmt.Fprintf(&b, "trailer\n<< /Size %d /Root %s /Info %s /ID [<%x> <%x>] >>\nstartxref\n%d\n%%%%EOF\n",
		len(offsets)+1, catalog, info, id[:16], id[:16], table)
	return b.Bytes()
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

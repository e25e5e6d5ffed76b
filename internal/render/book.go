package render

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"undersod/core/sheet"
)

// Book writes scenes as one PDF 1.5 file of one page each, in their order and
// of their own sizes. The fonts are embedded once, and a picture once however
// many pages show it. Title and date of the file are those of the first scene;
// a page whose title differs from that of the page before gets a bookmark, and
// layers of the same name are switched together. Nothing but the pictures
// themselves and the packed pages is held in memory. It returns an error that
// names page and shape at fault, before anything is written, and the error of
// w.
func Book(w io.Writer, pages []sheet.Scene) error {
	if len(pages) == 0 {
		return errors.New("no PDF can be made without a page; give at least one")
	}
	for i, s := range pages {
		if err := check(s); err != nil {
			return fmt.Errorf("no PDF can be made: page %d: %w", i+1, err)
		}
	}
	return writePDF(w, pages)
}

// writePDF writes scenes that have passed their check.
func writePDF(w io.Writer, scenes []sheet.Scene) error {
	doc := newPDFDocument()
	fonts := subsets(scenes...)
	catalog, tree := doc.reserve(), doc.reserve()
	pages := make([]pdfRef, len(scenes))
	for i := range pages {
		pages[i] = doc.reserve()
	}
	groups, all := doc.layers(scenes)
	fontNames := doc.fonts(fonts)
	numbers, pictures := doc.pictures(scenes)
	for i, s := range scenes {
		resources := fmt.Sprintf("<< /Font << %s>> /Properties << %s>>%s >>", fontNames, named("L", groups[i]), shown(s, numbers, pictures))
		stream := doc.stream("", []byte(pdfContent(s, fonts, numbers)))
		doc.set(pages[i], fmt.Sprintf("<< /Type /Page /Parent %s /MediaBox [0 0 %s %s] /Resources %s /Contents %s >>",
			tree, decimal(float64(s.Width)*pointsPerMM, 4), decimal(float64(s.Height)*pointsPerMM, 4), resources, stream))
	}
	doc.set(tree, fmt.Sprintf("<< /Type /Pages /Kids [%s] /Count %d >>", list(pages), len(pages)))
	doc.set(catalog, fmt.Sprintf("<< /Type /Catalog /Pages %s /Lang (en) /ViewerPreferences << /DisplayDocTitle true >>%s%s >>",
		tree, layerProperties(all), doc.bookmarks(scenes, pages)))
	info := doc.add(pdfInfo(scenes[0]))
	return doc.write(w, catalog, info)
}

// list writes references with a space between.
func list(refs []pdfRef) string { return strings.Trim(fmt.Sprint(refs), "[]") }

// layers adds an optional content group for each layer of a page and returns
// them by page, and all of them. Pages share the groups of layers that have
// the same name; layers of one page never do.
func (d *pdfDocument) layers(scenes []sheet.Scene) (groups [][]pdfRef, all []pdfRef) {
	type layer struct {
		name string
		nth  int // of this name on the page
	}
	known := map[layer]pdfRef{}
	groups = make([][]pdfRef, len(scenes))
	for i, s := range scenes {
		count := map[string]int{}
		for _, l := range s.Layers {
			key := layer{l.Name, count[l.Name]}
			count[l.Name]++
			if _, ok := known[key]; !ok {
				known[key] = d.add("<< /Type /OCG /Name " + pdfText(l.Name) + " >>")
				all = append(all, known[key])
			}
			groups[i] = append(groups[i], known[key])
		}
	}
	return groups, all
}

func layerProperties(groups []pdfRef) string {
	if len(groups) == 0 {
		return ""
	}
	all := list(groups) + " "
	return fmt.Sprintf(" /OCProperties << /OCGs [%s] /D << /Order [%s] /ON [%s] >> >>", all, all, all)
}

// bookmarks adds an outline of the pages that begin a title and returns its
// entry for the catalog, nothing where there would be fewer than two bookmarks.
func (d *pdfDocument) bookmarks(scenes []sheet.Scene, pages []pdfRef) string {
	var starts []int
	for i, s := range scenes {
		if s.Title != "" && (i == 0 || s.Title != scenes[i-1].Title) {
			starts = append(starts, i)
		}
	}
	if len(starts) < 2 {
		return ""
	}
	root := d.reserve()
	first, last := root+1, root+pdfRef(len(starts))
	d.set(root, fmt.Sprintf("<< /Type /Outlines /First %s /Last %s /Count %d >>", first, last, len(starts)))
	for _, i := range starts {
		item := d.reserve()
		var beside string
		if item > first {
			beside += fmt.Sprintf(" /Prev %s", item-1)
		}
		if item < last {
			beside += fmt.Sprintf(" /Next %s", item+1)
		}
		d.set(item, fmt.Sprintf("<< /Title %s /Parent %s%s /Dest [%s /Fit] >>", pdfText(scenes[i].Title), root, beside, pages[i]))
	}
	return fmt.Sprintf(" /Outlines %s", root)
}

// Package render writes a sheet as a file: PDF, SVG, PNG or DXF.
//
// All four draw the same scene with the same two fonts, and Metrics measures
// in those fonts, so that what was laid out is what is drawn. Every byte
// follows from the scene alone: no clock, no random name, no order of a map,
// so that the same job gives the same file on every machine.
//
// A stroke has round joins everywhere. A full line has round ends, a dashed
// one flat ends, so that its dashes are as long as the scene says.
package render

import (
	"io"
	"path/filepath"
	"strings"

	"undersod/core/sheet"
)

// PNGDotsPerInch is how fine a PNG is where nobody says otherwise, in dots per
// inch.
const PNGDotsPerInch = 150

// ByName chooses the format of a file by the ending of its name, .pdf, .svg,
// .png or .dxf in capital or small letters, and returns false for any other.
// A PNG has PNGDotsPerInch; a DXF is in the given unit, in feet for none.
func ByName(name string, in ...GroundUnit) (func(io.Writer, sheet.Scene) error, bool) {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".pdf":
		return PDF, true
	case ".svg":
		return SVG, true
	case ".png":
		return func(w io.Writer, s sheet.Scene) error { return PNG(w, s, PNGDotsPerInch) }, true
	case ".dxf":
		return func(w io.Writer, s sheet.Scene) error { return DXF(w, s, in...) }, true
	}
	return nil, false
}

package render

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"undersod/core/sheet"
)

// Handles that other objects refer to.
const (
	blockRecordTable = 0x1
	modelSpace       = 0x2
	paperSpace       = 0x3
	rootDictionary   = 0x4
	groupDictionary  = 0x5
	firstFree        = 0x1F
)

// application is the name under which shapes carry their names as extended
// data.
const application = "UNDERSOD"

// header writes the variables that a reader needs to take the numbers right.
func (d *dxfWriter) header() {
	insunits, measurement := 2, 0 // feet, English (Autodesk, DXF Reference 2007, "HEADER Section")
	if d.unit == Metres {
		insunits, measurement = 6, 1
	}
	low, high := d.extent()
	variable := func(name string, write func()) {
		d.text(9, name)
		write()
	}
	variable("$ACADVER", func() { d.text(1, "AC1021") })
	variable("$DWGCODEPAGE", func() { d.text(3, "ANSI_1252") })
	variable("$EXTMIN", func() { d.point(10, low) })
	variable("$EXTMAX", func() { d.point(10, high) })
	variable("$LTSCALE", func() { d.real(40, 1) })
	variable("$LUNITS", func() { d.integer(70, 2) })
	variable("$INSUNITS", func() { d.integer(70, insunits) })
	variable("$MEASUREMENT", func() { d.integer(70, measurement) })
	variable("$LWDISPLAY", func() { d.integer(290, 1) })
	variable("$HANDSEED", func() { d.reference(5, d.handles+1) })
}

// extent returns the corners of the box around the sheet on the ground.
func (d *dxfWriter) extent() (low, high ground) {
	low, high = ground{math.Inf(1), math.Inf(1)}, ground{math.Inf(-1), math.Inf(-1)}
	for _, p := range []sheet.Pos{{}, {X: d.scene.Width}, {Y: d.scene.Height}, {X: d.scene.Width, Y: d.scene.Height}} {
		g := d.ground(p)
		low = ground{min(low.x, g.x), min(low.y, g.y)}
		high = ground{max(high.x, g.x), max(high.y, g.y)}
	}
	return low, high
}

func (d *dxfWriter) tables() {
	d.table("VPORT", 1, d.viewport)
	d.table("LTYPE", 3+len(d.lines), d.writeLineTypes)
	d.table("LAYER", 1+len(d.layers), d.writeLayers)
	d.table("STYLE", 3, d.writeStyles)
	d.table("VIEW", 0, func(int) {})
	d.table("UCS", 0, func(int) {})
	d.table("APPID", 2, func(table int) {
		for _, name := range []string{"ACAD", application} {
			d.record("APPID", "AcDbRegAppTableRecord", table, name)
		}
	})
	d.table("DIMSTYLE", 1, d.dimensionStyle)
	d.table("BLOCK_RECORD", 2, func(table int) {
		for _, b := range []struct {
			handle int
			name   string
		}{{modelSpace, "*Model_Space"}, {paperSpace, "*Paper_Space"}} {
			d.text(0, "BLOCK_RECORD")
			d.reference(5, b.handle)
			d.reference(330, table)
			d.text(100, "AcDbSymbolTableRecord")
			d.text(100, "AcDbBlockTableRecord")
			d.text(2, b.name)
		}
	})
}

// table writes a table whose records write puts out, given its handle.
func (d *dxfWriter) table(name string, records int, write func(table int)) {
	d.text(0, "TABLE")
	d.text(2, name)
	handle := blockRecordTable
	if name == "BLOCK_RECORD" {
		d.reference(5, handle)
	} else {
		d.handle(5)
		handle = d.handles
	}
	d.reference(330, 0)
	d.text(100, "AcDbSymbolTable")
	d.integer(70, records)
	if name == "DIMSTYLE" {
		d.text(100, "AcDbDimStyleTable")
		d.integer(71, 0)
	}
	write(handle)
	d.text(0, "ENDTAB")
}

// record begins a record of a table; the name needs no escapes.
func (d *dxfWriter) record(kind, class string, table int, name string) {
	d.text(0, kind)
	d.handle(5)
	d.reference(330, table)
	d.text(100, "AcDbSymbolTableRecord")
	d.text(100, class)
	d.text(2, name)
	d.integer(70, 0)
}

// viewport shows the whole sheet when the file is opened.
func (d *dxfWriter) viewport(table int) {
	low, high := d.extent()
	d.record("VPORT", "AcDbViewportTableRecord", table, "*ACTIVE")
	d.flat(10, ground{})
	d.flat(11, ground{1, 1})
	d.flat(12, ground{(low.x + high.x) / 2, (low.y + high.y) / 2})
	d.flat(13, ground{})
	d.flat(14, ground{1, 1})
	d.flat(15, ground{1, 1})
	d.point(16, ground{})
	d.point(17, ground{})
	d.real(40, max(high.y-low.y, 1e-6))
	d.real(41, max(high.x-low.x, 1e-6)/max(high.y-low.y, 1e-6))
	d.real(42, 50)
	for _, v := range [][2]int{{43, 0}, {44, 0}, {50, 0}, {51, 0}} {
		d.real(v[0], float64(v[1]))
	}
	for _, v := range [][2]int{{71, 0}, {72, 100}, {73, 1}, {74, 3}, {75, 0}, {76, 0}, {77, 0}, {78, 0}} {
		d.integer(v[0], v[1])
	}
}

func (d *dxfWriter) dimensionStyle(table int) {
	d.text(0, "DIMSTYLE")
	d.handle(105)
	d.reference(330, table)
	d.text(100, "AcDbSymbolTableRecord")
	d.text(100, "AcDbDimStyleTableRecord")
	d.text(2, "Standard")
	d.integer(70, 0)
}

// writeStyles writes a text style for each weight. Arial has the widths of the
// Go fonts and is found on most machines.
func (d *dxfWriter) writeStyles(table int) {
	for _, s := range [][2]string{{"Standard", "arial.ttf"}, {styleName(sheet.Regular), "arial.ttf"}, {styleName(sheet.Bold), "arialbd.ttf"}} {
		d.record("STYLE", "AcDbTextStyleTableRecord", table, s[0])
		d.real(40, 0)
		d.real(41, 1)
		d.real(50, 0)
		d.integer(71, 0)
		d.real(42, 2.5*d.perMM)
		d.text(3, s[1])
		d.text(4, "")
	}
}

func styleName(w sheet.Weight) string {
	if knownWeight(w) == sheet.Bold {
		return "BOLD"
	}
	return "REGULAR"
}

// dxfLineType is a pattern of dashes and its name.
type dxfLineType struct {
	name   string
	dashes []sheet.MM
}

// mostDashes is how many dashes and gaps a line type may have (Autodesk,
// AutoCAD Customization Guide, "Simple Custom Linetypes"); further ones are
// left out.
const mostDashes = 12

// lineTypes gathers the patterns of the scene in the order of their first use.
func (d *dxfWriter) lineTypes() []dxfLineType {
	var out []dxfLineType
	for _, l := range d.scene.Layers {
		for _, shape := range l.Shapes {
			p, ok := shape.(sheet.Path)
			if !ok || p.Stroke == nil || len(p.Stroke.Dash) == 0 {
				continue
			}
			pattern := dashes(p.Stroke)
			pattern = pattern[:min(len(pattern), mostDashes)]
			if !slices.ContainsFunc(out, func(t dxfLineType) bool { return slices.Equal(t.dashes, pattern) }) {
				out = append(out, dxfLineType{lineTypeName(pattern, out), pattern})
			}
		}
	}
	return out
}

// lineTypeName returns a name that is not taken yet. Programs that draw only
// line types of their own know them by these names.
func lineTypeName(pattern []sheet.MM, taken []dxfLineType) string {
	base := map[int]string{2: "DASHED", 4: "DASHDOT", 6: "DIVIDE"}[len(pattern)]
	if base == "" {
		base = "DASHES"
	}
	name := base
	for n := 2; slices.ContainsFunc(taken, func(t dxfLineType) bool { return t.name == name }); n++ {
		name = fmt.Sprintf("%s%d", base, n)
	}
	return name
}

// lineType returns the name of the line type of a stroke.
func (d *dxfWriter) lineType(s *sheet.Stroke) string {
	pattern := dashes(s)
	pattern = pattern[:min(len(pattern), mostDashes)]
	for _, t := range d.lines {
		if slices.Equal(t.dashes, pattern) {
			return t.name
		}
	}
	return "Continuous"
}

func (d *dxfWriter) writeLineTypes(table int) {
	for _, name := range []string{"ByBlock", "ByLayer", "Continuous"} {
		d.writeLineType(table, dxfLineType{name: name})
	}
	for _, t := range d.lines {
		d.writeLineType(table, t)
	}
}

func (d *dxfWriter) writeLineType(table int, t dxfLineType) {
	d.record("LTYPE", "AcDbLinetypeTableRecord", table, t.name)
	var total sheet.MM
	var about strings.Builder
	for _, v := range t.dashes {
		total += v
		about.WriteString(number(float64(v)) + " ")
	}
	if len(t.dashes) > 0 {
		about.WriteString("mm on paper")
	}
	d.text(3, about.String())
	d.integer(72, 'A') // aligned, the only kind there is
	d.integer(73, len(t.dashes))
	d.real(40, float64(total)*d.perMM)
	for i, v := range t.dashes {
		length := float64(v) * d.perMM
		if i%2 == 1 {
			length = -length
		}
		d.real(49, length)
		d.integer(74, 0)
	}
}

// blocks writes the two empty blocks that every file has.
func (d *dxfWriter) blocks() {
	for _, b := range []struct {
		record int
		name   string
	}{{modelSpace, "*Model_Space"}, {paperSpace, "*Paper_Space"}} {
		d.text(0, "BLOCK")
		d.handle(5)
		d.reference(330, b.record)
		d.text(100, "AcDbEntity")
		d.text(8, "0")
		d.text(100, "AcDbBlockBegin")
		d.text(2, b.name)
		d.integer(70, 0)
		d.point(10, ground{})
		d.text(3, b.name)
		d.text(1, "")
		d.text(0, "ENDBLK")
		d.handle(5)
		d.reference(330, b.record)
		d.text(100, "AcDbEntity")
		d.text(8, "0")
		d.text(100, "AcDbBlockEnd")
	}
}

// objects writes the dictionaries that every file has.
func (d *dxfWriter) objects() {
	d.text(0, "DICTIONARY")
	d.reference(5, rootDictionary)
	d.reference(330, 0)
	d.text(100, "AcDbDictionary")
	d.integer(281, 1)
	d.text(3, "ACAD_GROUP")
	d.reference(350, groupDictionary)
	d.text(0, "DICTIONARY")
	d.reference(5, groupDictionary)
	d.reference(330, rootDictionary)
	d.text(100, "AcDbDictionary")
	d.integer(281, 1)
}

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

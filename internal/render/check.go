package render

import (
	"fmt"
	"math"

	"undersod/core/sheet"
)

// Limits of what is drawn. They keep a slip in the layout from making files
// that take for ever to write or that no viewer opens.
const (
	farthest      sheet.MM = 100_000 // from the corner of the paper
	largestSheet  sheet.MM = 5_080   // 200 inches, the largest page of PDF 1.7 (ISO 32000-1:2008, annex C)
	thickest      sheet.MM = 1_000   // stroke or em
	shortestDash  sheet.MM = 0.01    // on and off together
	arcMismatch   sheet.MM = 0.1     // between the distances of an arc's ends from its centre
	sameFullPoint          = 1e-6    // mm; an arc between ends so near is a full circle
)

// check refuses a scene that cannot be drawn, saying which shape is at fault.
func check(s sheet.Scene) error {
	for _, side := range []struct {
		name string
		size sheet.MM
	}{{"width", s.Width}, {"height", s.Height}} {
		if !(side.size > 0 && side.size <= largestSheet) {
			return fmt.Errorf("the %s of the sheet is %v mm; give one above 0 and up to %v mm, as 279.4", side.name, side.size, largestSheet)
		}
	}
	for _, l := range s.Layers {
		for i, shape := range l.Shapes {
			if err := checkShape(shape); err != nil {
				return fmt.Errorf("layer %q, shape %d%s: %w", l.Name, i+1, calledSo(shape), err)
			}
		}
	}
	return nil
}

// calledSo returns the name of a shape for an error, in brackets.
func calledSo(shape sheet.Shape) string {
	var name string
	switch v := shape.(type) {
	case sheet.Path:
		name = v.Name
	case sheet.Text:
		if name = v.Name; name == "" {
			name = v.Text
		}
	case sheet.Image:
		name = v.Name
	}
	if name == "" {
		return ""
	}
	return fmt.Sprintf(" (%q)", name)
}

func checkShape(shape sheet.Shape) error {
	switch v := shape.(type) {
	case sheet.Path:
		return checkPath(v)
	case sheet.Text:
		return checkText(v)
	case sheet.Image:
		return checkImage(v)
	}
	return fmt.Errorf("a %T is neither a sheet.Path nor a sheet.Text nor a sheet.Image", shape)
}

func checkText(t sheet.Text) error {
	if err := checkPos("its place", t.At); err != nil {
		return err
	}
	if !(t.Size > 0 && t.Size <= thickest) {
		return fmt.Errorf("its size is %v mm; give one above 0 and up to %v mm, as 2.5", t.Size, thickest)
	}
	if a := float64(t.Turn); math.IsNaN(a) || math.IsInf(a, 0) {
		return fmt.Errorf("its turn is %v; give a plain angle", a)
	}
	return nil
}

func checkPath(p sheet.Path) error {
	if p.Stroke != nil {
		if err := checkStroke(*p.Stroke); err != nil {
			return err
		}
	}
	for i, r := range p.Runs {
		if err := checkRun(r); err != nil {
			return fmt.Errorf("run %d: %w", i+1, err)
		}
	}
	return nil
}

func checkStroke(s sheet.Stroke) error {
	if !(s.Width > 0 && s.Width <= thickest) {
		return fmt.Errorf("its line is %v mm wide; give a width above 0 and up to %v mm, as 0.35", s.Width, thickest)
	}
	if len(s.Dash) == 0 {
		return nil
	}
	var period sheet.MM
	for _, d := range s.Dash {
		if !(d >= 0 && d <= farthest) {
			return fmt.Errorf("its dashes are %v mm; give lengths from 0 up, as 2 1", s.Dash)
		}
		period += d
	}
	if period < shortestDash {
		return fmt.Errorf("its dashes %v repeat every %v mm; the shortest that can be drawn is %v mm", s.Dash, period, shortestDash)
	}
	return nil
}

func checkRun(r sheet.Run) error {
	if err := checkPos("its start", r.Start); err != nil {
		return err
	}
	at := r.Start
	for i, p := range r.Pieces {
		if err := checkPos(fmt.Sprintf("the end of piece %d", i+1), p.To); err != nil {
			return err
		}
		if p.Arc {
			if err := checkArc(at, p); err != nil {
				return fmt.Errorf("piece %d: %w", i+1, err)
			}
		}
		at = p.To
	}
	return nil
}

func checkArc(from sheet.Pos, p sheet.Piece) error {
	if err := checkPos("the centre of the arc", p.Centre); err != nil {
		return err
	}
	a := newArc(from, p)
	if math.Abs(a.startRadius-a.endRadius) > float64(arcMismatch) {
		return fmt.Errorf("the centre of the arc is %.2f mm from its start but %.2f mm from its end", a.startRadius, a.endRadius)
	}
	return nil
}

func checkPos(what string, p sheet.Pos) error {
	within := func(v sheet.MM) bool { return v >= -farthest && v <= farthest }
	if !within(p.X) || !within(p.Y) {
		return fmt.Errorf("%s is at %v, %v mm; give plain numbers within %v mm of the corner of the paper", what, p.X, p.Y, farthest)
	}
	return nil
}

package sheet_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"undersod/core/sheet"
	"undersod/core/unit"
)

var look = flag.String("look", "", "folder to write the drawn sheets into, as SVG")

// svg prints a scene for the eye; the real renderers live elsewhere.
func svg(s sheet.Scene) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%.1fmm" height="%.1fmm" viewBox="0 0 %.2f %.2f"><rect width="100%%" height="100%%" fill="white"/>`, s.Width, s.Height, s.Width, s.Height)
	for _, l := range s.Layers {
		for _, shape := range l.Shapes {
			switch v := shape.(type) {
			case sheet.Path:
				svgPath(&b, v)
			case sheet.Text:
				svgText(&b, v)
			}
		}
	}
	b.WriteString("</svg>\n")
	return b.String()
}

func hex(c sheet.Colour) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

func svgPath(b *strings.Builder, p sheet.Path) {
	b.WriteString(`<path fill-rule="evenodd" d="`)
	for _, r := range p.Runs {
		fmt.Fprintf(b, "M%.3f %.3f", r.Start.X, r.Start.Y)
		for _, q := range r.Pieces {
			if q.Arc {
				radius := hypot(float64(q.To.X-q.Centre.X), float64(q.To.Y-q.Centre.Y))
				fmt.Fprintf(b, "A%.3f %.3f 0 0 1 %.3f %.3f", radius, radius, q.To.X, q.To.Y)
				continue
			}
			fmt.Fprintf(b, "L%.3f %.3f", q.To.X, q.To.Y)
		}
		if r.Closed {
			b.WriteString("Z")
		}
	}
	fill := "none"
	if p.Fill != nil {
		fill = hex(*p.Fill)
	}
	fmt.Fprintf(b, `" fill="%s"`, fill)
	if p.Stroke != nil {
		fmt.Fprintf(b, ` stroke="%s" stroke-width="%.3f"`, hex(p.Stroke.Colour), p.Stroke.Width)
		if len(p.Stroke.Dash) > 0 {
			fmt.Fprintf(b, ` stroke-dasharray="%s"`, strings.Trim(fmt.Sprint(p.Stroke.Dash), "[]"))
		}
	}
	b.WriteString("/>\n")
}

func svgText(b *strings.Builder, t sheet.Text) {
	anchor := []string{"start", "middle", "end"}[t.Align]
	weight := []string{"normal", "bold"}[t.Weight]
	text := strings.NewReplacer("&", "&amp;", "<", "&lt;").Replace(t.Text)
	wide := rough{}.Advance(t.Text, t.Weight, t.Size)
	fmt.Fprintf(b, `<text font-family="DejaVu Sans" textLength="%.3f" lengthAdjust="spacingAndGlyphs" font-size="%.3f" font-weight="%s" text-anchor="%s" fill="%s" transform="translate(%.3f %.3f) rotate(%.3f)">%s</text>`+"\n",
		wide, t.Size*0.93, weight, anchor, hex(t.Colour), t.At.X, t.At.Y, t.Turn.Degrees(), text)
}

// TestLook writes sheets for the eye when -look names a folder.
func TestLook(t *testing.T) {
	if *look == "" {
		t.Skip("no folder named")
	}
	for name, form := range map[string]unit.Form{"feet": unit.FeetInches, "metric": unit.Metres} {
		y, c := clearYard(form)
		if err := os.WriteFile(filepath.Join(*look, "clear_"+name+".svg"), []byte(svg(draw(t, y, sheet.Options{Clear: c}))), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for seed := range uint64(12) {
		y := randomYard(seed)
		y.job.Show.Ties = seed%4 == 1
		s, err := sheet.Draw(y.job, y.plan, rough{}, sheet.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(*look, fmt.Sprintf("yard%02d.svg", seed)), []byte(svg(s)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

package figure_test

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"undersod/core/sheet"
)

// svg prints a scene with few decimals and without fonts, so that a change of a
// figure is read in its golden file.
func svg(s sheet.Scene) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%.1fmm" height="%.1fmm" viewBox="0 0 %.1f %.1f">`+"\n", s.Width, s.Height, s.Width, s.Height)
	for _, l := range s.Layers {
		for _, shape := range l.Shapes {
			switch v := shape.(type) {
			case sheet.Path:
				svgPath(&b, v)
			case sheet.Text:
				fmt.Fprintf(&b, `<text x="%.1f" y="%.1f" font-family="sans-serif" font-size="%.1f" font-weight="%s" text-anchor="%s" fill="%s">%s</text>`+"\n",
					v.At.X, v.At.Y, v.Size, [...]string{"normal", "bold"}[v.Weight], [...]string{"start", "middle", "end"}[v.Align], hex(v.Colour),
					strings.NewReplacer("&", "&amp;", "<", "&lt;").Replace(v.Text))
			}
		}
	}
	b.WriteString("</svg>\n")
	return b.String()
}

func hex(c sheet.Colour) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

func svgPath(b *strings.Builder, p sheet.Path) {
	b.WriteString(`<path d="`)
	for _, r := range p.Runs {
		fmt.Fprintf(b, "M%.1f %.1f", r.Start.X, r.Start.Y)
		for _, q := range r.Pieces {
			if q.Arc {
				radius := math.Hypot(float64(q.To.X-q.Centre.X), float64(q.To.Y-q.Centre.Y))
				fmt.Fprintf(b, "A%.1f %.1f 0 0 1 %.1f %.1f", radius, radius, q.To.X, q.To.Y)
				continue
			}
			fmt.Fprintf(b, "L%.1f %.1f", q.To.X, q.To.Y)
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
		fmt.Fprintf(b, ` stroke="%s" stroke-width="%.2f"`, hex(p.Stroke.Colour), p.Stroke.Width)
		if len(p.Stroke.Dash) > 0 {
			fmt.Fprintf(b, ` stroke-dasharray="%s"`, strings.Trim(fmt.Sprint(p.Stroke.Dash), "[]"))
		}
	}
	b.WriteString("/>\n")
}

// golden compares a figure with its file, or writes it with -update.
func golden(t *testing.T, name string, s sheet.Scene) {
	t.Helper()
	file, got := "testdata/"+name+".svg", svg(s)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range max(len(g), len(w)) {
		if i >= len(g) || i >= len(w) || g[i] != w[i] {
			t.Errorf("%s changed at line %d; look at it with -look, then accept it with -update", file, i+1)
			return
		}
	}
}

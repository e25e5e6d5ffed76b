package sheet_test

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"undersod/core/sheet"
	"undersod/core/unit"
)

var update = flag.Bool("update", false, "accept the scenes as they are drawn now")

// dump prints a scene as text, a line per shape, so that a change is read with
// the eye.
func dump(s sheet.Scene) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s, %s, %.1f x %.1f mm, 1:%.0f\n", s.Title, s.Date, s.Width, s.Height, 1000/s.Mapping.MMPerMetre)
	for _, l := range s.Layers {
		fmt.Fprintf(&b, "layer %s\n", l.Name)
		for _, shape := range l.Shapes {
			switch v := shape.(type) {
			case sheet.Text:
				fmt.Fprintf(&b, "  text %.1f,%.1f size %.1f turn %.0f align %d %q of %q\n", v.At.X, v.At.Y, v.Size, v.Turn.Degrees(), v.Align, v.Text, v.Name)
			case sheet.Path:
				fmt.Fprintf(&b, "  path %d runs from %.1f,%.1f of %q\n", len(v.Runs), v.Runs[0].Start.X, v.Runs[0].Start.Y, v.Name)
			}
		}
	}
	return b.String()
}

func TestGoldenScenes(t *testing.T) {
	seen, findings := seenYard(5)
	clear, built := clearYard(unit.FeetInches)
	clearMetric, builtMetric := clearYard(unit.Metres)
	asked := map[*yard]*sheet.Clear{clear: built, clearMetric: builtMetric}
	for name, y := range map[string]*yard{"doubt": doubtYard(), "metric": metricYard(), "seen": seen, "clear": clear, "clear_metric": clearMetric} {
		file := "testdata/" + name + ".scene"
		o := sheet.Options{Ties: asked[y] == nil, Clear: asked[y]}
		if y == seen {
			o.Findings = findings
		}
		got := dump(draw(t, y, o))
		if *update {
			if err := os.MkdirAll("testdata", 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		compareLines(t, name, got, string(want))
	}
}

func compareLines(t *testing.T, name, got, want string) {
	t.Helper()
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range max(len(g), len(w)) {
		if i >= len(g) || i >= len(w) || g[i] != w[i] {
			t.Errorf("%s: the scene changed at line %d; look at it with -look, then accept it with -update", name, i+1)
			return
		}
	}
}

package render_test

import (
	"math"
	"os"
	"os/exec"
	"testing"

	"undersod/core/sheet"
)

// within is how far a drawn line may lie from the scene's.
const within = 0.1 // mm

// traced returns a run as points on paper, arcs as 24 chords, computed here
// from the scene's own words: about Centre, clockwise as seen on paper.
func traced(r sheet.Run) []sheet.Pos {
	out := []sheet.Pos{r.Start}
	at := r.Start
	for _, p := range r.Pieces {
		if p.Arc {
			out = append(out, turned(at, p.To, p.Centre, p.Clockwise)...)
		}
		out = append(out, p.To)
		at = p.To
	}
	if r.Closed {
		out = append(out, r.Start)
	}
	return out
}

// turned returns the points between two ends of an arc. On paper Y grows
// downward, so that clockwise angles grow.
func turned(from, to, centre sheet.Pos, clockwise bool) []sheet.Pos {
	radius := math.Hypot(float64(from.X-centre.X), float64(from.Y-centre.Y))
	a := math.Atan2(float64(from.Y-centre.Y), float64(from.X-centre.X))
	b := math.Atan2(float64(to.Y-centre.Y), float64(to.X-centre.X))
	for clockwise && b <= a+1e-9 {
		b += 2 * math.Pi
	}
	for !clockwise && b >= a-1e-9 {
		b -= 2 * math.Pi
	}
	const steps = 24
	var out []sheet.Pos
	for i := 1; i < steps; i++ {
		s, c := math.Sincos(a + (b-a)*float64(i)/steps)
		out = append(out, sheet.Pos{X: centre.X + sheet.MM(radius*c), Y: centre.Y + sheet.MM(radius*s)})
	}
	return out
}

// sceneRuns returns all stroked runs of a scene, in order.
func sceneRuns(s sheet.Scene) [][]sheet.Pos {
	var out [][]sheet.Pos
	for _, l := range s.Layers {
		for _, shape := range l.Shapes {
			if p, ok := shape.(sheet.Path); ok {
				for _, r := range p.Runs {
					out = append(out, traced(r))
				}
			}
		}
	}
	return out
}

// sameRuns checks that two lists of runs lie on each other to 0.1 mm, run by
// run and both ways round: nothing is missing and nothing is added.
func sameRuns(t *testing.T, got, want [][]sheet.Pos) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d runs were drawn, want %d", len(got), len(want))
	}
	for i := range want {
		for _, p := range want[i] {
			if d := away(p, got[i]); !(d <= within) {
				t.Fatalf("run %d: %v of the scene is %.3f mm from what was drawn: %v", i, p, d, got[i])
			}
		}
		for _, p := range got[i] {
			if d := away(p, want[i]); !(d <= within) {
				t.Fatalf("run %d: %v was drawn %.3f mm from the scene's line %v", i, p, d, want[i])
			}
		}
	}
}

// away returns how far p is from a line.
func away(p sheet.Pos, line []sheet.Pos) float64 {
	if len(line) == 0 {
		return math.Inf(1)
	}
	best := math.Hypot(float64(p.X-line[0].X), float64(p.Y-line[0].Y))
	for i, b := range line[1:] {
		a := line[i]
		dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
		share := 0.0
		if l := dx*dx + dy*dy; l > 0 {
			share = min(max((float64(p.X-a.X)*dx+float64(p.Y-a.Y)*dy)/l, 0), 1)
		}
		best = min(best, math.Hypot(float64(p.X-a.X)-share*dx, float64(p.Y-a.Y)-share*dy))
	}
	return best
}

// tool returns the path of a program that a test runs. Where it is not
// installed the test is skipped, or fails if UNDERSOD_REQUIRE_TOOLS is 1.
func tool(t *testing.T, name, packageName string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err == nil {
		return path
	}
	missing(t, name, packageName)
	return ""
}

func missing(t *testing.T, name, packageName string) {
	t.Helper()
	const word = "%s is not installed (Debian package %s); the check that reads the file back with it did not run"
	if os.Getenv("UNDERSOD_REQUIRE_TOOLS") == "1" {
		t.Fatalf(word, name, packageName)
	}
	t.Skipf(word, name, packageName)
}

// kept writes data to a file that lasts as long as the test.
func kept(t *testing.T, name string, data []byte) string {
	t.Helper()
	path := t.TempDir() + "/" + name
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

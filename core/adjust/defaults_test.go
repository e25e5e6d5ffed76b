package adjust_test

import (
	"math"
	"os"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/site"
	"undersod/core/unit"
)

// TestMethodDocumentTellsEveryDefault keeps the table in docs/method.md and the
// table in the code one and the same.
func TestMethodDocumentTellsEveryDefault(t *testing.T) {
	text, err := os.ReadFile("../../docs/method.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range adjust.Defaults() {
		row := ""
		for _, line := range strings.Split(string(text), "\n") {
			if strings.HasPrefix(line, "| "+string(d.Kind)) {
				row = line
			}
		}
		if row == "" || !strings.Contains(row, d.Reason) {
			t.Errorf("docs/method.md has no row for %s with its reason", d.Kind)
		}
	}
}

func TestEveryInstrumentHasADefault(t *testing.T) {
	known := map[site.InstrumentKind]bool{}
	for _, d := range adjust.Defaults() {
		known[d.Kind] = true
		if d.Fixed == 0 && d.Angle == 0 {
			t.Errorf("%s has no deviation", d.Kind)
		}
	}
	for _, k := range site.InstrumentKinds() {
		if !known[k] {
			t.Errorf("%s has no default", k)
		}
	}
}

// A fixed part of 3 and a part per distance of 4 at some distance make 5.
func TestDeviationCombinesAsARootOfSquares(t *testing.T) {
	d := adjust.Deviation{Fixed: 0.003, PerUnit: 0.0001}
	if got := d.At(40); math.Abs(float64(got-0.005)) > 1e-12 {
		t.Errorf("at 40 m %v, want 5 mm", got)
	}
	if got := d.At(0); got != 3*unit.Millimetre {
		t.Errorf("at 0 %v", got)
	}
}

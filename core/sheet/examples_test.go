package sheet_test

import (
	"bytes"
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/sheet"
	"undersod/examples"
	"undersod/internal/jobfile"
)

// TestLabelsKeepClearOnEveryExample draws every shipped job and looks for a label
// that touches another label, or a symbol or line it does not belong to.
func TestLabelsKeepClearOnEveryExample(t *testing.T) {
	entries, err := examples.Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	drawn := 0
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".csv") {
			continue
		}
		for _, ties := range []bool{false, true} {
			text, err := examples.Files.ReadFile(e.Name())
			if err != nil {
				t.Fatal(err)
			}
			r, err := jobfile.ReadBeside(e.Name(), bytes.NewReader(text), examples.Files)
			if err != nil {
				t.Fatal(err)
			}
			plan := adjust.Solve(&r.Job, adjust.Settings{})
			s, err := sheet.Draw(r.Job, *plan, rough{}, sheet.Options{Ties: ties})
			if err != nil {
				t.Errorf("%s: %v", e.Name(), err)
				continue
			}
			drawn++
			for _, fault := range checkSheet(s) {
				t.Errorf("%s, ties %v: %s", e.Name(), ties, fault)
			}
		}
	}
	if drawn < 16 {
		t.Errorf("only %d sheets were drawn", drawn)
	}
}

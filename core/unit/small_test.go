package unit_test

import (
	"testing"

	"undersod/core/unit"
)

// TestSmall prints a quarter of an inch, 6.35 mm, in each system.
func TestSmall(t *testing.T) {
	for form, want := range map[unit.Form]string{
		unit.FeetInches: `1/4"`, unit.DecimalFeet: "1/4 in", unit.Inches: "1/4 in", unit.Metres: "6 mm", unit.Millimetres: "6 mm",
	} {
		if got := (unit.Style{Form: form, Denominator: 8}).Small().Format(unit.Inch / 4); got != want {
			t.Errorf("form %d: %s, want %s", form, got, want)
		}
	}
}

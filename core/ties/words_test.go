package ties_test

import (
	"testing"

	"undersod/core/ties"
	"undersod/core/unit"
)

func TestSmallRadiusIsNeverToldAsLess(t *testing.T) {
	tests := []struct {
		form unit.Form
		l    unit.Length
		want string
	}{
		{unit.FeetInches, 1.01 * unit.Inch, `1.1"`},
		{unit.FeetInches, 1.1 * unit.Inch, `1.1"`},
		{unit.FeetInches, 1.21 * unit.Foot, "1.3 ft"},
		{unit.DecimalFeet, 0.111 * unit.Foot, "0.12 ft"},
		{unit.Metres, 0.051, "6 cm"},
		{unit.Metres, 0.05, "5 cm"},
	}
	for _, tt := range tests {
		if got := (ties.Wording{Form: tt.form}).Small(tt.l); got != tt.want {
			t.Errorf("%v m is told as %q, expected %q", float64(tt.l), got, tt.want)
		}
	}
}

package typeset_test

import (
	"testing"

	"undersod/core/typeset"
)

func TestClean(t *testing.T) {
	tests := []struct {
		text string
		most int
		want string
	}{
		{"D-box", 0, "D-box"},
		{" two  blanks ", 0, "two blanks"},
		{"line\nbreak\tand\x00zero", 0, "line break andzero"},
		{"\u202eright to left", 0, "right to left"},
		{"\xff broken", 0, "� broken"},
		{"Überlauf", 4, "Übe…"},
		{"four", 4, "four"},
		{"fives", 4, "fiv…"},
		{"", 4, ""},
	}
	for _, tt := range tests {
		if got := typeset.Clean(tt.text, tt.most); got != tt.want {
			t.Errorf("%q to %d letters becomes %q, expected %q", tt.text, tt.most, got, tt.want)
		}
	}
}

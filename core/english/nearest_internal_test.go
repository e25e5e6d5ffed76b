package english

import "testing"

func TestNearest(t *testing.T) {
	known := []string{"trench width", "permitted", "path", "kind"}
	for _, c := range []struct{ text, want string }{
		{"trench_width", "trench width"}, {"Trench Width", "trench width"}, {"permited", "permitted"},
		{"pahts", "path"}, {"knid", "kind"}, {"colour of paint", ""}, {"", ""},
	} {
		if got, _ := Nearest(c.text, known); got != c.want {
			t.Errorf("Nearest(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}

func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"a", "", 1}, {"kitten", "sitting", 3}, {"ab", "ba", 1}, {"größe", "grösse", 2},
	} {
		if got := distance(c.a, c.b, 9); got != c.want {
			t.Errorf("distance(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
		if back := distance(c.b, c.a, 9); back != c.want {
			t.Errorf("distance(%q, %q) = %d, want %d", c.b, c.a, back, c.want)
		}
	}
}

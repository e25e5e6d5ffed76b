package table_test

import (
	"strings"
	"testing"

	"undersod/internal/jobfile/table"
	"undersod/internal/jobfile/tree"
	"undersod/internal/jobfile/values"
)

// rows reads a table whose columns are kind, from and read.
func rows(t *testing.T, text string) (*values.Reader, []map[string]*tree.Node, error) {
	t.Helper()
	r := &values.Reader{File: "t.csv", Source: []byte(text)}
	var out []map[string]*tree.Node
	err := table.Read(r, []byte(text), []string{"kind", "from", "read"}, func(named map[string]*tree.Node, value *tree.Node) {
		if len(value.Keys) != len(named) {
			t.Errorf("%d keys of %d cells", len(value.Keys), len(named))
		}
		out = append(out, named)
	})
	return r, out, err
}

func TestRowsComeWithTheirPlaces(t *testing.T) {
	r, got, err := rows(t, "\xef\xbb\xbfkind;from;;READ\n\ntie;Ä;x;\"23' 4 1/2\"\"\"\n;;;\ntie;B;;\n")
	if err != nil || len(r.Problems) > 0 || len(got) != 2 {
		t.Fatalf("%v, %v, %v", err, r.Problems, got)
	}
	if n := got[0]["read"]; n.Text != `23' 4 1/2"` || n.Line != 3 || n.Column != 9 {
		t.Errorf("%+v", n)
	}
	if got[1]["read"] != nil || got[1]["from"].Line != 5 {
		t.Errorf("%+v", got[1])
	}
}

func TestWhatIsWrongInATable(t *testing.T) {
	for _, c := range []struct {
		text, words string
		rows        int
	}{
		{"", "a first row", 0},
		{"from,read\nA,3\n", "a column named kind", 0},
		{"kind,form\ntie,A\n", `Did you mean "from"`, 1},
		{"kind,from,from\ntie,A,B\n", "each column once", 1},
		{"kind,from\ntie,A,B\n", "at most 2 cells", 1},
	} {
		r, got, err := rows(t, c.text)
		if err != nil || len(r.Problems) != 1 || !strings.Contains(r.Problems[0].Error(), c.words) || len(got) != c.rows {
			t.Errorf("%q: %v, %v, %d rows", c.text, err, r.Problems, len(got))
		}
	}
	for _, text := range []string{"kind\n\xff\n"} {
		if _, _, err := rows(t, text); err == nil {
			t.Errorf("%q is not refused", text)
		}
	}
}

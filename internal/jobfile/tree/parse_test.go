package tree_test

import (
	"strings"
	"testing"

	"undersod/core/site"
	"undersod/internal/jobfile/tree"
)

// told writes a tree without its places.
func told(n *tree.Node) string {
	switch n.Form {
	case tree.List:
		var parts []string
		for _, item := range n.Items {
			parts = append(parts, told(item))
		}
		return "[" + strings.Join(parts, " ") + "]"
	case tree.Dict:
		var parts []string
		for i, k := range n.Keys {
			parts = append(parts, told(k)+"="+told(n.Items[i]))
		}
		return "{" + strings.Join(parts, " ") + "}"
	}
	if n.Null {
		return "nothing"
	}
	return n.Text
}

func TestYAMLAndJSONMakeTheSameTree(t *testing.T) {
	for _, c := range []struct{ yaml, json, want string }{
		{"a: [1, two, null]\n", `{"a": [1, "two", null]}`, "{a=[1 two nothing]}"},
		{"a: {b: true}\nc: 0.50\n", `{"a": {"b": true}, "c": 0.50}`, "{a={b=true} c=0.50}"},
		{"a:\n  - x\n", "{\n\t\"a\": [\"x\"]}", "{a=[x]}"},
	} {
		for _, text := range []string{c.yaml, c.json} {
			root, extra, err := tree.Parse("job", []byte(text))
			if err != nil || extra != 0 {
				t.Fatalf("%q: %v, extra %d", text, err, extra)
			}
			if got := told(root); got != c.want {
				t.Errorf("%q makes %s, want %s", text, got, c.want)
			}
		}
	}
}

// FuzzParse holds every answer to a tree whose groups have as many keys as
// values, or to an error that helps.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"a: [1, {b: c}]\n", `{"a": [1, {"b": "c"}]}`, "{", "a: *a", "? [a]\n: b\n", "\ufeff{}", "--- a\n--- b\n"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		root, _, err := tree.Parse("job", []byte(text))
		if err != nil {
			if p, ok := err.(site.Problem); !ok || p.Expected == "" && p.Advice == "" {
				t.Fatalf("no help: %v", err)
			}
			return
		}
		whole(t, root)
	})
}

func whole(t *testing.T, n *tree.Node) {
	t.Helper()
	if n.Form == tree.Dict && len(n.Keys) != len(n.Items) {
		t.Fatalf("%d keys and %d values", len(n.Keys), len(n.Items))
	}
	for _, k := range n.Keys {
		whole(t, k)
	}
	for _, item := range n.Items {
		whole(t, item)
	}
}

package fields_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"undersod/internal/archive"
	"undersod/internal/archive/fields"
)

var _ archive.Compare = fields.Compare

func TestCompare(t *testing.T) {
	for _, c := range []struct{ name, before, after, want string }{
		{"the same", "a: 1", "a: 1", ""},
		{"a comment", "a: 1", "# why\na:   1", ""},
		{"YAML and JSON", "a: 1\nb: [x, 2]\n", `{"b": ["x", 2], "a": 1}`, ""},
		{"a value", "tie: 31' 9\"", "tie: 31.9 ft", `/tie: "31' 9\"" -> "31.9 ft"`},
		{"a number", "a: 1", "a: 2", "/a: 1 -> 2"},
		{"number and text", "a: 1", `a: "1"`, `/a: 1 -> "1"`},
		{"nothing written", "a:", "a: 0", "/a: null -> 0"},
		{"a key that came and one that went", "a: 1\nb: 2", "b: 2\nc: [1]", "/c:  -> [1]; /a: 1 -> "},
		{"deep", "site: {owner: {name: A}}", "site: {owner: {name: B}}", `/site/owner/name: "A" -> "B"`},
		{"signs in keys", "a/b: 1\nc~d: 1", "a/b: 2\nc~d: 2", "/a~1b: 1 -> 2; /c~0d: 1 -> 2"},
		{"put in at the top", "r: [a, b, c]", "r: [x, a, b, c]", `/r/0:  -> "x"`},
		{"taken out of the middle", "r: [a, b, c]", "r: [a, c]", `/r/1: "b" -> `},
		{"changed and put in", "r: [a, b, c]", "r: [a, x, c, d]", `/r/1: "b" -> "x"; /r/3:  -> "d"`},
		{"in another order", "r: [a, b]", "r: [b, a]", `/r/0: "a" -> ; /r/1:  -> "a"`},
		{"a key twice", "a: 1\na: 2", "a: 1\na: 3", "/a (2): 2 -> 3"},
		{"a key three times and one like it", "a (2): 1\na: 1\na: 2\na: 3", "a (2): 1\na: 1\na: 2\na: 4", "/a (4): 3 -> 4"},
		{"within an entry of a list", "r: [{a: 1, b: 1}, z]", "r: [y, {a: 1, b: 2}, z]", `/r/0: {"a":1,"b":1} -> "y"; /r/1:  -> {"a":1,"b":2}`},
		{"another kind", "a: [1]", "a: {b: 1}", `/a: [1] -> {"b":1}`},
		{"the outermost", "[1]", "a: 1", `: [1] -> {"a":1}`},
		{"not to be read", "a: 1", "a: [", `: "a file of 4 bytes" -> "a file of 4 bytes that cannot be read"`},
		{"no text", "a: 1", "\xff\x00", `: "a file of 4 bytes" -> "a file of 2 bytes that cannot be read"`},
		{"a long text", "a: 1", "a: " + strings.Repeat("x", 5000), `/a: 1 -> "a text of 5000 bytes"`},
		{"a long list", "a: 1", "a: [" + strings.Repeat("xy, ", 2000) + "z]", `/a: 1 -> "a list of 2001 entries"`},
		{"letters of everywhere", "a: é", "a: <根>", `/a: "é" -> "<根>"`},
		{"no number in JSON", "a: 0x1f", "a: .5", `/a: "0x1f" -> ".5"`},
	} {
		found, all := fields.Compare([]byte(c.before), []byte(c.after), 100)
		var got []string
		for _, f := range found {
			got = append(got, fmt.Sprintf("%s: %s -> %s", f.Pointer, f.Before, f.After))
		}
		if s := strings.Join(got, "; "); s != c.want || all != len(found) {
			t.Errorf("%s:\n got %s (%d in all)\nwant %s", c.name, s, all, c.want)
		}
	}
}

func TestMostAreKept(t *testing.T) {
	var before, after strings.Builder
	for i := range 1000 {
		fmt.Fprintf(&before, "k%d: 1\n", i)
		fmt.Fprintf(&after, "k%d: 2\n", i)
	}
	for _, most := range []int{0, 1, 200, 5000} {
		found, all := fields.Compare([]byte(before.String()), []byte(after.String()), most)
		if len(found) != min(most, 1000) || all != 1000 {
			t.Errorf("at most %d: %d are kept of %d", most, len(found), all)
		}
	}
}

func TestLargeFilesAreComparedSoon(t *testing.T) {
	list := func(n int, of string) []byte { return []byte("[" + strings.Repeat(of+", ", n) + "0]") }
	start := time.Now()
	_, all := fields.Compare(list(100_000, "1"), list(100_000, "2"), 200)
	if all != 100_000 {
		t.Errorf("%d entries differ, want 100,000", all)
	}
	deep := strings.Repeat("[", 200_000)
	if found, _ := fields.Compare([]byte(deep), []byte("a: 1"), 5); len(found) != 1 || found[0].Pointer != "" {
		t.Errorf("a file of nothing but brackets: %v", found)
	}
	if took := time.Since(start); took > time.Minute {
		t.Errorf("it took %v", took)
	}
}

// FuzzCompare holds that a file differs from itself in nothing, that every
// value is JSON, and that what came one way goes the other way.
func FuzzCompare(f *testing.F) {
	f.Add([]byte("a: 1\nb: [x, y]"), []byte(`{"a": 2, "b": ["y"]}`))
	f.Add([]byte("a: &x [1]\nb: *x"), []byte("? [k]\n: v\n? [k]\n: w"))
	f.Add([]byte("a: [\n"), []byte("\xff"))
	f.Add([]byte(""), []byte("---\na: 1\n---\nb: 2"))
	f.Add([]byte("a: 1\na: 2\n<<: {b: 1}"), []byte("!!binary x"))
	f.Fuzz(func(t *testing.T, before, after []byte) {
		if found, all := fields.Compare(before, before, 10); len(found) > 0 || all > 0 {
			t.Errorf("a file differs from itself: %v", found)
		}
		found, all := fields.Compare(before, after, 50)
		back, allBack := fields.Compare(after, before, 50)
		if (all == 0) != (allBack == 0) || len(found) > 50 || len(found) > all || len(back) > allBack {
			t.Errorf("%d of %d differences one way, %d of %d the other", len(found), all, len(back), allBack)
		}
		for _, d := range found {
			for _, v := range []string{d.Before, d.After} {
				if v != "" && !json.Valid([]byte(v)) {
					t.Errorf("at %q, %q is no JSON", d.Pointer, v)
				}
			}
			if d.Pointer != "" && d.Pointer[0] != '/' {
				t.Errorf("%q is no JSON pointer", d.Pointer)
			}
		}
	})
}

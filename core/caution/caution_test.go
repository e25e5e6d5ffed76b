package caution_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"undersod/core/caution"
)

// number finds a number in words; one that is the name of a service counts too.
var number = regexp.MustCompile(`\d`)

func TestCautionsAreShortAndSourced(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range caution.All() {
		if n := utf8.RuneCountInString(c.Words); n < 20 || n >= 200 {
			t.Errorf("%d characters: %s", n, c.Words)
		}
		if !strings.HasSuffix(c.Words, ".") || strings.Contains(c.Words, "  ") {
			t.Errorf("not a sentence: %q", c.Words)
		}
		if c.Source == "" {
			t.Errorf("no source: %s", c.Words)
		}
		loose := c.Source == "common practice, no source" || c.Source == "from memory"
		if number.MatchString(c.Words) && loose {
			t.Errorf("a number without a source: %s", c.Words)
		}
		if seen[c.Words] {
			t.Errorf("twice: %s", c.Words)
		}
		seen[c.Words] = true
	}
}

// wheres returns the declared values of Where, read from the source, so that a
// new one cannot be forgotten.
func wheres(t *testing.T) []caution.Where {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "caution.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var out []caution.Where
	ast.Inspect(file, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok {
			return true
		}
		if kind, ok := spec.Type.(*ast.Ident); ok && kind.Name == "Where" {
			text, err := strconv.Unquote(spec.Values[0].(*ast.BasicLit).Value)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, caution.Where(text))
		}
		return true
	})
	return out
}

func TestEveryPlaceHasACaution(t *testing.T) {
	all := wheres(t)
	if len(all) != len(caution.Places()) || len(all) < 7 {
		t.Fatalf("%d places are declared, %d listed", len(all), len(caution.Places()))
	}
	sum := 0
	for i, w := range all {
		if caution.Places()[i] != w {
			t.Errorf("place %d is %q, declared %q", i, caution.Places()[i], w)
		}
		some := caution.For(w)
		if len(some) == 0 {
			t.Errorf("%s has no caution", w)
		}
		for _, c := range some {
			if c.Where != w {
				t.Errorf("asked for %s, got %+v", w, c)
			}
		}
		sum += len(some)
	}
	if sum != len(caution.All()) {
		t.Errorf("%d cautions by place, %d in all", sum, len(caution.All()))
	}
}

func TestForTakesEachOnceInTheOrderOfTheWork(t *testing.T) {
	got := caution.For(caution.Well, caution.Digging, caution.Digging)
	if want := len(caution.For(caution.Well)) + len(caution.For(caution.Digging)); len(got) != want {
		t.Errorf("%d cautions, want %d", len(got), want)
	}
	if got[0].Where != caution.Digging || got[len(got)-1].Where != caution.Well {
		t.Errorf("out of order: %+v", got)
	}
	if len(caution.For()) != 0 || len(caution.For("the moon")) != 0 {
		t.Error("cautions for nothing")
	}
	got[0].Words = "changed"
	if caution.All()[0].Words == "changed" {
		t.Error("a caller changed a caution")
	}
}

// What must never be missing, with the numbers of the sources: 29 CFR
// 1926.652(a)(1) 5 ft, spoil 2 ft, 1926.651(c)(2) 4 ft and 25 ft; 29 CFR
// 1910.1000 Table Z-2 ceiling 20 ppm and 100 ppm immediately dangerous; WAC
// 296-155-20301 oxygen 19.5 %.
func TestWhatMustNotBeMissing(t *testing.T) {
	for where, words := range map[caution.Where][]string{
		caution.Digging:  {"Call before you dig", "private lines", "by hand"},
		caution.OpenTank: {"Never enter", "never lean in", "never work alone", "No flame", "do not go after them", "20 ppm", "100 ppm", "19.5 %", "Children"},
		caution.Trench:   {"5 ft deep", "2 ft back", "4 ft deep", "25 ft"},
		caution.Pump:     {"lock it", "live wires"},
		caution.Camera:   {"Gloves", "Wash"},
		caution.Well:     {"well"},
	} {
		var all string
		for _, c := range caution.For(where) {
			all += c.Words + " "
		}
		for _, w := range words {
			if !strings.Contains(all, w) {
				t.Errorf("%s: nothing says %q", where, w)
			}
		}
	}
}

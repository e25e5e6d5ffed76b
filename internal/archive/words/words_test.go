package words_test

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"undersod/internal/archive/words"
)

func TestIndex(t *testing.T) {
	for _, c := range []struct {
		text string
		want string
	}{
		{"", ""},
		{" -- ' ", ""},
		{"18 Quarry Hollow Lane", "18 quarry hollow lane"},
		{"T-1996-0412", "t 1996 0412 t19960412"},
		{"T--1996", "t 1996"},
		{"-T-", "t"},
		{"O'Hara O’Hara", "o hara ohara"},
		{"Señor Müller, Žižek", "senor muller zizek"},
		{"Straße ÆRØ Łódź İstanbul ısı", "strasse aero lodz istanbul isi"},
		{"4½ m²", "41 2 m2"},
		{"ﬁne ＲＯＯＴＳ", "fine roots"},
		{"дуб ДУБ", "дуб"},
		{"老橡树", "老橡树"},
		{"a\x00b\xffc", "a b c"},
		{"root🌳mass", "root mass"},
	} {
		if got := strings.Join(words.Index(c.text), " "); got != c.want {
			t.Errorf("Index(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}

func TestMatch(t *testing.T) {
	text := "18 Quarry Hollow Lane, permit T-1996-0412, O'Hara"
	for asked, want := range map[string]bool{
		"":               true,
		"quar LANE":      true,
		"lane quarry":    true,
		"uarry":          false,
		"T-1996-0412":    true,
		"t19960412":      true,
		"T1996":          true,
		"0412":           true,
		"1996-04":        true,
		"ohara":          true,
		"O'Hara":         true,
		"hara quarry 19": true,
		"quarry 19999":   false,
		"***":            true,
	} {
		if got := words.Match(words.Index(text), words.Asked(asked)); got != want {
			t.Errorf("%q finds %v, want %v", asked, got, want)
		}
	}
}

func TestLongWordsAndManyWords(t *testing.T) {
	long := strings.Repeat("é", 100_000)
	index := words.Index(long)
	if len(index) != 1 || utf8.RuneCountInString(index[0]) != words.Longest {
		t.Fatalf("a word of 100,000 letters is indexed as %d words", len(index))
	}
	if !words.Match(index, words.Asked(long)) {
		t.Error("a long word does not find itself")
	}
	var many []string
	for i := range 100 {
		many = append(many, strings.Repeat("x", i+1))
	}
	if n := len(words.Asked(strings.Join(many, " "))); n != words.MostAsked {
		t.Errorf("%d words are asked for, want %d", n, words.MostAsked)
	}
}

func FuzzWords(f *testing.F) {
	for _, s := range []string{"", "T-1996-0412", "O’Hara", "Ærø", "\xff\x00", "a-" + strings.Repeat("b", 80)} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		index := words.Index(text)
		if asked := words.Asked(text); !words.Match(index, asked) {
			t.Errorf("%q does not find itself: %q in %q", text, asked, index)
		}
		again := words.Index(strings.Join(index, " "))
		if !slices.Equal(again, index) {
			t.Errorf("the words of %q are not stable: %q, then %q", text, index, again)
		}
	})
}

package jobfile

import (
	"os"
	"strings"
	"testing"
)

// TestDocumentationNamesEveryKeyAndWord holds the documentation to the keys and
// words that are read.
func TestDocumentationNamesEveryKeyAndWord(t *testing.T) {
	data, err := os.ReadFile("../../docs/jobfile.md")
	if err != nil {
		t.Fatal(err)
	}
	doc := strings.Join(strings.Fields(string(data)), " ")
	named := func(word string) bool {
		return strings.Contains(doc, "`"+word+"`") || strings.Contains(doc, word+": ") || strings.Contains(doc, "### "+word) || strings.Contains(doc, ", "+word+" #")
	}
	for group, keys := range keyTable {
		for _, k := range keys {
			if !named(k) {
				t.Errorf("docs/jobfile.md does not name the key %q of %s", k, group)
			}
		}
	}
	for _, list := range [][]string{instrumentKinds(), partKinds(), lineKinds(), featureKinds(), proposedKinds(), rodFeet(),
		findingKinds(), runEnds(), grades(), walls(), bareForms(), lengthForms(), papers()} {
		for _, w := range list {
			if !strings.Contains(doc, "`"+w+"`") {
				t.Errorf("docs/jobfile.md does not name the word %q", w)
			}
		}
	}
}

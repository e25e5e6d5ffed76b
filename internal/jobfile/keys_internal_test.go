package jobfile

import (
	"encoding/json"
	"slices"
	"sort"
	"strings"
	"testing"

	"undersod/core/site"
	"undersod/docs/schema"
)

// definition is as much of a JSON Schema as lists keys and words.
type definition struct {
	Properties map[string]json.RawMessage `json:"properties"`
}

func published(t *testing.T) map[string]definition {
	t.Helper()
	var s struct {
		Defs map[string]definition `json:"$defs"`
	}
	if err := json.Unmarshal(schema.Job(), &s); err != nil {
		t.Fatal(err)
	}
	return s.Defs
}

func TestSchemaListsTheSameKeys(t *testing.T) {
	defs := published(t)
	for group, keys := range keyTable {
		def, ok := defs[strings.ReplaceAll(group, " ", "-")]
		if !ok {
			t.Errorf("the schema has no definition of %s", group)
			continue
		}
		var listed []string
		for k := range def.Properties {
			listed = append(listed, k)
		}
		sort.Strings(listed)
		want := slices.Sorted(slices.Values(keys))
		if !slices.Equal(listed, want) {
			t.Errorf("%s: the schema lists %v, the reader knows %v", group, listed, want)
		}
	}
}

func TestSchemaListsTheSameWords(t *testing.T) {
	defs := published(t)
	for _, c := range []struct {
		group, key string
		words      []string
	}{
		{"job", "bare", bareForms()},
		{"show", "lengths", lengthForms()},
		{"show", "fraction", fractions()},
		{"show", "paper", papers()},
		{"instrument", "kind", instrumentKinds()},
		{"part", "kind", partKinds()},
		{"line", "kind", lineKinds()},
		{"feature", "kind", featureKinds()},
		{"proposed", "kind", proposedKinds()},
		{"setback", "from", site.SetbackThings()},
		{"camera-run", "ended", runEnds()},
		{"finding", "what", findingKinds()},
		{"finding", "grade", grades()},
		{"outlet", "wall", walls()},
		{"inlet", "wall", walls()},
	} {
		var v struct {
			Enum []string `json:"enum"`
		}
		if err := json.Unmarshal(defs[c.group].Properties[c.key], &v); err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(v.Enum, c.words) {
			t.Errorf("%s of %s: the schema lists %v, the reader knows %v", c.key, c.group, v.Enum, c.words)
		}
	}
}

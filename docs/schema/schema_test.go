package schema_test

import (
	"bytes"
	"testing"

	"undersod/docs/schema"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// TestSchemasAreValid compiles every schema, which holds it against the draft's
// own.
func TestSchemasAreValid(t *testing.T) {
	for _, name := range schema.Names() {
		text, ok := schema.ByName(name)
		if !ok {
			t.Errorf("there is no schema %s", name)
			continue
		}
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		c := jsonschema.NewCompiler()
		c.AssertFormat()
		if err := c.AddResource(name, doc); err != nil {
			t.Fatal(err)
		}
		if _, err := c.Compile(name); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, ok := schema.ByName("none"); ok {
		t.Error("a schema that is not there was found")
	}
}

func TestJobReturnsACopy(t *testing.T) {
	schema.Job()[0] = 'x'
	if schema.Job()[0] != '{' {
		t.Error("a caller changed the published schema")
	}
}

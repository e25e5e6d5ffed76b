package schema_test

import (
	"bytes"
	"testing"

	"undersod/docs/schema"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

func TestSchemaIsValid(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema.Job()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("job.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	// Compiling checks the schema against the draft's own.
	if _, err := c.Compile("job.schema.json"); err != nil {
		t.Fatal(err)
	}
}

func TestJobReturnsACopy(t *testing.T) {
	schema.Job()[0] = 'x'
	if schema.Job()[0] != '{' {
		t.Error("a caller changed the published schema")
	}
}

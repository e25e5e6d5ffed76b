package schema

import _ "embed"

//go:embed rules.schema.json
var rules []byte

// Rules returns the JSON Schema (draft 2020-12) of a rule pack, a copy of its
// text.
func Rules() []byte { return append([]byte(nil), rules...) }

// Package schema holds the published JSON Schemas of the job file and of what
// check --json prints.
package schema

import _ "embed"

//go:embed job.schema.json
var job []byte

// Job returns the JSON Schema (draft 2020-12) of the job file, a copy of its
// text.
func Job() []byte { return append([]byte(nil), job...) }

//go:embed check.schema.json
var check []byte

// Check returns the JSON Schema (draft 2020-12) of what check --json prints, a
// copy of its text.
func Check() []byte { return append([]byte(nil), check...) }

// Package schema holds the published JSON Schema of the job file.
package schema

import _ "embed"

//go:embed job.schema.json
var job []byte

// Job returns the JSON Schema (draft 2020-12) of the job file, a copy of its
// text.
func Job() []byte { return append([]byte(nil), job...) }

// Package schema holds the published JSON Schemas of the job file and of what
// the commands print with --json.
package schema

import "embed"

//go:embed *.schema.json
var files embed.FS

// Names lists the schemas, as job, in the order of their use.
func Names() []string {
	return []string{"job", "check", "split", "report", "card", "setbacks", "fit", "checklist", "compare", "bundle", "archive", "rules", "packs"}
}

// ByName returns a JSON Schema (draft 2020-12), false for a name not known.
func ByName(name string) ([]byte, bool) {
	text, err := files.ReadFile(name + ".schema.json")
	return text, err == nil
}

// Job returns the JSON Schema of the job file.
func Job() []byte { return must("job") }

// Check returns the JSON Schema of what check --json prints.
func Check() []byte { return must("check") }

// must reads a schema that is embedded for certain; a test holds that every
// name has one.
func must(name string) []byte {
	text, _ := ByName(name)
	return text
}

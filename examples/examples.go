// Package examples holds the invented jobs that the program ships: the demo and
// jobs of other kinds and quality. No place or person in them is real.
package examples

import (
	"embed"
	"io/fs"
)

// Files holds every example job.
//
//go:embed *.yaml
var Files embed.FS

// Demo returns the demo's job file.
func Demo() []byte {
	data, err := Files.ReadFile("quarry-hollow.yaml")
	if err != nil {
		panic("the demo job is missing from the build")
	}
	return data
}

//go:embed quarry-hollow.yaml photos/*.jpg
var demo embed.FS

// DemoFiles returns the demo's job file, quarry-hollow.yaml, with the pictures
// that it names, as a folder that it may be opened in.
func DemoFiles() fs.FS { return demo }

// Package keeping is the commands that keep an archive: serve, backup, restore,
// verify, export and import.
package keeping

import (
	"io"

	"github.com/spf13/cobra"
)

// Outside is what the commands touch of the outside, and what the command line
// says of it in its own words. Every field must be set.
type Outside struct {
	Err        io.Writer
	Notes      bool                                // Err is a terminal: tell of progress
	Write      func([]byte) error                  // to the output
	Complain   func(format string, args ...any)    // a line on the error output
	Encode     func(document any) ([]byte, error)  // as JSON
	Found      func()                              // ends the program with the status of a check that found something
	PathWords  func(name string, err error) string // why a file could not be read
	WriteWords func(name string, err error) string // why a file could not be written
	// Photos lists the pictures that a job file names, each once. It is an error
	// where nothing in the file can be read as a job.
	Photos func(name string) ([]string, error)
}

// Commands returns the commands. Their errors are for a person as they stand.
func Commands(p *Outside) []*cobra.Command {
	return []*cobra.Command{p.serveCommand(), p.backupCommand(), p.restoreCommand(), p.verifyCommand(), p.exportCommand(), p.importCommand()}
}

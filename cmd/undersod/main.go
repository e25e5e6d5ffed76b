// Command undersod turns the tape readings of a septic system into a trusted
// record drawing. Run it without arguments for help.
package main

import (
	"io/fs"
	"os"

	"undersod/internal/cli"
)

func main() {
	p := &cli.Program{
		In: os.Stdin, Out: os.Stdout, Err: os.Stderr,
		Colour: terminal(os.Stdout) && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb",
		Notes:  terminal(os.Stderr),
	}
	os.Exit(p.Run(os.Args[1:]))
}

// terminal tells whether a file is a terminal.
func terminal(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&fs.ModeCharDevice != 0
}

package cli_test

import (
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"undersod/internal/cli"
)

// undersod runs the program inside the test's own process.
func undersod() {
	p := &cli.Program{In: os.Stdin, Out: os.Stdout, Err: os.Stderr}
	os.Exit(p.Run(os.Args[1:]))
}

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"undersod": undersod})
}

// TestStories runs every story in testdata/script as a person would type it.
func TestStories(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata/script", RequireExplicitExec: true})
}

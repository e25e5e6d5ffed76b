package cli_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// build compiles the program once for the process benchmarks.
func build(b *testing.B) (program, job string) {
	b.Helper()
	program = filepath.Join(b.TempDir(), "undersod")
	if out, err := exec.Command("go", "build", "-trimpath", "-o", program, "undersod/cmd/undersod").CombinedOutput(); err != nil {
		b.Fatalf("%v: %s", err, out)
	}
	job, err := filepath.Abs("../../examples/quarry-hollow.yaml")
	if err != nil {
		b.Fatal(err)
	}
	return program, job
}

func run(b *testing.B, program string, args ...string) {
	b.Helper()
	for b.Loop() {
		cmd := exec.Command(program, args...)
		if err := cmd.Run(); err != nil && cmd.ProcessState.ExitCode() > 1 {
			b.Fatal(err)
		}
	}
}

// BenchmarkProcessCheck is the check of the demo as a process, start to end.
func BenchmarkProcessCheck(b *testing.B) {
	program, job := build(b)
	run(b, program, "check", job)
}

// BenchmarkProcessDrawPDF is the demo from its file to its PDF as a process.
func BenchmarkProcessDrawPDF(b *testing.B) {
	program, job := build(b)
	run(b, program, "draw", job, "-o", filepath.Join(b.TempDir(), "sheet.pdf"))
	if _, err := os.Stat(job); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkProcessHelp is the start of the process alone.
func BenchmarkProcessHelp(b *testing.B) {
	program, _ := build(b)
	run(b, program, "--help")
}

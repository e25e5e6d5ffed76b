//go:build unix

package cli_test

import (
	"os/exec"
	"syscall"
	"testing"
)

// measured runs the program and returns the largest memory it held, in
// kilobytes as Linux counts it.
func measured(b *testing.B, program string, args ...string) int {
	b.Helper()
	cmd := exec.Command(program, args...)
	if err := cmd.Run(); err != nil && cmd.ProcessState.ExitCode() > 1 {
		b.Fatal(err)
	}
	if usage, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage); ok {
		return int(usage.Maxrss)
	}
	return 0
}

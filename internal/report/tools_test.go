package report_test

import (
	"os"
	"os/exec"
	"testing"
)

// tool returns the path of a program that reads a file back. Where it is not
// installed the test is skipped, or fails if UNDERSOD_REQUIRE_TOOLS is 1.
func tool(t *testing.T, name, packageName string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		missing(t, name, packageName)
	}
	return path
}

func missing(t *testing.T, name, packageName string) {
	t.Helper()
	const word = "%s is not installed (Debian package %s); the check that reads the file back with it did not run"
	if os.Getenv("UNDERSOD_REQUIRE_TOOLS") == "1" {
		t.Fatalf(word, name, packageName)
	}
	t.Skipf(word, name, packageName)
}

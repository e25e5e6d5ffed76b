package keeping_test

import (
	"database/sql"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"undersod/internal/cli"
)

// TestMendCuresWhatSearchesLookAt damages a word of the index, which is found,
// told with its cure, and cured by it.
func TestMendCuresWhatSearchesLookAt(t *testing.T) {
	dir := t.TempDir()
	job, data := filepath.Join(dir, "job.yaml"), filepath.Join(dir, "archive")
	if err := os.WriteFile(job, []byte("undersod: 1\nsite: {name: 3 Barrow Lane}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	run(t, cli.ExitDone, "import", job, "--data", data)
	db, err := sql.Open("sqlite", filepath.Join(data, "archive.db"))
	if err != nil {
		t.Fatal(err)
	}
	_, err = db.Exec("UPDATE search_data SET block = CAST(replace(CAST(block AS TEXT), 'barro', 'carro') AS BLOB) WHERE id > 10")
	if failed := db.Close(); err != nil || failed != nil {
		t.Fatal(err, failed)
	}
	if out := run(t, cli.ExitFound, "verify", "--json", "--data", data); !strings.Contains(out, "run verify --mend") {
		t.Errorf("the check says %s", out)
	}
	run(t, cli.ExitDone, "verify", "--mend", "--data", data)
	run(t, cli.ExitDone, "verify", "--data", data)
	run(t, cli.ExitDone, "export", "barrow", "-o", filepath.Join(dir, "site.zip"), "--data", data)
}

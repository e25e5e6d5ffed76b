package keeping_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"undersod/docs/schema"
	"undersod/internal/cli"
)

// published compiles the schema of what the commands print.
func published(t *testing.T) *jsonschema.Schema {
	t.Helper()
	text, ok := schema.ByName("archive")
	if !ok {
		t.Fatal("the schema is missing")
	}
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("archive", document); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("archive")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestDocumentsAreAsPublished holds what every command prints with --json
// against the schema, in good order and with damage.
func TestDocumentsAreAsPublished(t *testing.T) {
	s, dir := published(t), t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	job := in("job.yaml")
	if err := os.WriteFile(job, []byte("undersod: 1\nsite: {name: 3 Barrow Lane}\nphotos: [photos/none.jpg]\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	holds := func(want int, args ...string) {
		t.Helper()
		out := run(t, want, append(args, "--json")...)
		document, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
		if err == nil {
			err = s.Validate(document)
		}
		if err != nil {
			t.Errorf("%s: %v\n%s", args[0], err, out)
		}
		if !strings.Contains(out, `"did": "`+args[0]+`"`) || (want == cli.ExitDone) != strings.Contains(out, `"trouble": []`) {
			t.Errorf("%s: %s", args[0], out)
		}
	}
	holds(cli.ExitFound, "import", job, "--data", in("archive"))
	holds(cli.ExitDone, "export", "barrow", "-o", in("site.zip"), "--data", in("archive"))
	holds(cli.ExitDone, "import", in("site.zip"), "--data", in("second"))
	holds(cli.ExitDone, "backup", in("copy"), "--data", in("archive"))
	holds(cli.ExitDone, "restore", in("copy"), "--data", in("back"))
	holds(cli.ExitDone, "verify", "--data", in("back"))
	contents, err := filepath.Glob(in("archive/contents/*/*"))
	if err != nil || len(contents) != 1 {
		t.Fatalf("%d contents, %v", len(contents), err)
	}
	if err := os.WriteFile(contents[0], []byte("undersod: 2\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	holds(cli.ExitFound, "verify", "--data", in("archive"))
	holds(cli.ExitFound, "backup", in("half"), "--data", in("archive"))
	holds(cli.ExitFound, "restore", in("half"), "--data", in("halfback"))
}

// TestProgressIsToldToAPersonAlone runs what is quick: nothing is told of how
// far it came, whoever waits.
func TestProgressIsToldToAPersonAlone(t *testing.T) {
	data := filepath.Join(t.TempDir(), "archive")
	job := filepath.Join(t.TempDir(), "job.yaml")
	if err := os.WriteFile(job, []byte("undersod: 1\nsite: {name: 3 Barrow Lane}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, notes := range []bool{false, true} {
		var out, errs bytes.Buffer
		p := &cli.Program{In: strings.NewReader(""), Out: &out, Err: &errs, Notes: notes}
		if status := p.Run([]string{"import", job, "--data", data}); status != cli.ExitDone || errs.Len() > 0 {
			t.Errorf("status %d: %q", status, errs.String())
		}
	}
}

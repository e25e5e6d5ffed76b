package bundle_test

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"undersod/docs/schema"
	"undersod/internal/archive"
	"undersod/internal/bundle"
)

func TestThereAndBack(t *testing.T) {
	data := bytesOf(t)
	b, err := open(data)
	if err != nil {
		t.Fatal(err)
	}
	want, s := made()
	want.Site.Heading.Latitude, want.Site.Heading.Longitude = nil, nil // made again from the jobs
	slices.Reverse(want.Visits)                                        // by date, the undated last
	slices.Reverse(want.Visits[0].Photos)
	if got, want := asJSON(t, b.Site), asJSON(t, want); got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
	for h, content := range s {
		got, err := b.Get(ctx, h)
		if err != nil || !bytes.Equal(got, content) {
			t.Errorf("%q is read as %q: %v", content, got, err)
		}
	}
	if _, err := b.Get(ctx, archive.HashOf([]byte("another"))); !errors.Is(err, archive.ErrNotFound) {
		t.Error(err)
	}
	// Written again it is the same, byte for byte.
	again, err := bundle.Bytes(ctx, b.Site, b)
	if err != nil || !bytes.Equal(again, data) {
		t.Errorf("written again it differs: %v", err)
	}
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// The same content in another order gives the same bytes.
func TestBytesAreTheSameForTheSameContent(t *testing.T) {
	site, s := made()
	slices.Reverse(site.Visits)
	slices.Reverse(site.Changes)
	data, err := bundle.Bytes(ctx, site, s)
	if err != nil || !bytes.Equal(data, bytesOf(t)) {
		t.Errorf("the bytes differ: %v", err)
	}
}

// Info-ZIP's unzip finds the archive sound and the files as they were.
func TestUnzipOpensIt(t *testing.T) {
	path, err := exec.LookPath("unzip")
	if err != nil {
		if os.Getenv("UNDERSOD_REQUIRE_TOOLS") == "1" {
			t.Fatal("unzip is not installed (Debian package unzip)")
		}
		t.Skip("unzip is not installed (Debian package unzip); the check that opens the bundle with it did not run")
	}
	dir := t.TempDir()
	file := filepath.Join(dir, "site.zip")
	if err := os.WriteFile(file, bytesOf(t), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(path, "-t", file).CombinedOutput(); err != nil {
		t.Fatalf("unzip -t: %v\n%s", err, out)
	}
	if out, err := exec.Command(path, "-q", file, "-d", dir).CombinedOutput(); err != nil {
		t.Fatalf("unzip: %v\n%s", err, out)
	}
	visit := filepath.Join(dir, "visits", "2026-05-14-"+string(id("2")))
	for name, want := range map[string]string{"job.yaml": "undersod: 1\nsite: {name: Ü}\n", "photos/box.jpg": "picture of a box"} {
		if got, err := os.ReadFile(filepath.Join(visit, name)); err != nil || string(got) != want {
			t.Errorf("%s: %q, %v", name, got, err)
		}
	}
}

func TestManifestKeepsItsSchema(t *testing.T) {
	text, ok := schema.ByName("bundle")
	if !ok {
		t.Fatal("no schema bundle")
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("bundle", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("bundle")
	if err != nil {
		t.Fatal(err)
	}
	manifest, err := jsonschema.UnmarshalJSON(bytes.NewReader(unpacked(t, bytesOf(t))[0].content))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(manifest); err != nil {
		t.Error(err)
	}
	manifest.(map[string]any)["more"] = true
	if s.Validate(manifest) == nil {
		t.Error("the schema takes what it does not know")
	}
}

// What is wrong with a bundle is told in words, and nothing is returned.
func TestRefused(t *testing.T) {
	manifest := func(old, new string) func([]entry) []entry {
		return func(e []entry) []entry {
			if !bytes.Contains(e[0].content, []byte(old)) {
				t.Fatalf("the manifest has no %q", old)
			}
			e[0].content = bytes.Replace(e[0].content, []byte(old), []byte(new), 1)
			return e
		}
	}
	add := func(name string, content string) func([]entry) []entry {
		return func(e []entry) []entry {
			return append(e, entry{zip.FileHeader{Name: name, Method: zip.Deflate}, []byte(content)})
		}
	}
	link := func(e []entry) []entry {
		f := entry{zip.FileHeader{Name: "link", Method: zip.Store}, []byte("/etc/passwd")}
		f.SetMode(fs.ModeSymlink | 0o777)
		return append(e, f)
	}
	for name, c := range map[string]struct {
		change func([]entry) []entry
		words  string
	}{
		"a newer version":     {manifest(`"version": 1`, `"version": 2`), "use a newer program"},
		"version 0":           {manifest(`"version": 1`, `"version": 0`), "there never was"},
		"another kind":        {manifest(`"site bundle"`, `"shopping list"`), "is of a \"shopping list\""},
		"an unknown field":    {manifest(`"kind"`, `"more": 1, "kind"`), "unknown field"},
		"no JSON":             {manifest(`{`, `[`), "cannot be read"},
		"no manifest":         {func(e []entry) []entry { return e[1:] }, "no manifest.json"},
		"a missing photo":     {func(e []entry) []entry { return append(e[:2:2], e[3:]...) }, "is missing"},
		"a changed photo":     {func(e []entry) []entry { e[2].content[0]++; return e }, "not what was exported"},
		"a longer photo":      {func(e []entry) []entry { e[2].content = append(e[2].content, 'x'); return e }, "manifest.json says 16"},
		"something else":      {add("readme.txt", "hello"), "readme.txt, which its manifest.json does not name"},
		"a way out":           {add("../evil.sh", "x"), "leads out of the bundle"},
		"a root":              {add("/etc/cron", "x"), "leads out of the bundle"},
		"a drive":             {add("C:evil", "x"), "leads out of the bundle"},
		"a backslash":         {add(`..\evil`, "x"), "leads out of the bundle"},
		"a device":            {add("visits/nul.txt", "x"), "leads out of the bundle"},
		"a link":              {link, "a link or a device"},
		"a name twice":        {add("manifest.json", "{}"), "two entries of one name"},
		"a name in capitals":  {add("MANIFEST.json", "{}"), "two entries of one name"},
		"a wrong ID":          {manifest(`"id": "abc`, `"id": "../`), "26 lower case letters and digits"},
		"another place":       {manifest("photos/box.jpg\",\n          \"file\": \"visits/", "photos/box.jpg\",\n          \"file\": \"history/"), "expected its own name"},
		"a time":              {manifest(`T09:00:07.250Z`, ` nine o'clock`), "expected one such as"},
		"a deed":              {manifest(`"altered"`, `"stolen"`), "nothing that a change does"},
		"changes in disorder": {manifest(`"number": 12`, `"number": 2`), "not in order"},
		"a size below zero":   {manifest(`"bytes": 16`, `"bytes": -1`), "at most"},
	} {
		b, err := open(packed(t, c.change(unpacked(t, bytesOf(t)))))
		if !errors.Is(err, bundle.ErrBundle) || b != nil || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%s: %v, want %q", name, err, c.words)
		}
	}
}

func TestTornAndLockedBundles(t *testing.T) {
	data := bytesOf(t)
	for n := 0; n < len(data); n += 1 + n/20 {
		if _, err := open(data[:n]); !errors.Is(err, bundle.ErrBundle) {
			t.Fatalf("cut at %d: %v", n, err)
		}
	}
	locked := bytes.Clone(data)
	at := bytes.LastIndex(locked, []byte("PK\x01\x02"))
	locked[at+8] |= 1
	if _, err := open(locked); !errors.Is(err, bundle.ErrBundle) || !strings.Contains(err.Error(), "password") {
		t.Error(err)
	}
}

// A zip bomb is refused by what it states, and one that lies is read no further
// than it states.
func TestZipBombs(t *testing.T) {
	zeros := make([]byte, 30<<20)
	e := unpacked(t, bytesOf(t))
	e[1].content = zeros
	data := packed(t, e)
	if len(data) > 100_000 {
		t.Fatalf("the bomb has %d bytes", len(data))
	}
	if _, err := open(data); !errors.Is(err, bundle.ErrBundle) {
		t.Error(err)
	}
	// 30 MB behind an honest manifest, but stated as 29 bytes.
	lying := bytes.Clone(data)
	at := bytes.Index(lying, []byte("PK\x01\x02"))
	at += 1 + bytes.Index(lying[at+1:], []byte("PK\x01\x02")) // the second entry
	copy(lying[at+24:at+28], []byte{29, 0, 0, 0})
	if _, err := open(lying); !errors.Is(err, bundle.ErrBundle) || !strings.Contains(err.Error(), "cannot be unpacked") {
		t.Error(err)
	}
}

func TestWhatCannotBeWritten(t *testing.T) {
	site, s := made()
	site.Visits[1].Photos[0].Name = "job.yaml"
	if _, err := bundle.Bytes(ctx, site, s); !errors.Is(err, bundle.ErrBundle) {
		t.Error(err)
	}
	site, s = made()
	delete(s, site.Visits[1].Photos[0].Content)
	if _, err := bundle.Bytes(ctx, site, s); !errors.Is(err, archive.ErrNotFound) || !strings.Contains(err.Error(), "pipe.jpg") {
		t.Error(err)
	}
	site, s = made()
	s[site.Visits[0].Job] = []byte("something else")
	if _, err := bundle.Bytes(ctx, site, s); !errors.Is(err, archive.ErrDamaged) {
		t.Error(err)
	}
	site, s = made()
	delete(s, site.Changes[0].After) // an earlier job that is no more
	data, err := bundle.Bytes(ctx, site, s)
	if err != nil {
		t.Fatal(err)
	}
	b, err := open(data)
	if err != nil || !reflect.DeepEqual(b.Changes, site.Changes) {
		t.Errorf("%v", err)
	}
}

func FuzzOpen(f *testing.F) {
	data := bytesOf(f)
	f.Add(data)
	f.Add(data[:len(data)/2])
	f.Add([]byte("PK\x05\x06" + strings.Repeat("\x00", 18)))
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := open(data)
		if err != nil {
			if !errors.Is(err, bundle.ErrBundle) || b != nil {
				t.Errorf("%v", err)
			}
			return
		}
		if _, err := bundle.Bytes(ctx, b.Site, b); err != nil {
			t.Errorf("what was read cannot be written: %v", err)
		}
	})
}

// FuzzManifest changes the manifest alone, behind a zip that stays sound.
func FuzzManifest(f *testing.F) {
	whole := unpacked(f, bytesOf(f))
	f.Add(whole[0].content)
	f.Add([]byte(`{"kind": "site bundle", "version": 1, "site": null, "visits": [null], "changes": [{}]}`))
	f.Fuzz(func(t *testing.T, manifest []byte) {
		e := slices.Clone(whole)
		e[0].content = manifest
		if _, err := open(packed(t, e)); err != nil && !errors.Is(err, bundle.ErrBundle) {
			t.Errorf("%v", err)
		}
	})
}

package web_test

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"undersod/internal/web"
)

// A browser walks the pages. What it needs is installed by the test command;
// where it is not there the test is skipped, but in the test command.
func TestABrowserWalksThePages(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser takes a while")
	}
	tools := map[string]string{}
	for _, tool := range []string{"node", "chromium"} {
		path, err := exec.LookPath(tool)
		if err == nil && tool == "node" {
			_, err = os.Stat(filepath.Join("browsertest", "node_modules", "playwright-core"))
		}
		if err != nil {
			if os.Getenv("UNDERSOD_REQUIRE_TOOLS") != "" {
				t.Fatalf("%s with the packages of browsertest is needed: %v", tool, err)
			}
			t.Skipf("%s with the packages of browsertest is not installed", tool)
		}
		tools[tool] = path
	}
	s := stocked(t)
	work := s.browserWork(t)
	work["chromium"], work["shots"] = tools["chromium"], os.Getenv("UNDERSOD_PAGE_PICTURES")
	work["first"] = bare(t, func(*web.Settings) {}).at.URL
	text, err := json.Marshal(work)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "work.json")
	if err := os.WriteFile(file, text, 0o600); err != nil {
		t.Fatal(err)
	}
	walk := exec.CommandContext(t.Context(), tools["node"], "walk.mjs", s.at.URL, file)
	walk.Dir = "browsertest"
	if out, err := walk.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
}

// browserWork brings in what there is to see, and lists the pages.
func (s stock) browserWork(t *testing.T) map[string]any {
	t.Helper()
	site, visit := s.fill.Replace("{site}"), s.fill.Replace("{visit}")
	out := s.keep(t, "?site="+site, "quarry-hollow-later.yaml")
	s.keep(t, "", "two-ties-and-a-fix.yaml") // it has a place on the Earth
	at := fmt.Sprintf("/visits/%s/", out["visit"])
	return map[string]any{
		"login": "owner", "password": password, "site": site, "name": "18 Quarry Hollow Lane", "near": "41.5021, -38.2500",
		"job": "/visits/" + visit + "/job",
		"tells": map[string]string{"fit-asked": "New structure, 24 x 16", "fit-wrong": "A number should stand here", "compare": "D-box moved", "history": "The visit was made",
			"setbacks": "What the authority wants on the drawing", "due": "18 Quarry Hollow Lane", "nowhere": "There is nothing here", "audit": "share made"},
		"pages": [][2]string{
			{"visit", "/visits/" + visit}, {"history", "/sites/" + site + "/history"}, {"setbacks", "/visits/" + visit + "/setbacks"}, {"fit", "/visits/" + visit + "/fit"},
			{"fit-asked", "/visits/" + visit + "/fit?kind=structure&length=24&width=16&near=House"}, {"fit-wrong", at + "fit?kind=structure&length=wide&width=16"},
			{"compare", at + "compare"}, {"job", at + "job"}, {"new-visit", "/visits/new?site=" + site}, {"new-site", "/visits/new"}, {"due", "/due?until=2040-01-01"},
			{"audit", "/audit"}, {"account", "/account"}, {"people", "/people"}, {"removed", "/sites?deleted=true"}, {"nowhere", "/nowhere"},
		},
	}
}

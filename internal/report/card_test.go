package report_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"undersod/core/card"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/render"
	"undersod/internal/report"
)

func makeCard(t *testing.T, in report.Input, c card.Card) sheet.Scene {
	t.Helper()
	s, err := report.Card(in, c)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// cardInput is what a card needs.
func cardInput(t *testing.T) report.Input {
	job, plan := yard(t, "quarry-hollow.yaml")
	return report.Input{Job: job, Plan: plan, Metrics: render.Metrics()}
}

func TestCardsHoldTheirPromises(t *testing.T) {
	in := cardInput(t)
	full := aCard(in.Plan)
	bare := card.Card{Part: "D-box"}
	doubt := full
	doubt.InDoubt, doubt.Depth = true, nil
	lost := full
	lost.Part = "no such part"
	long := full
	long.Part, long.Text = site.Name(strings.Repeat("Very long name ", 20)), strings.Repeat("x", 600)
	for i := range 30 {
		long.Words = append(long.Words, fmt.Sprintf("Step %d. %s", i, strings.Repeat("word ", 40)))
	}
	for name, c := range map[string]card.Card{"full": full, "bare": bare, "doubt": doubt, "lost": lost, "long": long} {
		for _, paper := range []string{"letter", "a4"} {
			in.Job.Show.Paper = paper
			s := makeCard(t, in, c)
			for _, b := range checkPage(s) {
				t.Errorf("%s on %s: %s", name, paper, b)
			}
		}
	}
	in.Plan, in.Job = nil, nil
	if bad := checkPage(makeCard(t, in, full)); len(bad) > 0 {
		t.Errorf("without a job or a plan: %v", bad)
	}
}

func TestCardIsSmallPaper(t *testing.T) {
	in := cardInput(t)
	for paper, size := range map[string][2]sheet.MM{"letter": {139.7, 215.9}, "a4": {105, 148}} {
		in.Job.Show.Paper = paper
		c := aCard(in.Plan)
		c.Words = c.Words[:2]
		if s := makeCard(t, in, c); s.Width != size[0] || s.Height != size[1] {
			t.Errorf("on %s the card is %v x %v, expected %v", paper, s.Width, s.Height, size)
		}
	}
}

// TestDemoCardsAreSmallPaper holds the cards that are really made of the
// demonstration to half of letter paper.
func TestDemoCardsAreSmallPaper(t *testing.T) {
	in := cardInput(t)
	for _, part := range []site.Name{"D-box", "Tank inlet lid", "Tank outlet lid"} {
		c, err := card.Make(in.Job, in.Plan, part)
		if err != nil {
			t.Fatal(err)
		}
		s := makeCard(t, in, c)
		if s.Width != 139.7 || s.Height != 215.9 {
			t.Errorf("the card of %s is %v x %v mm, expected half of letter paper", part, s.Width, s.Height)
		}
		for _, b := range checkPage(s) {
			t.Errorf("%s: %s", part, b)
		}
	}
}

func TestCardShowsItsDistancesLarge(t *testing.T) {
	in := cardInput(t)
	s := makeCard(t, in, aCard(in.Plan))
	for _, want := range []string{`20' 1 1/2"`, `39' 4"`, `52' 3 3/4"`} {
		if size := sizeOf(s, want); size < 5 {
			t.Errorf("%s is %v mm high, expected 5 or more", want, size)
		}
	}
}

func sizeOf(s sheet.Scene, text string) sheet.MM {
	for _, l := range s.Layers {
		for _, shape := range l.Shapes {
			if v, ok := shape.(sheet.Text); ok && v.Text == text {
				return v.Size
			}
		}
	}
	return 0
}

// TestCodeIsReadBack prints cards at 150 dots per inch and reads their codes
// with a general reader.
func TestCodeIsReadBack(t *testing.T) {
	zbar := tool(t, "zbarimg", "zbar-tools")
	in := cardInput(t)
	for i, text := range []string{aCard(in.Plan).Text, "A", strings.Repeat("D 20' 1 1/2\"; ", 42)} {
		for _, paper := range []string{"letter", "a4"} {
			in.Job.Show.Paper = paper
			c := aCard(in.Plan)
			c.Text = text
			var b bytes.Buffer
			if err := render.PNG(&b, makeCard(t, in, c), 150); err != nil {
				t.Fatal(err)
			}
			file := filepath.Join(t.TempDir(), "card.png")
			if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
				t.Fatal(err)
			}
			out, err := exec.Command(zbar, "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", file).Output()
			if err != nil || strings.TrimSuffix(string(out), "\n") != text {
				t.Errorf("code %d on %s reads %q, error %v; expected %q", i, paper, out, err, text)
			}
		}
	}
}

// TestCodeHasItsQuietZone holds the module and the quiet zone to ISO/IEC 18004
// (four modules; from memory) and to half a millimetre.
func TestCodeHasItsQuietZone(t *testing.T) {
	in := cardInput(t)
	for _, text := range []string{"A", strings.Repeat("x", 600)} {
		c := aCard(in.Plan)
		c.Text = text
		s := makeCard(t, in, c)
		var box *area
		least := unit.Metre.Metres()
		var texts []area
		for _, shape := range s.Layers[0].Shapes {
			switch v := shape.(type) {
			case sheet.Text:
				texts = append(texts, areaOf(v))
			case sheet.Path:
				if v.Name != "QR code" {
					continue
				}
				box = &area{x0: 1e9, y0: 1e9}
				for _, r := range v.Runs {
					far := r.Pieces[1].To
					least = min(least*1e3, float64(far.Y-r.Start.Y)*1e3) / 1e3
					box.x0, box.y0 = min(box.x0, r.Start.X), min(box.y0, r.Start.Y)
					box.x1, box.y1 = max(box.x1, far.X), max(box.y1, far.Y)
				}
			}
		}
		if box == nil || least < 0.5-1e-9 {
			t.Fatalf("code %v, its module %v mm; expected one of 0.5 mm or more", box, least)
		}
		quiet := sheet.MM(4*least) - 1e-6
		for _, x := range texts {
			if x.x0 < box.x1+quiet && box.x0-quiet < x.x1 && x.y0 < box.y1+quiet && box.y0-quiet < x.y1 {
				t.Errorf("%q stands in the quiet zone of the code", x.text)
			}
		}
	}
}

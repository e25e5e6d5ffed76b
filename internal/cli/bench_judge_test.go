//go:build unix

package cli_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// BenchmarkProcessReport is the demo from its file to both reports and the
// calendar as a process.
func BenchmarkProcessReport(b *testing.B) {
	program, job := build(b)
	out := b.TempDir()
	run(b, program, "report", job, "--owner", filepath.Join(out, "o.pdf"), "--county", filepath.Join(out, "c.pdf"),
		"--calendar", filepath.Join(out, "r.ics"))
}

// BenchmarkProcessSplit is the split of the demo's box as a process.
func BenchmarkProcessSplit(b *testing.B) {
	program, job := build(b)
	run(b, program, "split", job)
}

// BenchmarkProcessSetbacks is every distance of the demo against its rule as a
// process.
func BenchmarkProcessSetbacks(b *testing.B) {
	program, job := build(b)
	run(b, program, "setbacks", job)
}

// BenchmarkProcessFit is where the demo's workshop may stand, over every turn and
// with its sheet, as a process.
func BenchmarkProcessFit(b *testing.B) {
	program, job := build(b)
	run(b, program, "fit", job, "-o", filepath.Join(b.TempDir(), "fit.pdf"))
}

// BenchmarkReportOfFortyPhotos is the owner's report of the demo with forty
// photos of twelve megapixels as a process; it tells the largest memory that the
// process held.
func BenchmarkReportOfFortyPhotos(b *testing.B) {
	program, job := build(b)
	folder := b.TempDir()
	text, err := os.ReadFile(job)
	if err != nil {
		b.Fatal(err)
	}
	var list strings.Builder
	photo := twelveMegapixels(b)
	for i := range 40 {
		name := fmt.Sprintf("p%02d.jpg", i)
		// A byte after the end makes each a file of its own.
		if err := os.WriteFile(filepath.Join(folder, name), append(bytes.Clone(photo), byte(i)), 0o600); err != nil {
			b.Fatal(err)
		}
		fmt.Fprintf(&list, "  - {file: %s, words: picture %d}\n", name, i)
	}
	demo := strings.Replace(string(text), "\nphotos:\n", "\nphotos:\n"+list.String(), 1)
	name := filepath.Join(folder, "job.yaml")
	if err := os.WriteFile(name, []byte(demo), 0o600); err != nil {
		b.Fatal(err)
	}
	most := 0
	for b.Loop() {
		most = max(most, measured(b, program, "report", name, "--owner", filepath.Join(folder, "o.pdf")))
	}
	b.ReportMetric(float64(most)/1024, "MB-held")
}

// twelveMegapixels is a picture of noise and slopes, about as hard to read as a
// photo.
func twelveMegapixels(b *testing.B) []byte {
	b.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 4000, 3000))
	seed := uint32(1)
	for y := range 3000 {
		for x := range 4000 {
			seed = seed*1664525 + 1013904223
			n := uint8(seed >> 28)
			img.SetRGBA(x, y, color.RGBA{uint8(x/20) + n, uint8(y/16) + n, uint8((x+y)/40) + n, 255})
		}
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, &jpeg.Options{Quality: 88}); err != nil {
		b.Fatal(err)
	}
	return out.Bytes()
}

package photo_test

import (
	"fmt"
	"os"
	"regexp"
	"runtime"
	"runtime/debug"
	"strconv"
	"syscall"
	"testing"
	"time"

	"undersod/internal/photo"
)

// phonePhoto is a JPEG of 12 million dots as a phone makes them.
func phonePhoto(b *testing.B) []byte { return asJPEG(b, grainy(4000, 3000), 92) }

func BenchmarkPrepareOneOf12MillionDots(b *testing.B) {
	data := phonePhoto(b)
	b.Logf("%d bytes", len(data))
	b.ReportAllocs()
	for b.Loop() {
		ready(b, data, photo.Options{})
	}
}

// BenchmarkPrepareFortyOf12MillionDots prepares the photos of a large report.
// cpu-s is the time of all processors together, half of which two free ones
// take; peak-MB is the most memory that the process had, as its system counts it.
func BenchmarkPrepareFortyOf12MillionDots(b *testing.B) {
	dir := b.TempDir()
	data := phonePhoto(b)
	var names []string
	for i := range 40 {
		names = append(names, fmt.Sprintf("photo %d.jpg", i))
		if err := os.WriteFile(dir+"/"+names[i], data, 0o600); err != nil {
			b.Fatal(err)
		}
	}
	data = nil
	runtime.GC()
	debug.FreeOSMemory()
	_ = os.WriteFile("/proc/self/clear_refs", []byte("5"), 0) // forget the peak so far, where that can be
	before := processorTime(b)
	for b.Loop() {
		if ready, wrong := photo.PrepareAll(os.DirFS(dir), names, photo.Options{}, nil); len(ready) != 40 {
			b.Fatal(wrong)
		}
	}
	b.ReportMetric((processorTime(b)-before).Seconds()/float64(b.N), "cpu-s/op")
	var memory runtime.MemStats
	runtime.ReadMemStats(&memory)
	b.ReportMetric(float64(memory.HeapSys-memory.HeapReleased)/1e6, "heap-MB")
	if status, err := os.ReadFile("/proc/self/status"); err == nil {
		if m := regexp.MustCompile(`VmHWM:\s*(\d+) kB`).FindSubmatch(status); m != nil {
			kB, _ := strconv.ParseFloat(string(m[1]), 64)
			b.ReportMetric(kB/1000, "peak-MB")
		}
	}
}

// processorTime is what the process has used of all processors, which tells
// more than the time that went by where others use them too.
func processorTime(b *testing.B) time.Duration {
	b.Helper()
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		b.Fatal(err)
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}

package datafolder_test

import (
	"fmt"
	"path/filepath"
	"runtime"
	"sync/atomic"
	"testing"
	"time"

	"undersod/internal/archive"
	"undersod/internal/archive/datafolder"
	"undersod/internal/archive/invented"
)

// BenchmarkSyncs saves visits of 15 kB from eight sides at once, each durable
// before the next of its side: what phones send when they come back into
// signal. 200 a second are asked for. The heading is made by a reader that does
// next to nothing; what the real one takes comes on top.
func BenchmarkSyncs(b *testing.B) {
	f := open(b, filepath.Join(b.TempDir(), "data"))
	k := keeper(f, time.Now)
	m := invented.New(412)
	const kinds = 200
	var jobs [kinds][]byte
	for i := range jobs {
		jobs[i] = m.Job(m.Site(), 15_000)
	}
	var n atomic.Int64
	b.SetParallelism(max(1, 8/runtime.GOMAXPROCS(0)))
	start := time.Now()
	b.RunParallel(func(pb *testing.PB) {
		for pb.Next() {
			i := n.Add(1)
			job := append(fmt.Appendf(nil, "# %d\n", i), jobs[i%kinds]...)
			if _, err := k.SaveVisit(ctx, write(fmt.Sprint(i)), "", "", 0, "yaml", job); err != nil {
				b.Error(err)
				return
			}
		}
	})
	b.ReportMetric(float64(n.Load())/time.Since(start).Seconds(), "syncs/s")
}

// BenchmarkOpen opens a folder and lists its sites: a new one, and one that holds
// a thousand visits. 200 ms are asked for.
func BenchmarkOpen(b *testing.B) {
	b.Run("new", func(b *testing.B) {
		dir := b.TempDir()
		n := 0
		for b.Loop() {
			n++
			openOnce(b, filepath.Join(dir, fmt.Sprint(n)))
		}
	})
	b.Run("full", func(b *testing.B) {
		path := filepath.Join(b.TempDir(), "data")
		f := open(b, path)
		k := keeper(f, time.Now)
		m := invented.New(412)
		for i := range 1000 {
			job := m.Job(m.Site(), 2000)
			if _, err := k.SaveVisit(ctx, write(fmt.Sprint(i)), "", "", 0, "yaml", job); err != nil {
				b.Fatal(err)
			}
		}
		if err := f.Close(); err != nil {
			b.Fatal(err)
		}
		for b.Loop() {
			openOnce(b, path)
		}
	})
}

func openOnce(b *testing.B, path string) {
	f, err := datafolder.Open(ctx, path)
	if err != nil {
		b.Fatal(err)
	}
	if _, err := keeper(f, time.Now).Find(ctx, crew, archive.Query{}); err != nil {
		b.Fatal(err)
	}
	if err := f.Close(); err != nil {
		b.Fatal(err)
	}
}

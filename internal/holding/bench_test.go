package holding_test

import (
	"bytes"
	"fmt"
	"sync/atomic"
	"testing"

	"undersod/examples"
	"undersod/internal/archive"
	"undersod/internal/holding"
)

// BenchmarkSyncs saves a visit as a phone sends it, whole: read, adjusted,
// judged for its heading, compared with what was there, and on the disk. Eight
// phones send at once, each its own site, a reading's note changed every time.
func BenchmarkSyncs(b *testing.B) {
	for _, name := range []string{"metric.yaml", "quarry-hollow.yaml"} {
		job, err := examples.Files.ReadFile(name)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(name, func(b *testing.B) {
			a, err := holding.Open(b.Context(), b.TempDir())
			if err != nil {
				b.Fatal(err)
			}
			defer a.Folder.Close()
			var phones atomic.Int64
			b.SetParallelism(4)
			b.ResetTimer()
			b.RunParallel(func(pb *testing.PB) {
				phone, site, visit, base := phones.Add(1), archive.ID(""), archive.ID(""), archive.Revision(0)
				for n := 0; pb.Next(); n++ {
					sent := append(bytes.Clone(job), fmt.Sprintf("\n# sent %d by %d\n", n, phone)...)
					w := archive.Write{By: archive.Program(), Key: fmt.Sprintf("%d-%d", phone, n)}
					saved, err := a.Records.SaveVisit(b.Context(), w, site, visit, base, "yaml", sent)
					if err != nil {
						b.Error(err)
						return
					}
					site, visit, base = saved.Site, saved.Visit, saved.Revision
				}
			})
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "syncs/s")
		})
	}
}

package judge_test

import (
	"bytes"
	"testing"

	"undersod/core/adjust"
	"undersod/core/judge"
	"undersod/examples"
	"undersod/internal/jobfile"
)

// BenchmarkJudge is every judgement of the demo from its adjusted plan: camera
// runs, levels, the box with its settings, capacity, a week of the field,
// permit and what to do.
func BenchmarkJudge(b *testing.B) {
	r, err := jobfile.ReadBeside("quarry-hollow.yaml", bytes.NewReader(examples.Demo()), examples.DemoFiles())
	if err != nil {
		b.Fatal(err)
	}
	plan := adjust.Solve(&r.Job, adjust.Settings{})
	b.ReportAllocs()
	for b.Loop() {
		if j := judge.Judge(&r.Job, plan, nil); len(j.Boxes) != 1 || j.Storage == nil {
			b.Fatal("the demo was not judged")
		}
	}
}

package judge

import (
	"fmt"

	"undersod/core/level"
	"undersod/core/look"
	"undersod/core/site"
	"undersod/core/unit"
)

// endReach is how near a line's end water must come to stand at it; common
// practice, no source.
const endReach = 3 * unit.Foot

// lowEnds explains water that stands at the end which its line falls to: look
// knows no heights, and the rod no camera.
func (w *work) lowEnds() {
	for i := range w.out.Runs {
		run := &w.out.Runs[i]
		for k := range run.Findings {
			f := &run.Findings[k]
			if f.What != site.StandingWater && f.What != site.Sediment || !f.From.Counted {
				continue
			}
			if words := w.lowEnd(*run, *f); words != "" {
				f.Near = append(f.Near, look.Near{Explains: true, Words: words})
			}
		}
	}
}

// lowEnd says that a finding lies at the low end of its line, empty where it
// does not or where nothing tells.
func (w *work) lowEnd(run look.Run, f look.Finding) string {
	line, ok := w.line(run.Line)
	if !ok || !run.Known {
		return ""
	}
	first, last := f.From.Station, f.From.Station
	if f.To != nil && f.To.Counted {
		last = f.To.Station
	}
	for _, fall := range w.out.Levels.Falls {
		if fall.Line != run.Line || !fall.Whole || fall.Way == level.Level || fall.Doubted {
			continue
		}
		down, at := fall.Drop > 0, line.Path[len(line.Path)-1]
		if !down {
			at = line.Path[0]
		}
		if down && last > run.Length-endReach || !down && first < endReach {
			return fmt.Sprintf("at the low end of %s, which falls %s to %s: water gathers there, which may explain this", run.Line, w.fineLength(fall.Drop.Abs()), at)
		}
	}
	return ""
}

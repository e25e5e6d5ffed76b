package report

import "undersod/internal/report/flow"

// The colours of the pages.
var (
	ink, soil, stone, hair = flow.Ink, flow.Soil, flow.Stone, flow.Hair
	clay, ochre, grass     = flow.Clay, flow.Ochre, flow.Grass
	pale, straw, leaf      = flow.Pale, flow.Straw, flow.Leaf
	sand                   = flow.Sand
)

func tidy(s string) string { return flow.Tidy(s) }

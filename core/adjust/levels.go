package adjust

import (
	"undersod/core/level"
	"undersod/core/site"
	"undersod/core/unit"
)

// levelDeviation is the standard deviation of a rod reading or a depth.
func (n *network) levelDeviation(r site.Reading) unit.Length {
	switch r := r.(type) {
	case site.Rod:
		return unit.Length(stated(r.SD, n.dev.of(r.Instrument, site.LevelRod).Fixed))
	case site.Depth:
		return unit.Length(stated(r.SD, DepthDeviation))
	}
	return 0
}

// idleLevel takes no equation from a rod reading or a depth: it places nothing
// on the plan. One that the levels cannot use either is refused.
func (n *network) idleLevel(r site.Reading, what string) {
	if why := level.Refused(r, n.levelDeviation(r)); why != "" {
		n.refuse(why)
		return
	}
	n.idle("a " + what + " places nothing on the plan; it is part of the heights")
}

// reportLevels turns the adjusted heights into results, in the order first read,
// and marks the readings that disagree.
func (w *work) reportLevels() {
	net := w.net.levels
	w.plan.Net = net
	w.plan.Levels = Levels{Freedom: net.Freedom(), Statistic: net.Statistic()}
	for _, h := range net.Heights() {
		w.plan.Levels.Heights = append(w.plan.Levels.Heights, Height{Point: h.Point, On: h.On, At: h.At, SD: h.SD})
	}
	flagged := map[site.ReadingID]bool{}
	for _, r := range net.Readings() {
		flagged[r.ID] = flagged[r.ID] || r.Flagged
	}
	for i := range w.plan.Readings {
		if r := &w.plan.Readings[i]; r.Use == Idle && flagged[r.ID] {
			r.Flagged = true
		}
	}
}

// stated returns the stated standard deviation where there is one, in metres.
func stated(sd *unit.Length, otherwise unit.Length) float64 {
	if sd != nil {
		return float64(*sd)
	}
	return float64(otherwise)
}

// usableLength tells whether a number can be a length read with an instrument
// on one property, in metres.
func usableLength(v float64) bool { return v > 0 && v < 10000 }

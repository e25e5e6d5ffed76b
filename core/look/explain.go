package look

import (
	"undersod/core/site"
	"undersod/core/unit"
)

// How near a cause must be to be offered; common practice, no source. Where the
// place of the finding is known less well than that, its 95 % radius counts.
const (
	wheelReach  = 3 * unit.Foot  // a wheel's load spreads in the ground
	roofReach   = 15 * unit.Foot // what a downspout sheds
	waterReach  = 25 * unit.Foot // a pond or a ditch
	leakReach   = 5 * unit.Foot  // a water pipe or a pool
	trenchReach = 1 * unit.Foot  // digging for a post or another pipe
)

// explains returns, in careful words, how a thing may explain what was seen, and
// nothing where it hardly does.
func explains(what site.FindingKind, t *thing, away unit.Length, over bool, sure unit.Length) string {
	within := func(limit unit.Length) bool { return over || away <= max(limit, sure) }
	switch {
	case t.building:
		return ifSo(over && crushed(what), "the load of the building may explain this")
	case t.kind == site.Tree:
		return tree(what, t, away, over)
	case t.kind == site.Driveway:
		return ifSo(crushed(what) && within(wheelReach), "wheels over it may explain this")
	case t.kind == site.Structure:
		return ifSo(crushed(what) && within(trenchReach), "its load or the digging for it may explain this")
	case t.kind == site.Downspout:
		return ifSo(wet(what) && within(roofReach), "roof water may explain this")
	case t.kind == site.SurfaceWater:
		return ifSo(wet(what) && within(waterReach), "water in the ground beside it may explain this")
	case t.kind == site.WaterLine || t.kind == site.Pool:
		if wet(what) {
			return ifSo(within(leakReach), "a leak of it may explain this")
		}
	}
	dug := t.kind == site.WaterLine || t.kind == site.UtilityLine || t.kind == site.Fence
	return ifSo(dug && pierced(what) && within(trenchReach), "digging for it may explain this")
}

func ifSo(yes bool, words string) string {
	if yes {
		return words
	}
	return ""
}

// tree offers roots for roots, and under the crown for what roots do to a pipe.
func tree(what site.FindingKind, t *thing, away unit.Length, over bool) string {
	switch what {
	case site.FineRoots, site.RootMass:
		return ifSo(over || away <= t.roots(), "its roots may explain this")
	case site.Cracked, site.JointShifted, site.Broken:
		return ifSo(over, "its roots may have moved the pipe")
	}
	return ""
}

// crushed tells whether a load may do such a thing.
func crushed(what site.FindingKind) bool {
	switch what {
	case site.Flattened, site.Cracked, site.Broken, site.JointShifted:
		return true
	}
	return false
}

// wet tells whether water from elsewhere may do such a thing.
func wet(what site.FindingKind) bool {
	return what == site.StandingWater || what == site.WaterOverPipe
}

// pierced tells whether a spade or a post may do such a thing.
func pierced(what site.FindingKind) bool {
	switch what {
	case site.Broken, site.Cracked, site.Flattened, site.PieceMissing, site.SoilEntering, site.Blocked:
		return true
	}
	return false
}

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
	waterReach  = 25 * unit.Foot // a pond, a ditch, a spring
	leakReach   = 5 * unit.Foot  // a water pipe, a pool, a cistern
	slideReach  = 10 * unit.Foot // a bank or a sinkhole
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
	case wet(what):
		return wetted(t.kind, within)
	case t.kind == site.Sinkhole || t.kind == site.Bank:
		return ifSo(crushed(what) && within(slideReach), "the ground may give way there, which may explain this")
	}
	return ifSo(dug(t.kind) && pierced(what) && within(trenchReach), "digging for it may explain this")
}

// wetted offers what may bring water from elsewhere.
func wetted(kind site.FeatureKind, within func(unit.Length) bool) string {
	switch kind {
	case site.SurfaceWater, site.Spring, site.Wetland, site.Ditch:
		return ifSo(within(waterReach), "water in the ground beside it may explain this")
	case site.Downspout:
		return ifSo(within(roofReach), "roof water may explain this")
	case site.Drain, site.DryWell:
		return ifSo(within(roofReach), "the water that it carries may explain this")
	case site.WaterLine, site.Pool, site.Cistern, site.StormPipe:
		return ifSo(within(leakReach), "a leak of it may explain this")
	case site.OtherField:
		return ifSo(within(waterReach), "the water of that field may explain this")
	}
	return ""
}

// dug tells what a trench or a post hole was dug for.
func dug(kind site.FeatureKind) bool {
	switch kind {
	case site.WaterLine, site.UtilityLine, site.Fence, site.StormPipe, site.Drain:
		return true
	}
	return false
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

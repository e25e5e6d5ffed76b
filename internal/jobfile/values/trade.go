package values

import (
	"slices"
	"strings"

	"undersod/core/english"
	"undersod/core/site"
)

// tradeWord finds the word of known for what people of the trade say short:
// too far from it for a guess by likeness.
func tradeWord(text string, known []string) (string, bool) {
	word, ok := map[string]string{
		"dbox": string(site.DistributionBox), "distbox": string(site.DistributionBox),
		"tank": string(site.SepticTank), "cover": string(site.Lid), "tape": string(site.SteelTape),
		"sewer": string(site.BuildingSewer), "lateral": string(site.DrainLine),
		"crushed": string(site.Flattened), "belly": string(site.StandingWater), "sag": string(site.StandingWater),
		"house": site.FromBuilding, "dwelling": site.FromBuilding, "septictank": site.FromTank,
		"drainfield": site.FromField, "leachfield": site.FromField, "drainline": site.FromField,
		"lotline": string(site.PropertyLine), "boundary": string(site.PropertyLine),
		"creek": string(site.SurfaceWater), "stream": string(site.SurfaceWater), "river": string(site.SurfaceWater),
		"pond": string(site.SurfaceWater), "lake": string(site.SurfaceWater),
		"swale": string(site.Ditch), "culvert": string(site.StormPipe), "slope": string(site.Bank),
		"shed": string(site.Structure), "garage": string(site.Structure), "barn": string(site.Structure),
		"swimmingpool": string(site.Pool), "borehole": string(site.Well),
		"collapsed": string(site.Broken), "offset": string(site.JointShifted), "sludge": string(site.Sediment),
	}[english.Plain(strings.TrimSpace(text))]
	return word, ok && slices.Contains(known, word)
}

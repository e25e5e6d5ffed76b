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
		"collapsed": string(site.Broken), "offset": string(site.JointShifted), "sludge": string(site.Sediment),
	}[english.Plain(strings.TrimSpace(text))]
	return word, ok && slices.Contains(known, word)
}

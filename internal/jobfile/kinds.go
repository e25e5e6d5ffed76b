package jobfile

import "undersod/core/site"

// words turns kinds into the words a file may use for them.
func words[K ~string](kinds []K) []string {
	out := make([]string, len(kinds))
	for i, k := range kinds {
		out[i] = string(k)
	}
	return out
}

func instrumentKinds() []string { return words(site.InstrumentKinds()) }

func partKinds() []string { return words(site.PartKinds()) }

func lineKinds() []string { return words(site.LineKinds()) }

func featureKinds() []string { return words(site.FeatureKinds()) }

func rodFeet() []string { return words(site.RodFeet()) }

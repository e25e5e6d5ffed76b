package site

// ProposedKinds returns every kind of thing that an owner may want to build or
// drill, in the order of the documentation.
func ProposedKinds() []FeatureKind { return []FeatureKind{Structure, Pool, Well, Driveway} }

// The words for what is no kind of feature but is kept a distance from all the
// same.
const (
	FromBuilding = "building"
	FromTank     = "tank"
	FromBox      = "distribution box"
	FromField    = "field"
)

// SetbackThings returns everything that a distance may be kept from, in the
// order of the documentation: the kinds of feature, a building, and the parts
// of the system itself. They are the words of the rule packs.
func SetbackThings() []string {
	var out []string
	for _, k := range FeatureKinds() {
		out = append(out, string(k))
	}
	return append(out, FromBuilding, FromTank, FromBox, FromField)
}

// SetbackColumns returns what may keep a distance, in the order of the
// documentation: the columns of a setback table.
func SetbackColumns() []string {
	return []string{"tank", "distribution box", "field", "building sewer", "effluent pipe", "structure"}
}

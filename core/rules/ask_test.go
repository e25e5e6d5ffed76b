package rules_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/unit"
)

// field is the distance of a field alone.
func field(feet float64) map[rules.Column]unit.Length {
	return map[rules.Column]unit.Length{rules.ToField: unit.Length(feet) * unit.Foot}
}

// county is a pack made up for the tests.
func county() *rules.Pack {
	other := rules.Source{Title: "health rule 7", Status: rules.Read}
	return &rules.Pack{
		Name: "county", Place: "a county made up for the test",
		Setbacks: &rules.Setbacks{
			Source: rules.Source{Title: "county code", Section: "Table 1", Year: "2019", Status: rules.Read},
			Rows: []rules.SetbackRow{
				{From: "well", Class: "irrigation", Distances: field(25)},
				{From: "well", Class: "private", Distances: map[rules.Column]unit.Length{rules.ToField: 100 * unit.Foot, rules.ToTank: 50 * unit.Foot}, Source: &other},
				{From: "building", Distances: field(10)},
				{From: "building", Class: "basement", Distances: field(20)},
				{From: "drain", Class: "upslope", Distances: field(10), Note: "drawn down by gravity"},
				{From: "pool", Distances: map[rules.Column]unit.Length{rules.ToTank: 18 * unit.Inch}},
				{From: "property line", Distances: field(5)},
				{From: "surface water", Distances: map[rules.Column]unit.Length{rules.ToPipe: 3}},
				{From: "Flood-Plain", Distances: field(12)},
				{From: "Septic tank", Distances: field(8)},
				{From: "cistern"},
				{From: "tree", Distances: map[rules.Column]unit.Length{rules.ToField: 3.3333 * unit.Foot}},
			},
		},
		Limits: []rules.Limit{{On: rules.OnTrenchWidth, Least: unit.Foot, Most: 3 * unit.Foot}, {On: rules.OnSpacing}},
	}
}

func TestSetback(t *testing.T) {
	for _, test := range []struct {
		from, class string
		to          rules.Column
		feet        float64 // 0: no rule
		assumed     bool
		words       string
	}{
		{"well", "private", rules.ToField, 100, false, "100 ft between a field and a well (private)"},
		{"Well", " Private ", rules.ToField, 100, false, "100 ft between a field and a well (private)"},
		{"well", "irrigation", rules.ToField, 25, false, "25 ft between a field and a well (irrigation)"},
		{"well", "", rules.ToField, 100, true, "the class of the well is not stated: for a field the strictest of irrigation (25 ft) and private (100 ft)"},
		{"well", "", rules.ToTank, 50, true, "the class of the well is not stated: for a tank taken as private (50 ft), the only class with a distance"},
		{"well", "public", rules.ToField, 0, false, "no rule in this pack for a field from a well of the class public: there are rows for irrigation and private"},
		{"well", "irrigation", rules.ToTank, 0, false, "no rule in this pack for a tank from a well of the class irrigation: there are rows for private"},
		{"well", "private", rules.ToBox, 0, false, "no rule in this pack for a distribution box from a well"},
		{"building", "", rules.ToField, 10, false, "10 ft between a field and a building; more for a field from the class basement (20 ft), and none is stated"},
		{"structure", "basement", rules.ToField, 20, false, "20 ft between a field and a building (basement)"},
		{"building", "slab foundation", rules.ToField, 10, false, "10 ft between a field and a building"},
		{"drain", "", rules.ToField, 10, true, "the class of the drain is not stated: for a field taken as upslope (10 ft), the only class with a distance"},
		{"pool", "", rules.ToTank, 1.5, false, "18 in between a tank and a pool"},
		{"pool", "", rules.ToBox, 0, false, "no rule in this pack for a distribution box from a pool"},
		{"property line", "", rules.ToField, 5, false, "5 ft between a field and the property line"},
		{"surface water", "", rules.ToPipe, 3 / 0.3048, false, "3 m between an effluent pipe and surface water"},
		{"tree", "", rules.ToField, 3.3333, false, "3.33 ft between a field and a tree"},
		{"flood plain", "", rules.ToField, 12, false, "12 ft between a field and a Flood-Plain"},
		{"septic tank", "", rules.ToField, 8, false, "8 ft between a field and a Septic tank"},
		{"pump tank", "", rules.ToField, 0, false, "no rule in this pack for a field from a pump tank"},
		{"cistern", "", rules.ToField, 0, false, "no rule in this pack for a field from a cistern"},
		{"other field", "", rules.ToField, 0, false, "no rule in this pack for a field from the field of another system"},
		{"easement", "", rules.ToSewer, 0, false, "no rule in this pack for a building sewer from an easement"},
		{"", "", "", 0, false, "no rule in this pack for a thing without a name from a thing without a name"},
		{"a\nb", "", rules.ToField, 0, false, "no rule in this pack for a field from a “a b”"},
	} {
		got := county().Setback(test.from, test.class, test.to)
		if got.Words != test.words || got.Assumed != test.assumed || got.Known != (test.feet > 0) ||
			(got.Distance-unit.Length(test.feet)*unit.Foot).Abs() > 1e-9 {
			t.Errorf("%q %q %q: got %+v, want %v ft, %q", test.from, test.class, test.to, got, test.feet, test.words)
		}
		if got.More != "" != strings.Contains(got.Words, "more for ") || !strings.HasSuffix(got.Words, got.More) {
			t.Errorf("%q: more %q of %q", test.from, got.More, got.Words)
		}
		if got.Known != (got.Source.Title != "") || strings.Contains(got.Words, "\n") {
			t.Errorf("%q: %+v", test.from, got)
		}
	}
	if got := county().Setback("drain", "upslope", rules.ToField); got.Row.Note != "drawn down by gravity" || got.Source.Title != "county code" {
		t.Errorf("the row is not handed on: %+v", got)
	}
	if got := county().Setback("well", "private", rules.ToField).Source.Title; got != "health rule 7" {
		t.Errorf("the source of a row with its own is %q", got)
	}
}

// Where there is no pack, or none with setbacks, the answer is words too.
func TestSetbackWithoutRules(t *testing.T) {
	var none *rules.Pack
	const words = "no rule in this pack for a field from a well: "
	if got := none.Setback("well", "", rules.ToField); got.Known || got.Words != words+"no pack is chosen" {
		t.Errorf("nil pack: %+v", got)
	}
	for _, p := range []*rules.Pack{{}, {Setbacks: &rules.Setbacks{}}} {
		if got := p.Setback("well", "", rules.ToField); got.Known || got.Words != words+"it has no setbacks" {
			t.Errorf("%+v: %+v", p, got)
		}
	}
}

func TestLimit(t *testing.T) {
	if l, ok := county().Limit(rules.OnTrenchWidth); !ok || l.Least != unit.Foot || l.Most != 3*unit.Foot {
		t.Errorf("got %+v, %v", l, ok)
	}
	var none *rules.Pack
	for _, p := range []*rules.Pack{none, {}, county()} {
		if l, ok := p.Limit(rules.OnSpacing); ok {
			t.Errorf("a limit without a number: %+v", l)
		}
	}
}

func TestCovers(t *testing.T) {
	var none *rules.Pack
	for want, p := range map[string]*rules.Pack{
		"":                 none,
		"setbacks, limits": county(),
		"flow, field, tank, checklist": {Flow: &rules.FlowRule{}, Field: &rules.FieldRule{}, Tank: &rules.TankRule{},
			Setbacks: &rules.Setbacks{Rows: []rules.SetbackRow{{From: "well"}}}, Checklist: &rules.Checklist{}},
	} {
		if got := p.Covers(); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// A setback may be from every kind of feature that a job knows, and from the
// parts of a system; nothing else.
func TestThingsAreThoseOfAJob(t *testing.T) {
	var want []string
	for _, k := range site.FeatureKinds() {
		want = append(want, string(k))
	}
	want = append(want, "building", "tank", "distribution box", "field")
	if got := rules.Things(); !slices.Equal(got, want) {
		t.Errorf("got %q\nwant %q", got, want)
	}
}

// A table asks for many parts and things at once.
func BenchmarkSetback(b *testing.B) {
	p, _ := rules.ByName("washington")
	for b.Loop() {
		p.Setback("well", "private", rules.ToField)
		p.Setback("driveway", "", rules.ToBox)
	}
}

// A well that is yet to be drilled is not out of use.
func TestForNewLeavesOutWhatIsOutOfUse(t *testing.T) {
	p := &rules.Pack{Setbacks: &rules.Setbacks{Rows: []rules.SetbackRow{
		{From: "well", Class: "private", Distances: map[rules.Column]unit.Length{rules.ToField: 30}},
		{From: "well", Class: "decommissioned", Distances: map[rules.Column]unit.Length{rules.ToField: 3}}}}}
	if got := p.ForNew().Setback("well", "", rules.ToField); strings.Contains(got.Words, "decommissioned") || got.Distance != 30 {
		t.Error(got.Words)
	}
	if got := p.Setback("well", "", rules.ToField); !strings.Contains(got.Words, "decommissioned") {
		t.Error("the pack itself has changed: " + got.Words)
	}
	if (*rules.Pack)(nil).ForNew() != nil {
		t.Error("of nothing nothing")
	}
}

// A distance of 0 that is written is a rule; one that is no number or below 0 is
// none.
func TestADistanceOfNothingIsARule(t *testing.T) {
	p := &rules.Pack{Setbacks: &rules.Setbacks{Rows: []rules.SetbackRow{
		{From: "well", Distances: field(0)}, {From: "pool", Distances: field(math.NaN())}, {From: "tree", Distances: field(-1)}}}}
	if a := p.Setback("well", "", rules.ToField); !a.Known || a.Distance != 0 || a.Words != "0 ft between a field and a well" {
		t.Errorf("%+v", a)
	}
	for _, from := range []string{"pool", "tree"} {
		if a := p.Setback(from, "", rules.ToField); a.Known {
			t.Errorf("%+v", a)
		}
	}
	if a := p.Setback("well", "", rules.ToTank); a.Known {
		t.Errorf("%+v", a)
	}
}

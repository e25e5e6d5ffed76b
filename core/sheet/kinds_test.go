package sheet_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
)

// kindForm is how a kind of feature stands on the ground as a rule.
type kindForm uint8

const (
	asSpot kindForm = iota
	asLine
	asArea
)

// neighbourKinds are the kinds that only setbacks ask of, with what the legend
// calls them.
var neighbourKinds = []struct {
	kind  site.FeatureKind
	form  kindForm
	words string
}{
	{site.Spring, asSpot, "spring"},
	{site.Wetland, asArea, "wetland"},
	{site.Drain, asLine, "drain for ground or roof water"},
	{site.Bank, asLine, "bank or steep slope, its edge"},
	{site.Easement, asArea, "easement"},
	{site.DryWell, asSpot, "dry well"},
	{site.Cistern, asSpot, "cistern"},
	{site.Cistern, asArea, "cistern"},
	{site.FloodPlain, asLine, "edge of the flood plain"},
	{site.FloodPlain, asArea, "edge of the flood plain"},
	{site.Sinkhole, asSpot, "sinkhole"},
	{site.Sinkhole, asArea, "sinkhole"},
	{site.StormPipe, asLine, "storm pipe"},
	{site.Ditch, asLine, "ditch or swale"},
	{site.OtherField, asArea, "field of another system"},
}

func kindYard(kind site.FeatureKind, form kindForm) *yard {
	y := newYard(6)
	y.house(40, 28)
	y.part("Lid", site.Lid, feet(10, -20), "")
	switch form {
	case asSpot:
		y.spot("Thing", kind, feet(-30, -30), 0)
	case asLine:
		y.area("Thing", kind, false, feet(-30, -60), feet(-28, -10), feet(-20, 20))
	case asArea:
		y.area("Thing", kind, true, feet(-50, -60), feet(-20, -60), feet(-20, -20), feet(-50, -30))
	}
	return y
}

// pathsNamed counts the paths of a thing on all layers but that of leaders.
func pathsNamed(s sheet.Scene, name string) int {
	n := 0
	for _, l := range s.Layers {
		if l.Name != "leaders" {
			n += len(pathsOf(s, l.Name, name))
		}
	}
	return n
}

func TestEveryKindOfNeighbourIsDrawnAndExplained(t *testing.T) {
	for _, tt := range neighbourKinds {
		y := kindYard(tt.kind, tt.form)
		s := draw(t, y, sheet.Options{})
		text := flat(s)
		if !strings.Contains(text, tt.words) || !strings.Contains(text, "Thing") || strings.Contains(text, "other point") {
			t.Errorf("%s: expected its name and %q on the sheet: %s", tt.kind, tt.words, text)
		}
		if pathsNamed(s, "Thing") == 0 {
			t.Errorf("%s: nothing is drawn", tt.kind)
		}
		for _, b := range append(checkSheet(s), checkInside(s)...) {
			t.Errorf("%s: %s", tt.kind, b)
		}
	}
}

func TestAnyKindMayStandInAnyForm(t *testing.T) {
	for _, tt := range neighbourKinds {
		for _, form := range []kindForm{asSpot, asLine, asArea} {
			s := draw(t, kindYard(tt.kind, form), sheet.Options{})
			if pathsNamed(s, "Thing") == 0 {
				t.Errorf("%s in form %d: nothing is drawn", tt.kind, form)
			}
			for _, b := range append(checkSheet(s), checkInside(s)...) {
				t.Errorf("%s in form %d: %s", tt.kind, form, b)
			}
		}
	}
}

// TestKindsDifferInGrey sets all lines and areas side by side and holds their
// strokes, ticks and hatches against each other without colour.
func TestKindsDifferInGrey(t *testing.T) {
	all := append([]site.FeatureKind{site.PropertyLine, site.WaterLine, site.Fence, site.UtilityLine, site.Pool, site.SurfaceWater, site.ReserveArea, site.Driveway}, kindsOf(asLine, asArea)...)
	seen := map[string]site.FeatureKind{}
	for _, k := range all {
		s := draw(t, kindYard(k, asArea), sheet.Options{})
		var looks []string
		for _, l := range s.Layers {
			for _, shape := range l.Shapes {
				p, ok := shape.(sheet.Path)
				if !ok || p.Name != "Thing" || l.Name == "leaders" {
					continue
				}
				words := fmt.Sprintf("filled %v", p.Fill != nil)
				if p.Stroke != nil {
					words += fmt.Sprintf(" %.2f %v", p.Stroke.Width, p.Stroke.Dash)
				}
				if len(looks) < 2 { // the edge, and its first tick or its hatch
					looks = append(looks, words+fmt.Sprint(" ", len(p.Runs[0].Pieces)))
				}
			}
		}
		key := strings.Join(looks, "; ")
		if was, ok := seen[key]; ok && was != k {
			t.Errorf("%s and %s look the same in grey: %s", k, was, key)
		}
		seen[key] = k
	}
}

func kindsOf(forms ...kindForm) []site.FeatureKind {
	var out []site.FeatureKind
	for _, tt := range neighbourKinds {
		for _, f := range forms {
			if tt.form == f {
				out = append(out, tt.kind)
			}
		}
	}
	return out
}

func TestAKindNotKnownIsAPoint(t *testing.T) {
	y := kindYard("gravestone", asSpot)
	if text := flat(draw(t, y, sheet.Options{})); !strings.Contains(text, "other point") {
		t.Errorf("the legend does not explain it: %s", text)
	}
	y.job.Show.Form = unit.Metres
	if !reflect.DeepEqual(draw(t, y, sheet.Options{}), draw(t, y, sheet.Options{})) {
		t.Error("two drawings of one job differ")
	}
}

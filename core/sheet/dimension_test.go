package sheet_test

import (
	"strings"
	"testing"

	"undersod/core/adjust"
	"undersod/core/level"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
)

// lotYard is a house, a part and a lot of 130, 120, 130 and 120 ft.
func lotYard() *yard {
	y := newYard(4)
	y.house(40, 28)
	y.part("Box", site.DistributionBox, feet(20, -40), "")
	y.area("Lot", site.PropertyLine, true, feet(-50, -70), feet(80, -70), feet(80, 50), feet(-50, 50))
	for i := range y.plan.Points {
		y.plan.Points[i].Ellipse = adjust.Ellipse{}
	}
	return y
}

const notOfRecord = "lengths of their sides as located here, not of record"

// labelsOf returns the texts on the plan that label a thing.
func labelsOf(s sheet.Scene, name string) []string {
	var out []string
	for _, l := range s.Layers {
		for _, shape := range l.Shapes {
			if v, ok := shape.(sheet.Text); ok && l.Plan && v.Name == name {
				out = append(out, v.Text)
			}
		}
	}
	return out
}

func TestSidesOfALotHaveTheirLengths(t *testing.T) {
	y := lotYard()
	s := draw(t, y, sheet.Options{})
	if got := strings.Join(labelsOf(s, "Lot"), "; "); got != `Lot; 130' 0"; 120' 0"; 130' 0"; 120' 0"` {
		t.Errorf("the lot has the labels %s", got)
	}
	if text := words(s); !strings.Contains(text, notOfRecord) {
		t.Errorf("the sheet does not say that they are %q:\n%s", notOfRecord, text)
	}
}

func TestSidesThatAreNotLocatedHaveNone(t *testing.T) {
	y := lotYard()
	for i := range y.plan.Points {
		if n := y.plan.Points[i].Name; n == "Lot 2" {
			y.plan.Points[i].State = adjust.Undetermined
		}
	}
	if got := strings.Join(labelsOf(draw(t, y, sheet.Options{}), "Lot"), "; "); got != `Lot; 130' 0"; 120' 0"` {
		t.Errorf("the lot has the labels %s", got)
	}
	y.job.Site.Features[len(y.job.Site.Features)-1].Kind = site.Fence
	if text := words(draw(t, y, sheet.Options{})); strings.Contains(text, notOfRecord) || strings.Contains(text, `120' 0"`) {
		t.Errorf("a fence has lengths:\n%s", text)
	}
}

// A side that is cut at the edge of the drawing is told in words, since its
// length beside a piece of it would be taken for that of the piece.
func TestSidesBeyondTheDrawingAreTold(t *testing.T) {
	y := lotYard()
	y.job.Site.Features = nil
	y.area("Farm", site.PropertyLine, true, feet(-900, -70), feet(900, -70), feet(900, 2000), feet(-900, 2000))
	for i := range y.plan.Points {
		y.plan.Points[i].Ellipse = adjust.Ellipse{}
	}
	s := draw(t, y, sheet.Options{})
	if got := labelsOf(s, "Farm"); len(got) != 1 {
		t.Errorf("the farm has the labels %v", got)
	}
	for _, want := range []string{`Farm, Farm 1–Farm 2: 1800' 0"`, `Farm, Farm 2–Farm 3: 2070' 0"`} {
		if text := words(s); !strings.Contains(text, want) {
			t.Errorf("the sheet does not say %q:\n%s", want, text)
		}
	}
}

func TestHeightsStandInTheTable(t *testing.T) {
	y := lotYard()
	for _, r := range []site.Rod{{Point: "A", On: site.OnGround}, {Point: "Box", On: site.OnInvert}} {
		r.ID, r.Setup = site.ReadingID(r.Point), "S"
		read := 4 * unit.Foot
		if r.Point == "Box" {
			read = 7.25 * unit.Foot
		}
		r.Read = unit.Written{Text: "read", Length: read, Form: unit.DecimalFeet}
		y.job.Visit.Readings = append(y.job.Visit.Readings, r)
	}
	before := words(draw(t, y, sheet.Options{}))
	y.plan.Net = level.Adjust(y.job.Visit.Readings, func(site.Reading) unit.Length { return 0.01 * unit.Foot })
	text := words(draw(t, y, sheet.Options{}))
	for _, want := range []string{"invert -3.25 ft", "Heights are over the bench mark, the ground at A, taken as 0; known within 0.03 ft (95 %)."} {
		if !strings.Contains(text, want) || strings.Contains(before, want) {
			t.Errorf("the sheet does not say %q, or says it without levels:\n%s", want, text)
		}
	}
}

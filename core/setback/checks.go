package setback

import (
	"strings"

	"undersod/core/adjust"
	"undersod/core/english"
	"undersod/core/rules"
	"undersod/core/site"
)

// Checks says of every item of the authority's checklist whether the drawing
// shows it, in the order of the pack; none where the pack has no checklist. What
// the person wrote as a note of the visit stands on the drawing and counts: a
// note that begins with "No" says that there is none of a thing.
func Checks(job *site.Job, plan *adjust.Plan, pack *rules.Pack) []Check {
	if pack == nil || pack.Checklist == nil {
		return nil
	}
	y := newYard(job, plan, pack)
	out := make([]Check, 0, len(pack.Checklist.Items))
	for _, item := range pack.Checklist.Items {
		c := Check{What: item.What, Words: item.Words, Source: pack.Checklist.Source}
		if c.Words == "" {
			c.Words = string(item.What)
		}
		if item.Source != nil {
			c.Source = *item.Source
		}
		c.Answer, c.Why = y.check(item.What)
		c.Why = english.Sentence(c.Why)
		out = append(out, c)
	}
	return out
}

// check answers one item.
func (y *yard) check(what rules.Wanted) (Answer, string) {
	s, v := &y.job.Site, &y.job.Visit
	switch what {
	case rules.WantTank:
		return y.partsOf("a tank", "parts: {Tank: {kind: septic tank}} and tie it", site.SepticTank, site.PumpTank)
	case rules.WantLids:
		return y.partsOf("a lid", "parts: {Tank inlet lid: {kind: lid}} and tie it", site.Lid)
	case rules.WantField:
		return y.lineEnds(true)
	case rules.WantBends:
		return y.lineEnds(false)
	case rules.WantBuildings:
		return y.buildings()
	case rules.WantLot:
		return y.lotSides()
	case rules.WantNorth:
		return y.northArrow()
	case rules.WantScale:
		return OnSheet, "every sheet states its scale and shows a bar"
	case rules.WantTitle:
		return OnSheet, "every sheet has a title; show: {title: ...} changes it"
	case rules.WantElevations:
		return y.elevations()
	case rules.WantPreparer:
		return y.entered(pair{v.By, "visit: {by: ...}"}, pair{v.Licence, "visit: {licence: ...}"})
	case rules.WantSignature:
		return y.byHand("sign", "sign the printed sheet: the program cannot")
	case rules.WantTies:
		return y.ties()
	case rules.WantDate:
		return y.entered(pair{v.Date, "visit: {date: 2026-05-14}"})
	case rules.WantParcel:
		return y.entered(pair{s.Parcel, "site: {parcel: ...}"})
	case rules.WantAddress:
		return y.entered(pair{s.Address, "site: {address: ...}"})
	case rules.WantPermit:
		return y.entered(pair{s.Permit, "site: {permit: ...}"})
	}
	return y.checkMore(what)
}

// checkMore answers the items that a site may not have at all.
func (y *yard) checkMore(what rules.Wanted) (Answer, string) {
	switch what {
	case rules.WantWells:
		return y.featuresOf("well", "features: {Well: {kind: well, at: Well}}", site.Well)
	case rules.WantSoil:
		return y.featuresOf("soil test", "features: {Pit 1: {kind: soil test, at: Pit 1}}", site.SoilTest)
	case rules.WantEasements:
		return y.featuresOf("easement", "features: {Easement: {kind: easement, area: [E1, E2, E3, E4]}}", site.Easement)
	case rules.WantWater:
		return y.featuresOf("surface water", "features: {Brook: {kind: surface water, path: [W1, W2]}}", site.SurfaceWater, site.Spring, site.Wetland, site.Ditch)
	case rules.WantUtilities:
		return y.featuresOf("water line", "features: {Water line: {kind: water line, path: [U1, U2]}}", site.WaterLine, site.UtilityLine, site.StormPipe)
	case rules.WantDriveways:
		return y.featuresOf("driveway", "features: {Drive: {kind: driveway, area: [D1, D2, D3, D4]}}", site.Driveway)
	case rules.WantReserve:
		return y.featuresOf("reserve area", "features: {Reserve: {kind: reserve area, area: [R1, R2, R3, R4]}}", site.ReserveArea)
	case rules.WantMaterials:
		return y.materials()
	case rules.WantPhotos:
		if n := len(y.job.Visit.Photos); n > 0 {
			return NotApplicable, "to the sheet itself: " + english.Count(n, "photo") + " " + stands(n) + " in the report; hand it in with the drawing"
		}
		return Missing, "add photos: [{file: photos/box.jpg, of: D-box}]"
	case rules.WantSettings:
		return y.settings()
	case rules.WantAccuracy:
		return y.accuracy()
	case rules.WantHistory:
		return y.history()
	}
	return Missing, "the program cannot tell this: see to it by hand, and write it as a note of the visit"
}

func stands(n int) string {
	if n == 1 {
		return "stands"
	}
	return "stand"
}

// noted returns a note of the visit that speaks of something, and whether it
// says that there is none.
func (y *yard) noted(words ...string) (note string, none bool) {
	for _, n := range y.job.Visit.Notes {
		low := strings.ToLower(strings.TrimSpace(n))
		for _, w := range words {
			if strings.Contains(low, w) {
				return n, strings.HasPrefix(low, "no ") || strings.HasPrefix(low, "none") || strings.HasPrefix(low, "there is no ") || strings.HasPrefix(low, "there are no ")
			}
		}
	}
	return "", false
}

// byNote answers by a note of the visit; false where none speaks of it.
func (y *yard) byNote(words ...string) (Answer, string, bool) {
	n, none := y.noted(words...)
	switch {
	case n == "":
		return "", "", false
	case none:
		return NotApplicable, "by the visit's note: " + n, true
	}
	return OnSheet, "as a note: " + n, true
}

// byHand answers for what a person must do, unless a note speaks of it.
func (y *yard) byHand(word, why string) (Answer, string) {
	if a, w, ok := y.byNote(word); ok {
		return a, w
	}
	return Missing, why
}

// pair is something entered and the key for it.
type pair struct{ value, key string }

// entered answers for what is printed as it was entered.
func (y *yard) entered(all ...pair) (Answer, string) {
	var keys, values []string
	for _, p := range all {
		if strings.TrimSpace(p.value) == "" {
			keys = append(keys, p.key)
		} else {
			values = append(values, p.value)
		}
	}
	if len(keys) > 0 {
		return Missing, "enter " + english.And(keys)
	}
	return OnSheet, "in the title block: " + english.And(values)
}

// found answers for things that are on the plan: names of those that are, and
// why those that are not are lost.
func found(names []string, lost []string) (Answer, string) {
	if len(lost) > 0 {
		return Missing, english.Join(lost, "and")
	}
	return OnSheet, english.And(names)
}

// partsOf answers for parts of some kinds, all of which must be located.
func (y *yard) partsOf(one, enter string, of ...site.PartKind) (Answer, string) {
	var names, lost []string
	for _, p := range y.job.Site.Parts {
		if !has(of, p.Kind) {
			continue
		}
		if _, ok := y.radius95(p.Name); ok {
			names = append(names, string(p.Name))
		} else {
			lost = append(lost, string(p.Name)+" is not located: tie it from two or three marks")
		}
	}
	if len(names)+len(lost) == 0 {
		return Missing, one + " is not in the job: enter " + enter
	}
	return found(names, lost)
}

func has[T comparable](list []T, v T) bool {
	for _, w := range list {
		if v == w {
			return true
		}
	}
	return false
}

// lineEnds answers for the ends of drain lines, or for every end and bend of all
// lines.
func (y *yard) lineEnds(fieldOnly bool) (Answer, string) {
	var names, lost []string
	for i := range y.job.Site.Lines {
		l := &y.job.Site.Lines[i]
		if fieldOnly && l.Kind != site.DrainLine || len(l.Path) == 0 {
			continue
		}
		points := l.Path
		if fieldOnly {
			points = l.Path[len(l.Path)-1:]
		}
		why := ""
		for _, n := range points {
			if _, _, w := y.locate(n); w != "" && why == "" {
				why = string(l.Name) + ": " + w
			}
		}
		if why != "" {
			lost = append(lost, why)
		} else {
			names = append(names, string(l.Name))
		}
	}
	if len(names)+len(lost) == 0 {
		return Missing, "no line is in the job: enter lines: {Line 1: {kind: drain line, path: [D-box, L1 end]}}"
	}
	return found(names, lost)
}

// featuresOf answers for features that a site may not have: only the person
// knows, and says so by a note.
func (y *yard) featuresOf(one, enter string, of ...site.FeatureKind) (Answer, string) {
	var names, lost []string
	for _, list := range [][]*body{y.parts, y.things} {
		for _, b := range list {
			switch {
			case !has(of, site.FeatureKind(b.Kind)):
			case b.lost != "":
				lost = append(lost, b.lost)
			default:
				names = append(names, string(b.Name))
			}
		}
	}
	if len(names)+len(lost) > 0 {
		return found(names, lost)
	}
	if a, w, ok := y.byNote(one); ok {
		return a, w
	}
	return Missing, "none is in the job: enter " + enter + "; where there is none, say so: visit: {notes: [No " + one + " on the site]}"
}

func (y *yard) buildings() (Answer, string) {
	var names, lost []string
	for _, b := range y.things {
		switch {
		case b.Kind != wordBuilding && b.Kind != string(site.Structure):
		case b.lost != "":
			lost = append(lost, b.lost)
		default:
			names = append(names, string(b.Name))
		}
	}
	if len(names)+len(lost) == 0 {
		return Missing, "no building is in the job: enter buildings: {House: {corners: [A, B, C, D], size: 44' x 28'}}"
	}
	return found(names, lost)
}

// Package checklist says how a drawing stands against what an authority wants
// to see on it, and what to enter where something is missing.
package checklist

import (
	"math"
	"slices"
	"strings"

	"undersod/core/adjust"
	"undersod/core/english"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/core/ties"
)

// Answer is how an item of the authority's checklist stands.
type Answer string

// The answers.
const (
	OnSheet       Answer = "on the sheet"
	Missing       Answer = "missing"
	NotApplicable Answer = "not applicable"
)

// Check is one item of the checklist.
type Check struct {
	What   rules.Wanted
	Words  string // what is wanted
	Answer Answer
	Why    string // what shows it; what to enter; or why it does not apply
	Source rules.Source
}

// drawing is the job and its plan, with what is looked up again and again.
type drawing struct {
	job    *site.Job
	plan   *adjust.Plan
	points map[site.Name]int // place among the plan's points
	ties   *ties.Index
}

func newDrawing(job *site.Job, plan *adjust.Plan) *drawing {
	if job == nil {
		job = &site.Job{}
	}
	if plan == nil {
		plan = &adjust.Plan{}
	}
	d := &drawing{job: job, plan: plan, points: make(map[site.Name]int, len(plan.Points)), ties: ties.NewIndex(job, plan)}
	for i := range plan.Points {
		d.points[plan.Points[i].Name] = i
	}
	return d
}

// lost says why a point is not located; nothing where it is.
func (d *drawing) lost(names ...site.Name) string {
	for _, n := range names {
		i, ok := d.points[n]
		switch {
		case !ok:
			return string(n) + " is not located: no reading speaks of it"
		case d.plan.Points[i].State == adjust.Determined && d.plan.Points[i].Placed && !math.IsNaN(float64(d.plan.Points[i].At.Length())):
		case d.plan.Points[i].Why != "":
			return string(n) + " is not located: " + d.plan.Points[i].Why
		default:
			return string(n) + " is not located"
		}
	}
	return ""
}

// located tells whether a part is, by its point or its outline.
func (d *drawing) located(name site.Name) bool {
	return d.lost(name) == "" || slices.ContainsFunc(d.plan.Outlines, func(o adjust.Outline) bool { return o.Part == name && o.Fitted })
}

// seen is the things of one item: those that the drawing shows, and why others
// are not on it.
type seen struct{ names, lost []string }

func (s *seen) add(name site.Name, lost string) {
	if lost != "" {
		s.lost = append(s.lost, lost)
	} else {
		s.names = append(s.names, string(name))
	}
}

// answer tells them; enter is what to enter where there is none at all.
func (s *seen) answer(enter string) (Answer, string) {
	switch {
	case len(s.lost) > 0:
		return Missing, english.And(s.lost)
	case len(s.names) == 0:
		return Missing, enter
	}
	return OnSheet, english.And(s.names)
}

// Checks says of every item of the authority's checklist whether the drawing
// shows it, in the order of the pack; none where the pack has no checklist. What
// the person wrote as a note of the visit stands on the drawing and counts: a
// note that begins with "No" says that there is none of a thing.
func Checks(job *site.Job, plan *adjust.Plan, pack *rules.Pack) []Check {
	if pack == nil || pack.Checklist == nil {
		return nil
	}
	d := newDrawing(job, plan)
	out := make([]Check, 0, len(pack.Checklist.Items))
	for _, item := range pack.Checklist.Items {
		c := Check{What: item.What, Words: item.Words, Source: pack.Checklist.Source}
		if c.Words == "" {
			c.Words = string(item.What)
		}
		if item.Source != nil {
			c.Source = *item.Source
		}
		c.Answer, c.Why = d.check(item.What)
		c.Why = english.Sentence(c.Why)
		out = append(out, c)
	}
	return out
}

// check answers one item.
func (d *drawing) check(what rules.Wanted) (Answer, string) {
	s, v := &d.job.Site, &d.job.Visit
	switch what {
	case rules.WantTank:
		return d.partsOf("a tank", "parts: {Tank: {kind: septic tank}} and tie it", site.SepticTank, site.PumpTank)
	case rules.WantLids:
		return d.partsOf("a lid", "parts: {Tank inlet lid: {kind: lid}} and tie it", site.Lid)
	case rules.WantField:
		return d.lineEnds(true)
	case rules.WantBends:
		return d.lineEnds(false)
	case rules.WantBuildings:
		return d.buildings()
	case rules.WantLot:
		return d.lotSides()
	case rules.WantNorth:
		return d.northArrow()
	case rules.WantScale:
		return OnSheet, "every sheet states its scale and shows a bar"
	case rules.WantTitle:
		return OnSheet, "every sheet has a title; show: {title: ...} changes it"
	case rules.WantElevations:
		return d.elevations()
	case rules.WantPreparer:
		return d.entered(pair{v.By, "visit: {by: ...}"}, pair{v.Licence, "visit: {licence: ...}"})
	case rules.WantSignature:
		return d.byHand("sign", "sign the printed sheet: the program cannot")
	case rules.WantTies:
		return d.tied()
	case rules.WantDate:
		return d.entered(pair{v.Date, "visit: {date: 2026-05-14}"})
	case rules.WantParcel:
		return d.entered(pair{s.Parcel, "site: {parcel: ...}"})
	case rules.WantAddress:
		return d.entered(pair{s.Address, "site: {address: ...}"})
	case rules.WantPermit:
		return d.entered(pair{s.Permit, "site: {permit: ...}"})
	}
	return d.checkMore(what)
}

// checkMore answers the items that a site may not have at all.
func (d *drawing) checkMore(what rules.Wanted) (Answer, string) {
	switch what {
	case rules.WantWells:
		return d.featuresOf("well", "features: {Well: {kind: well, at: Well}}", site.Well)
	case rules.WantSoil:
		return d.featuresOf("soil test", "features: {Pit 1: {kind: soil test, at: Pit 1}}", site.SoilTest)
	case rules.WantEasements:
		return d.featuresOf("easement", "features: {Easement: {kind: easement, area: [E1, E2, E3, E4]}}", site.Easement)
	case rules.WantWater:
		return d.featuresOf("surface water", "features: {Brook: {kind: surface water, path: [W1, W2]}}", site.SurfaceWater, site.Spring, site.Wetland, site.Ditch)
	case rules.WantUtilities:
		return d.featuresOf("water line", "features: {Water line: {kind: water line, path: [U1, U2]}}", site.WaterLine, site.UtilityLine, site.StormPipe)
	case rules.WantDriveways:
		return d.featuresOf("driveway", "features: {Drive: {kind: driveway, area: [D1, D2, D3, D4]}}", site.Driveway)
	case rules.WantReserve:
		return d.featuresOf("reserve area", "features: {Reserve: {kind: reserve area, area: [R1, R2, R3, R4]}}", site.ReserveArea)
	case rules.WantMaterials:
		return d.materials()
	case rules.WantPhotos:
		if n := len(d.job.Visit.Photos); n > 0 {
			return NotApplicable, "to the sheet itself: " + english.Count(n, "photo") + " " + stands(n) + " in the report; hand it in with the drawing"
		}
		return Missing, "add photos: [{file: photos/box.jpg, of: D-box}]"
	case rules.WantSettings:
		return d.settings()
	case rules.WantAccuracy:
		return d.accuracy()
	case rules.WantHistory:
		return d.history()
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
func (d *drawing) noted(words ...string) (note string, none bool) {
	for _, n := range d.job.Visit.Notes {
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
func (d *drawing) byNote(words ...string) (Answer, string, bool) {
	n, none := d.noted(words...)
	switch {
	case n == "":
		return "", "", false
	case none:
		return NotApplicable, "by the visit's note: " + n, true
	}
	return OnSheet, "as a note: " + n, true
}

// byHand answers for what a person must do, unless a note speaks of it.
func (d *drawing) byHand(word, why string) (Answer, string) {
	if a, w, ok := d.byNote(word); ok {
		return a, w
	}
	return Missing, why
}

// pair is something entered and the key for it.
type pair struct{ value, key string }

// entered answers for what is printed as it was entered.
func (d *drawing) entered(all ...pair) (Answer, string) {
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

// partsOf answers for parts of some kinds, all of which must be located.
func (d *drawing) partsOf(one, enter string, of ...site.PartKind) (Answer, string) {
	var s seen
	for _, p := range d.job.Site.Parts {
		switch {
		case !slices.Contains(of, p.Kind):
		case d.located(p.Name):
			s.add(p.Name, "")
		default:
			s.add(p.Name, string(p.Name)+" is not located: tie it from two or three marks")
		}
	}
	return s.answer(one + " is not in the job: enter " + enter)
}

// lineEnds answers for the ends of drain lines, or for every end and bend of all
// lines.
func (d *drawing) lineEnds(fieldOnly bool) (Answer, string) {
	var s seen
	for i := range d.job.Site.Lines {
		l := &d.job.Site.Lines[i]
		if fieldOnly && l.Kind != site.DrainLine || len(l.Path) == 0 {
			continue
		}
		points := l.Path
		if fieldOnly {
			points = l.Path[len(l.Path)-1:]
		}
		lost := d.lost(points...)
		if lost != "" {
			lost = string(l.Name) + ": " + lost
		}
		s.add(l.Name, lost)
	}
	return s.answer("no line is in the job: enter lines: {Line 1: {kind: drain line, path: [D-box, L1 end]}}")
}

// features gathers the features of some kinds.
func (d *drawing) features(s *seen, of ...site.FeatureKind) {
	for _, f := range d.job.Site.Features {
		if !slices.Contains(of, f.Kind) {
			continue
		}
		points := f.Points
		if len(points) == 0 {
			points = []site.Name{f.Name}
		}
		s.add(f.Name, d.lost(points...))
	}
}

// featuresOf answers for features that a site may not have: only the person
// knows, and says so by a note.
func (d *drawing) featuresOf(one, enter string, of ...site.FeatureKind) (Answer, string) {
	var s seen
	d.features(&s, of...)
	if len(s.names)+len(s.lost) == 0 {
		if a, w, ok := d.byNote(one); ok {
			return a, w
		}
	}
	return s.answer("none is in the job: enter " + enter + "; where there is none, say so: visit: {notes: [No " + one + " on the site]}")
}

func (d *drawing) buildings() (Answer, string) {
	var s seen
	for _, b := range d.job.Site.Buildings {
		s.add(b.Name, d.lost(b.Corners...))
	}
	d.features(&s, site.Structure)
	return s.answer("no building is in the job: enter buildings: {House: {corners: [A, B, C, D], size: 44' x 28'}}")
}

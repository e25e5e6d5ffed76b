package checklist

import (
	"cmp"
	"strings"

	"undersod/core/adjust"
	"undersod/core/english"
	"undersod/core/site"
	"undersod/core/ties"
	"undersod/core/unit"
)

// lotSides answers for the property line with its dimensions: the sheet prints
// the length of each side that is located.
func (d *drawing) lotSides() (Answer, string) {
	var s seen
	d.features(&s, site.PropertyLine)
	if a, why := s.answer("the lot is not in the job: enter features: {Lot: {kind: property line, area: [Pin 1, Pin 2, Pin 3, Pin 4]}}"); a == Missing {
		return a, why
	}
	long, bare := d.sides()
	switch n, none := d.noted("lot side", "property line", "sides of the lot"); {
	case len(bare) == 0 && len(long) > 0:
		return OnSheet, english.And(s.names) + ", with the lengths of its sides as located: " + strings.Join(long, ", ")
	case n != "" && !none:
		return OnSheet, english.And(s.names) + ", with the lengths as a note: " + n
	case len(bare) == 0:
		return Missing, english.And(s.names) + " has no side: enter features: {Lot: {kind: property line, area: [Pin 1, Pin 2, Pin 3, Pin 4]}}"
	}
	return Missing, english.And(s.names) + " is drawn without the lengths of all sides: " + english.And(bare) + "; tie the pins better, or write the lengths as a note: visit: {notes: [\"Lot sides " + d.say("200', 150', 200', 150'", "60 m, 45 m, 60 m, 45 m") + "\"]}"
}

// sides is the lengths of the sides of all property lines as the sheet prints
// them, and why others have none.
func (d *drawing) sides() (long, bare []string) {
	say := ties.NewWording(d.job.Show)
	for _, f := range d.job.Site.Features {
		if f.Kind != site.PropertyLine {
			continue
		}
		for _, side := range d.ties.Sides(f) {
			if side.Lost != "" {
				bare = append(bare, string(side.From)+" to "+string(side.To)+" has none, as "+side.Lost)
			} else {
				long = append(long, side.Words(say))
			}
		}
	}
	return long, bare
}

// say is an example in the units of the job.
func (d *drawing) say(feet, metres string) string {
	if d.job.Show.Form == unit.Metres {
		return metres
	}
	return feet
}

// northArrow answers by what up on the sheet means.
func (d *drawing) northArrow() (Answer, string) {
	switch d.plan.Frame.North {
	case adjust.NorthUnknown:
		return Missing, "nothing measured north: read a bearing along a wall, or state the datum's azimuth: datum: {mark: A, toward: B, azimuth: N 84° E}"
	case adjust.NorthMagnetic:
		return OnSheet, "an arrow of magnetic north; declination: 4°30' W makes it true north"
	}
	return OnSheet, "an arrow of north"
}

// elevations answers for heights, which the sheet prints in its table of parts.
func (d *drawing) elevations() (Answer, string) {
	table := ties.Of(d.ties)
	if len(table.High) > 0 {
		return OnSheet, "in the table of parts, over the bench mark " + table.Bench + ", taken as 0: " + english.And(table.High)
	}
	if a, w, ok := d.byNote("bench mark", "benchmark", "elevation"); ok {
		return a, w
	}
	if hasRods(d.job) {
		return Missing, "levels are read, and none of them at a part that is located: read the rod on the parts, as rods: {setup 1: {Tank inlet lid: {invert: " + d.say("7.88 ft", "2.402 m") + "}}}"
	}
	return Missing, "no level is read: enter rods: {setup 1: {BM 1: {top: " + d.say("4.32 ft", "1.317 m") + "}, Tank inlet lid: {invert: " + d.say("7.88 ft", "2.402 m") + "}}}"
}

func hasRods(job *site.Job) bool {
	for _, r := range job.Visit.Readings {
		switch r.(type) {
		case site.Rod, *site.Rod:
			return true
		}
	}
	return false
}

// tied answers for the table of ties.
func (d *drawing) tied() (Answer, string) {
	n := 0
	for _, r := range d.job.Visit.Readings {
		switch r.(type) {
		case site.Tie, *site.Tie:
			if r.Common().SetAside == "" {
				n++
			}
		}
	}
	if n == 0 {
		return Missing, "no tie is read: enter ties: {Tank inlet lid: {A: " + d.say("23' 4 1/2\", B: 31' 9\"", "7.13 m, B: 9.68 m") + "}}"
	}
	return OnSheet, "the table of ties, from " + english.Count(n, "reading")
}

// materials answers for what tanks and boxes are made of, which stands beside
// them as their detail.
func (d *drawing) materials() (Answer, string) {
	var s seen
	for _, p := range d.job.Site.Parts {
		if p.Kind != site.SepticTank && p.Kind != site.PumpTank && p.Kind != site.DistributionBox && p.Kind != site.DropBox {
			continue
		}
		detail, of := strings.TrimSpace(p.Detail), strings.TrimSpace(p.Material)
		switch {
		case detail == "" && of == "":
			s.add(p.Name, "what "+string(p.Name)+" is made of: add detail: "+d.say("1,000 gal", "3,800 L")+" concrete to it under parts")
		case !strings.Contains(strings.ToLower(detail), strings.ToLower(of)):
			s.add(p.Name, "what "+string(p.Name)+" is made of: it is entered, and the sheet prints the detail: write detail: "+strings.Trim(of+", "+detail, ", "))
		default:
			s.add(site.Name(string(p.Name)+" ("+detail+")"), "")
		}
	}
	return s.answer("no tank or box is in the job: enter parts: {Tank: {kind: septic tank, detail: " + d.say("1,000 gal", "3,800 L") + " concrete}}")
}

// settings answers for the settings of devices, which only a pump has.
func (d *drawing) settings() (Answer, string) {
	if a, w, ok := d.byNote("float", "timer", "pump setting", "device setting"); ok {
		return a, w
	}
	pump := ""
	for _, p := range d.job.Site.Parts {
		if p.Kind == site.PumpTank {
			pump = string(p.Name)
		}
	}
	for _, l := range d.job.Site.Lines {
		if l.Kind == site.PressurePipe && pump == "" {
			pump = string(l.Name)
		}
	}
	if pump == "" {
		return NotApplicable, "no pump tank and no pressure pipe is in the job"
	}
	return Missing, "the settings of the devices at " + pump + ": write visit: {notes: [Floats on at " + d.say("20 in, off at 8 in", "0.50 m, off at 0.20 m") + "]}"
}

// accuracy answers for how sure the places are, which the table of ties tells.
func (d *drawing) accuracy() (Answer, string) {
	var s seen
	for _, p := range d.job.Site.Parts {
		if !d.located(p.Name) {
			s.add(p.Name, string(p.Name)+" is not located: tie it from two or three marks")
		} else {
			s.add(p.Name, "")
		}
	}
	if a, why := s.answer("no part is in the job: enter parts: {Tank inlet lid: {kind: lid}} and tie it"); a == Missing {
		return a, why
	}
	if v := d.plan.Verdict; v.Fill == adjust.FillNo && v.Words != "" {
		return Missing, "readings disagree: see the check, and mend them first"
	}
	return OnSheet, "the 95 % radius of every part"
}

// history answers for pumping, which the report tells.
func (d *drawing) history() (Answer, string) {
	for _, c := range d.job.Site.Care {
		if strings.Contains(strings.ToLower(c.What), "pump") {
			return NotApplicable, "to the sheet itself: pumped " + cmp.Or(c.Date, "before") + ", told in the report; hand it in with the drawing"
		}
	}
	if a, w, ok := d.byNote("pumped"); ok {
		return a, w
	}
	return Missing, "when the tank was pumped: enter care: [{date: 2021-06, what: pumped}]"
}

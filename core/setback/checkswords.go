package setback

import (
	"cmp"
	"strings"

	"undersod/core/adjust"
	"undersod/core/english"
	"undersod/core/site"
)

// lotSides answers for the property line with its dimensions: the drawing shows
// the line; the lengths of its sides stand on it as a note.
func (y *yard) lotSides() (Answer, string) {
	b := y.lot
	if b == nil {
		for _, t := range y.things {
			if t.Kind == string(site.PropertyLine) && t.lost != "" {
				return Missing, t.lost
			}
		}
		return Missing, "the lot is not in the job: enter features: {Lot: {kind: property line, area: [Pin 1, Pin 2, Pin 3, Pin 4]}}"
	}
	if n, none := y.noted("lot side", "property line", "sides of the lot"); n != "" && !none {
		return OnSheet, string(b.Name) + ", and its sides as a note: " + n
	}
	var sides []string
	for i, v := range b.lot {
		sides = append(sides, y.say.Format(b.lot[(i+1)%len(b.lot)].Minus(v).Length()))
	}
	return Missing, string(b.Name) + " is drawn without the lengths of its sides: write them as a note, as measured: visit: {notes: [Lot sides " + strings.Join(sides, "; ") + "]}"
}

// northArrow answers by what up on the sheet means.
func (y *yard) northArrow() (Answer, string) {
	switch y.plan.Frame.North {
	case adjust.NorthUnknown:
		return Missing, "nothing measured north: read a bearing along a wall, or state the datum's azimuth: datum: {mark: A, toward: B, azimuth: N 84° E}"
	case adjust.NorthMagnetic:
		return OnSheet, "an arrow of magnetic north; declination: 4°30' W makes it true north"
	}
	return OnSheet, "an arrow of north"
}

// elevations answers for levels, which the drawing prints only as notes.
func (y *yard) elevations() (Answer, string) {
	if a, w, ok := y.byNote("bench mark", "benchmark", "elevation"); ok {
		return a, w
	}
	if len(y.plan.Levels.Heights) > 0 || y.plan.Net != nil && hasRods(y.job) {
		return Missing, "levels are read, and the sheet prints none: write those that are wanted as a note: visit: {notes: [Elevations: bench mark 100.00 ft, box inlet 98.43 ft]}"
	}
	return Missing, "no level is read: enter rods: {setup 1: {BM 1: {top: 4.32 ft}, Tank inlet lid: {invert: 7.88 ft}}}"
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

// ties answers for the table of ties.
func (y *yard) ties() (Answer, string) {
	n := 0
	for _, r := range y.job.Visit.Readings {
		switch r.(type) {
		case site.Tie, *site.Tie:
			if r.Common().SetAside == "" {
				n++
			}
		}
	}
	if n == 0 {
		return Missing, "no tie is read: enter ties: {Tank inlet lid: {A: 23' 4 1/2\", B: 31' 9\"}}"
	}
	return OnSheet, "the table of ties, from " + english.Count(n, "reading")
}

// materials answers for what tanks and boxes are made of, which stands beside
// them as their detail.
func (y *yard) materials() (Answer, string) {
	var names, lost []string
	for _, p := range y.job.Site.Parts {
		if columnOfPart(p.Kind) == "" {
			continue
		}
		detail, of := strings.TrimSpace(p.Detail), strings.TrimSpace(p.Material)
		switch {
		case detail == "" && of == "":
			lost = append(lost, "what "+string(p.Name)+" is made of: add detail: 1,000 gal concrete to it under parts")
		case !strings.Contains(strings.ToLower(detail), strings.ToLower(of)):
			lost = append(lost, "what "+string(p.Name)+" is made of: it is entered, and the sheet prints the detail: write detail: "+strings.Trim(of+", "+detail, ", "))
		default:
			names = append(names, string(p.Name)+" ("+detail+")")
		}
	}
	if len(names)+len(lost) == 0 {
		return Missing, "no tank or box is in the job: enter parts: {Tank: {kind: septic tank, detail: 1,000 gal concrete}}"
	}
	return found(names, lost)
}

// settings answers for the settings of devices, which only a pump has.
func (y *yard) settings() (Answer, string) {
	if a, w, ok := y.byNote("float", "timer", "pump setting", "device setting"); ok {
		return a, w
	}
	pump := ""
	for _, p := range y.job.Site.Parts {
		if p.Kind == site.PumpTank {
			pump = string(p.Name)
		}
	}
	for _, l := range y.job.Site.Lines {
		if l.Kind == site.PressurePipe && pump == "" {
			pump = string(l.Name)
		}
	}
	if pump == "" {
		return NotApplicable, "no pump tank and no pressure pipe is in the job"
	}
	return Missing, "the settings of the devices at " + pump + ": write visit: {notes: [Floats on at 20 in, off at 8 in]}"
}

// accuracy answers for how sure the places are, which the table of ties tells.
func (y *yard) accuracy() (Answer, string) {
	worst, name, n := y.plan.Verdict, "", 0
	for _, p := range y.job.Site.Parts {
		if _, ok := y.radius95(p.Name); ok {
			n++
		} else if name == "" {
			name = string(p.Name)
		}
	}
	switch {
	case n == 0:
		return Missing, "no part is located"
	case name != "":
		return Missing, name + " is not located: tie it from two or three marks"
	case worst.Fill == adjust.FillNo && worst.Words != "":
		return Missing, "readings disagree: see the check, and mend them first"
	}
	return OnSheet, "the 95 % radius of every part"
}

// history answers for pumping, which the report tells.
func (y *yard) history() (Answer, string) {
	for _, c := range y.job.Site.Care {
		if strings.Contains(strings.ToLower(c.What), "pump") {
			return NotApplicable, "to the sheet itself: pumped " + cmp.Or(c.Date, "before") + ", told in the report; hand it in with the drawing"
		}
	}
	if a, w, ok := y.byNote("pumped"); ok {
		return a, w
	}
	return Missing, "when the tank was pumped: enter care: [{date: 2021-06, what: pumped}]"
}

package look

import (
	"fmt"
	"math"

	"undersod/core/site"
	"undersod/core/unit"
)

// The limits of a flattened pipe, in percent of its inside diameter. 5 % is
// what a mandrel test of gravity sewers allows (sewer standards of the Town of
// Greentown, Indiana, 2010); 7.5 % is the most that a trade page on plastic
// sewer pipe recommends. No limit for drain lines without pressure was found:
// both are advice there, and the words say so.
const (
	flattenedWatch = 5.0
	flattenedAct   = 7.5
)

// rootsAct is the share of the pipe, in percent, from which roots that were
// called fine are cut before they close it; common practice, no source.
const rootsAct = 50.0

// verdict is a grade with its reason.
type verdict struct {
	grade site.Grade
	why   string
}

// byKind lists the grades that follow from what was seen alone; common
// practice, no source.
var byKind = map[site.FindingKind]verdict{
	site.RootMass:       {site.Act, "a mass of roots holds back solids and water, and it grows"},
	site.Broken:         {site.Act, "a broken pipe lets soil in and falls in further"},
	site.SoilEntering:   {site.Act, "soil that enters fills the line and leaves a hollow above it"},
	site.Blocked:        {site.Act, "nothing passes, and what comes backs up"},
	site.PieceMissing:   {site.Act, "what is missing was there to protect the rest"},
	site.Leaking:        {site.Act, "what leaks out or in does not go where it should"},
	site.WaterOverPipe:  {site.Act, "water above the outlet means that the line or the ground behind it does not take the flow"},
	site.FineRoots:      {site.Watch, "fine roots grow into a mass; look again before long"},
	site.Cracked:        {site.Watch, "a crack lets roots and soil in and may open further"},
	site.JointShifted:   {site.Watch, "a shifted joint catches solids and lets roots in"},
	site.StandingWater:  {site.Watch, "water stands where the line lies low or the ground does not take it"},
	site.Sediment:       {site.Watch, "sediment narrows the line and shows that solids get past the tank"},
	site.Corroded:       {site.Watch, "corroded concrete or metal loses strength; look again before long"},
	site.LineEndSeen:    {site.Note, "the end of the line is no fault"},
	site.AnotherFinding: {site.Note, "no grade was stated, and only the note says what it is"},
}

// judge gives a finding its grade: the stated one, or one by kind and measure.
func (g *ground) judge(f *Finding, line site.Line, tell func(site.Problem), subject string, place site.Place) {
	share, ok := f.share()
	if f.Percent != nil && !ok {
		tell(site.Problem{Place: place, Subject: subject, Found: fmt.Sprint(*f.Percent), Expected: "a percentage from 0 to 100; it is not used", Example: "8"})
	}
	if f.Finding.Grade != site.GradeUnstated {
		f.Grade = min(f.Finding.Grade, site.Act)
		return
	}
	v, known := byKind[f.What]
	if !known {
		v = verdict{site.Note, "no grade was stated, and the program does not know this kind"}
	}
	switch f.What {
	case site.Flattened:
		v = flattened(share, ok)
	case site.FineRoots:
		if ok && share >= rootsAct {
			v = verdict{site.Act, fmt.Sprintf("the roots close %s of the pipe", percent(share))}
		}
	case site.StandingWater, site.Sediment:
		v = g.filled(f, line, v)
	}
	f.Grade, f.Why = v.grade, v.why
}

// share is the stated percentage, and whether it can be one.
func (f *Finding) share() (p float64, ok bool) {
	if f.Percent == nil {
		return 0, false
	}
	return *f.Percent, *f.Percent >= 0 && *f.Percent <= 100
}

func flattened(p float64, stated bool) verdict {
	const advice = "; limits made for sewers, advice only for a drain line"
	switch {
	case !stated:
		return verdict{site.Watch, "nobody stated by how much it is flattened; measure it"}
	case p > flattenedAct:
		return verdict{site.Act, fmt.Sprintf("%s is above 7.5 %%, the most that pipe makers recommend (trade advice)%s", percent(p), advice)}
	case p > flattenedWatch:
		return verdict{site.Watch, fmt.Sprintf("%s is above the 5 %% that a sewer test allows (Greentown, Indiana, 2010)%s", percent(p), advice)}
	}
	return verdict{site.Note, fmt.Sprintf("%s is within the 5 %% that a sewer test allows (Greentown, Indiana, 2010)%s", percent(p), advice)}
}

// filled makes more of water that fills the pipe, and of sediment that fills
// half of it; common practice, no source.
func (g *ground) filled(f *Finding, line site.Line, v verdict) verdict {
	if f.Depth != nil && line.Bore > 0 {
		switch share := float64(f.Depth.Length / line.Bore); {
		case f.What == site.StandingWater && share >= 0.99:
			return verdict{site.Act, "the pipe stands full"}
		case f.What == site.Sediment && share >= 0.5:
			return verdict{site.Act, "sediment fills half of the pipe or more"}
		}
	}
	if f.What == site.StandingWater && f.reachesEnd(g.endOf(line)) {
		v.why = "water stands up to the end of the line: that end may lie low, or the ground no longer takes the water"
	}
	return v
}

// endOf is the station of the line's end; 0 where it is not known.
func (g *ground) endOf(line site.Line) unit.Length {
	if r := g.walk(line.Path); r.whole && len(line.Path) > 1 {
		return r.length
	}
	return 0
}

// reachesEnd tells whether a stretch reaches the line's end, as well as that
// can be told.
func (f *Finding) reachesEnd(end unit.Length) bool {
	if f.To == nil || !f.From.Counted || !f.To.Counted || !(end > 0) {
		return false
	}
	far := *f.To
	if f.From.Station > far.Station {
		far = f.From
	}
	return far.Station+z95*far.StationSD >= end
}

// percent prints a percentage to at most one decimal.
func percent(p float64) string {
	return fmt.Sprintf("%g %%", math.Round(p*10)/10)
}

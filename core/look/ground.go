package look

import (
	"math"

	"undersod/core/adjust"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// ground is the job and its plan with what is looked up again and again.
type ground struct {
	job    *site.Job
	plan   *adjust.Plan
	points map[site.Name]adjust.Point // located ones only
	say    unit.Style
	things []thing
}

func newGround(job *site.Job, plan *adjust.Plan) *ground {
	if job == nil {
		job = &site.Job{}
	}
	if plan == nil {
		plan = &adjust.Plan{}
	}
	g := &ground{job: job, plan: plan, say: coarse(job.Show),
		points: make(map[site.Name]adjust.Point, len(plan.Points))}
	for _, p := range plan.Points {
		if p.Placed && p.State == adjust.Determined && finite(p.At) {
			g.points[p.Name] = p
		}
	}
	g.things = g.gather()
	return g
}

func finite(v planar.Vec) bool { return whole(v.East) && whole(v.North) }

func whole(l unit.Length) bool { return !math.IsNaN(float64(l)) && !math.IsInf(float64(l), 0) }

func (g *ground) line(name site.Name) (site.Line, bool) {
	for _, l := range g.job.Site.Lines {
		if l.Name == name {
			return l, true
		}
	}
	return site.Line{}, false
}

// Deviation returns how far a footage of a run scatters: what the run states,
// else what its instrument states, else the default of a camera counter. A run
// that names no instrument was taken with the only counter that the visit
// declares.
func Deviation(visit *site.Visit, run *site.Run) adjust.Deviation {
	out := counterDefault()
	if run.SD != nil && whole(*run.SD) && *run.SD >= 0 {
		return adjust.Deviation{Fixed: *run.SD, Reason: "stated with the run"}
	}
	if in := counterOf(visit.Instruments, run.Instrument); in != nil {
		if in.Fixed != nil {
			out.Fixed, out.PerUnit = *in.Fixed, 0
		}
		if in.PerUnit != nil {
			out.PerUnit = *in.PerUnit
		}
		out.Reason = "stated with the instrument"
	}
	return out
}

func counterDefault() adjust.Deviation {
	for _, d := range adjust.Defaults() {
		if d.Kind == site.CameraCounter {
			return d.Deviation
		}
	}
	return adjust.Deviation{}
}

// counterOf finds the instrument of that name, or where none is named the only
// camera counter; nil where there is none.
func counterOf(list []site.Instrument, name site.Name) *site.Instrument {
	var only *site.Instrument
	counters := 0
	for i := range list {
		in := &list[i]
		if name != "" && in.Name == name {
			return in
		}
		if in.Kind == site.CameraCounter {
			only = in
			counters++
		}
	}
	if name == "" && counters == 1 {
		return only
	}
	return nil
}

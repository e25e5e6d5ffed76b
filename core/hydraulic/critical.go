package hydraulic

import (
	"math"

	"undersod/core/unit"
)

// gravity is the standard acceleration of free fall in metres per second
// squared (3rd General Conference on Weights and Measures, 1901, exact).
const gravity = 9.80665

// Everything below is said of a pipe of bore 1, in units in which gravity is 1:
// a flow Q becomes Q/(√g bore^2.5), a head E becomes E/bore. The half angle of
// the surface, see halfAngle, stands for the depth, since everything is smooth
// in it from empty to full.

// flowScale returns √g bore^2.5 in cubic metres per second.
func flowScale(bore float64) float64 { return math.Sqrt(gravity*bore) * bore * bore }

// criticalState returns the flow that is critical at a half angle, and its
// specific energy.
func criticalState(half float64) (flow, energy float64) {
	sin, cos := math.Sincos(half)
	area := angleLessSine(half, sin, cos) / 4
	return area * math.Sqrt(area/sin), filledTo(half) + area/(2*sin)
}

// fullAtFlow is a flow at which the critical depth is the bore to the last
// digit: the gap to the crown is about (π/4)⁶/(4 flow⁴) of the bore.
const fullAtFlow = 5000

// halfAngleOfFlow returns the half angle at which a flow is critical.
func halfAngleOfFlow(flow float64) float64 {
	if flow >= fullAtFlow {
		return math.Pi
	}
	// Near empty the area is θ³/6 and the width θ; near full the area is π/4
	// and the width π − θ.
	start := math.Sqrt(math.Sqrt(math.Pow(6, 1.5) * flow))
	if flow > 0.5 {
		start = math.Pi - min(1.1, 0.48/(flow*flow))
	}
	target := math.Log(flow)
	return rising(func(half float64) (float64, float64) {
		sin, cos := math.Sincos(half)
		area := angleLessSine(half, sin, cos) / 4
		return 1.5*math.Log(area) - 0.5*math.Log(sin) - target, 0.75*sin*sin/area - 0.5*cos/sin
	}, 0, math.Pi, start)
}

// brink is critical flow under a given energy.
type brink struct{ half, flow, slope float64 } // slope of the flow over the energy

// brinkUnder returns the critical flow whose specific energy is as given, above
// 0 and up to switchEnergy. Critical flow is the largest that the energy passes,
// area × √(2 (energy − depth)) over all depths. So an error of the half angle
// counts in the flow only as its square, and the slope of the flow is that at a
// depth held, area over speed.
func brinkUnder(energy float64) brink {
	// The energy is θ²/3 near empty; what multiplies it is a fit good to 0.001.
	half := math.Sqrt(3*energy) * (1 + energy*(0.1064+0.0255*energy))
	var b brink
	for range 20 {
		sin, cos := math.Sincos(half)
		area := angleLessSine(half, sin, cos) / 4
		depth := sin * sin / (2 * (1 + cos)) // (1 − cos)/2 without cancelling
		step := (depth + area/(2*sin) - energy) / (0.75*sin - area*cos/(2*sin*sin))
		half -= step
		speed := math.Sqrt(2 * (energy - depth))
		b = brink{half: half, flow: area * speed, slope: area / speed}
		if math.Abs(step) <= 3e-9*half { // what is left is its square
			break
		}
	}
	return b
}

// CriticalDepth returns the depth at which a flow runs critical in a round
// pipe, where flow² × top width = g × area³ (Chow, Open-Channel Hydraulics,
// 1959, chapter 4, from memory). It goes from 0 for no flow toward the bore,
// which no flow exceeds: a large one fills the pipe to within what can be
// printed. Errors are a bore outside 1 mm to 10 m and a flow that is negative,
// no number or above 1000 m³/s.
func CriticalDepth(bore unit.Length, flow unit.Flow) (unit.Length, error) {
	if err := checkBore("the pipe", bore); err != nil {
		return 0, err
	}
	if err := checkInflow(flow); err != nil {
		return 0, err
	}
	if flow < smallest {
		return 0, nil
	}
	half := halfAngleOfFlow(float64(flow) / flowScale(float64(bore)))
	return bore * unit.Length(filledTo(half)), nil
}

// CriticalFlow is the inverse of CriticalDepth: the flow that runs critical at
// a depth, √(g area³ / top width), in cubic metres per second. It has no bound
// as the pipe fills, so the depth must stay below the bore.
func CriticalFlow(bore, depth unit.Length) (unit.Flow, error) {
	s, err := PartFull(bore, depth)
	if err != nil || depth == 0 {
		return 0, err
	}
	if s.Top == 0 {
		return 0, errFullSection
	}
	return unit.Flow(float64(s.Area) * math.Sqrt(gravity*float64(s.Area)/float64(s.Top))), nil
}

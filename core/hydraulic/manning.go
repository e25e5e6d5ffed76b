package hydraulic

import (
	"fmt"
	"math"

	"undersod/core/unit"
)

// Speed is a distance per time in metres per second.
type Speed float64

// FootPerSecond is one foot per second.
const FootPerSecond Speed = Speed(unit.Foot)

// SmoothPipe is Manning's roughness of smooth plastic pipe, in s/m^(1/3), as
// designs use it (common practice, no source).
const SmoothPipe = 0.010

// Pipe is a round pipe on an even slope.
type Pipe struct {
	Bore      unit.Length // inside diameter
	Slope     float64     // fall over run, as 0.01 for 1 in 100
	Roughness float64     // Manning's n in s/m^(1/3), as 0.013
}

// Carried is what a pipe carries in steady, even flow.
type Carried struct {
	Depth unit.Length
	Flow  unit.Flow
	Speed Speed // flow over wetted area
}

// mostFull is the half angle at which a round pipe carries most: with φ = 2θ,
// 3φ − 5φ cos φ + 2 sin φ = 0, from the slope of area^(5/3)/perimeter^(2/3).
// The pipe is then full to 0.938 of its bore and carries 1.076 of what it does
// full.
const mostFull = 2.639053568966898

// At returns what the pipe carries with water to a depth, by Manning's formula:
// speed = radius^(2/3) slope^(1/2) / n in metres and seconds (Chow,
// Open-Channel Hydraulics, 1959, equation 5-6, from memory). It holds for
// turbulent flow; a trickle runs slower than it says. Errors are a pipe or a
// depth that cannot be.
func (p Pipe) At(depth unit.Length) (Carried, error) {
	if err := p.check(); err != nil {
		return Carried{}, err
	}
	s, err := PartFull(p.Bore, depth)
	if err != nil {
		return Carried{}, err
	}
	speed := Speed(math.Pow(float64(s.Radius), 2.0/3) * math.Sqrt(p.Slope) / p.Roughness)
	return Carried{Depth: depth, Flow: unit.Flow(float64(speed) * float64(s.Area)), Speed: speed}, nil
}

// Full returns what the pipe carries when it runs full without pressure; see
// At.
func (p Pipe) Full() (Carried, error) { return p.At(p.Bore) }

// Most returns the most that the pipe carries without pressure: more than full,
// since the last strip under the crown adds more wall than room. See At.
func (p Pipe) Most() (Carried, error) {
	return p.At(p.Bore * unit.Length(filledTo(mostFull)))
}

// Normal returns the depth and speed at which the pipe carries a flow, the
// lower depth where two do. Errors are a pipe that cannot be, a flow that is
// negative or no number, and one above Most.
func (p Pipe) Normal(flow unit.Flow) (Carried, error) {
	most, err := p.Most()
	if err != nil {
		return Carried{}, err
	}
	if err := checkInflow(flow); err != nil {
		return Carried{}, err
	}
	switch {
	case flow > most.Flow:
		return Carried{}, fmt.Errorf("the pipe carries at most %s on its slope, not %s; it runs under pressure or backs up",
			unit.Style{}.FormatPumpFlow(most.Flow), unit.Style{}.FormatPumpFlow(flow))
	case flow < smallest:
		return Carried{}, nil
	case flow == most.Flow:
		return most, nil
	}
	half := p.halfAngleFor(float64(flow))
	got, err := p.At(p.Bore * unit.Length(filledTo(half)))
	got.Flow = flow
	return got, err
}

// halfAngleFor solves area^(5/3)/perimeter^(2/3) for the half angle in the
// logarithm, where both ends are tame.
func (p Pipe) halfAngleFor(flow float64) float64 {
	want := flow * p.Roughness / (math.Sqrt(p.Slope) * math.Pow(float64(p.Bore), 8.0/3))
	start := math.Pow(math.Pow(6, 5.0/3)*want, 3.0/13) // area θ³/6, near empty
	target := math.Log(want)
	return rising(func(half float64) (float64, float64) {
		sin, cos := math.Sincos(half)
		area := angleLessSine(half, sin, cos) / 4
		return (5*math.Log(area)-2*math.Log(half))/3 - target, (2.5*sin*sin/area - 2/half) / 3
	}, 0, mostFull, start)
}

// check tells what of the pipe cannot be.
func (p Pipe) check() error {
	if err := checkBore("the pipe", p.Bore); err != nil {
		return err
	}
	if !(p.Slope >= 1e-6 && p.Slope <= 10) {
		return fmt.Errorf("the pipe: it falls %g per run; a slope must be between 0.000001 and 10, such as 0.01 (1/8\" per foot is 0.0104)", p.Slope)
	}
	if !(p.Roughness >= 0.001 && p.Roughness <= 1) {
		return fmt.Errorf("the pipe: Manning's n is %g; it must be between 0.001 and 1, such as 0.010 for smooth plastic", p.Roughness)
	}
	return nil
}

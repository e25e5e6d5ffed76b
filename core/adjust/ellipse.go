package adjust

import (
	"math"

	"undersod/core/planar"
	"undersod/core/unit"
)

// ellipseFactor is the factor from one standard deviation to the ellipse that
// holds a point of the plane with 95 %: the root of the 0.95 quantile of
// chi-square with two degrees of freedom, √(-2 ln 0.05).
const ellipseFactor = 2.447746830680816

// Ellipse95 returns the 95 % ellipse of a covariance.
func (s Sigma) Ellipse95() Ellipse {
	e, n := float64(s.East), float64(s.North)
	ee, nn, en := e*e, n*n, s.Correlation*e*n
	mean, half := (ee+nn)/2, math.Hypot((ee-nn)/2, en)
	major, minor := math.Sqrt(math.Max(mean+half, 0)), math.Sqrt(math.Max(mean-half, 0))
	// The major axis makes the angle t with north, tan 2t = 2 en / (nn - ee).
	azimuth := unit.Angle(0.5 * math.Atan2(2*en, nn-ee)).Turn()
	if azimuth >= math.Pi {
		azimuth -= math.Pi
	}
	return Ellipse{
		Major: unit.Length(major * ellipseFactor), Minor: unit.Length(minor * ellipseFactor),
		Azimuth: azimuth, Radius: unit.Length(radius95(major, minor)),
	}
}

// Spread returns s as variances and a covariance, in square metres; nothing
// where s is no number.
func (s Sigma) Spread() planar.Spread {
	e, n := float64(s.East), float64(s.North)
	out := planar.Spread{East: unit.Area(e * e), North: unit.Area(n * n), Joint: unit.Area(s.Correlation * e * n)}
	if math.IsNaN(float64(out.East + out.North + out.Joint)) {
		return planar.Spread{}
	}
	return out
}

// Radius95 returns the radius of the circle that holds a point of the spread s
// with 95 %.
func Radius95(s planar.Spread) unit.Length {
	return sigmaOf(float64(s.East), float64(s.Joint), float64(s.North)).Ellipse95().Radius
}

// radius95 returns the radius of the circle about the mean that holds a normal
// point of the plane with 95 %, from the standard deviations along the axes. The
// polynomial passes through the radii found by integrating the density for six
// ratios of the axes (the Chebyshev nodes between 0 and 1); a test holds it
// against the integral.
func radius95(major, minor float64) float64 {
	if major <= 0 {
		return 0
	}
	c := minor / major
	return major * (1.96047 + c*(-0.03589+c*(0.65949+c*(-1.58085+c*(2.59028-c*1.14651)))))
}

package storage

import (
	"math"

	"undersod/core/unit"
)

// basin is a trench in metres, cubic metres and seconds. With a steady inflow q
// its level y follows void dy/dt = q − rate (floor + wall y), which is solved
// exactly: y tends to a rest with the constant fade = rate wall/void.
type basin struct {
	void   float64 // water that a metre of level holds: length × width × porosity
	floor  float64 // what soaks away through the bottom
	wall   float64 // what soaks away through the sides for each metre of level
	fade   float64 // wall/void
	top    float64
	shut   bool // takes no inflow
	level  float64
	soaked sum
	inflow sum
}

func newBasin(t Trench) basin {
	length, width, rate := float64(t.Length), float64(t.Width), float64(t.Rate)
	b := basin{void: length * width * t.Porosity, top: float64(t.Height), shut: t.OutOfUse, level: float64(t.Start)}
	if t.Bottom {
		b.floor = rate * length * width
	}
	if t.Side { // the ends are flat and soak like the long sides
		b.wall = rate * 2 * (length + width)
	}
	b.fade = b.wall / b.void
	return b
}

// soaks returns what soaks away per second at a level.
func (b *basin) soaks(level float64) float64 { return b.floor + b.wall*level }

// full tells whether the water stands at the top.
func (b *basin) full() bool { return b.level >= b.top }

// course is how the level of one trench goes while its inflow stays: from a
// level at a speed that fades. A level that stays has no speed.
type course struct {
	inflow float64
	from   float64
	speed  float64 // at the beginning
	fade   float64
}

// under returns the course under an inflow, which a full trench is never given
// more of than soaks away. A dry trench takes at its bottom what comes, up to
// what the bottom soaks.
func (b *basin) under(inflow float64) course {
	c := course{inflow: inflow, from: b.level, speed: (inflow - b.soaks(b.level)) / b.void, fade: b.fade}
	if b.level == 0 && c.speed < 0 || b.full() && c.speed > 0 {
		c.speed = 0
	}
	return c
}

// reach is how far a unit of speed takes the level within a time:
// (1 − e^(−fade t))/fade, which is t where nothing fades.
func (c *course) reach(t float64) float64 {
	if c.fade*t < 1e-300 {
		return t
	}
	return -math.Expm1(-c.fade*t) / c.fade
}

// at returns the level after a time.
func (c *course) at(t float64) float64 {
	if c.speed == 0 {
		return c.from
	}
	return c.from + c.speed*c.reach(t)
}

// until returns the time to a level in the direction of the course, infinite
// where it comes to rest before.
func (c *course) until(level float64) float64 {
	far := (level - c.from) / c.speed
	if c.fade == 0 || c.fade*far < 1e-300 {
		return far
	}
	if c.fade*far >= 1 {
		return math.Inf(1)
	}
	return -math.Log1p(-c.fade*far) / c.fade
}

// standing returns the level added up over a time, in metre-seconds: the
// integral of at, by its own formula so that the balance is a true check.
func (c *course) standing(t float64) float64 {
	return c.from*t + c.speed*c.sumReach(t)
}

// sumReach is the integral of reach: (t − reach(t))/fade. Where little fades
// that cancels, and its series t²/2 − fade t³/6 + … is taken; the first term
// left out is under 1e-16 of it.
func (c *course) sumReach(t float64) float64 {
	x := c.fade * t
	if x > 0.1 {
		return (t - c.reach(t)) / c.fade
	}
	s := 1.0
	for n := 12.0; n >= 3; n-- {
		s = 1 - s*x/n
	}
	return t * t / 2 * s
}

// ends returns the time at which the trench fills to the top or falls dry,
// infinite where it does neither.
func (b *basin) ends(c course) float64 {
	switch {
	case c.speed > 0:
		return c.until(b.top)
	case c.speed < 0:
		return c.until(0)
	}
	return math.Inf(1)
}

// follow takes the trench along its course for a time, up to the time at which
// the course ends.
func (b *basin) follow(c course, t float64) {
	b.inflow.add(c.inflow * t)
	switch {
	case c.speed == 0 && b.level == 0:
		b.soaked.add(c.inflow * t)
		return
	case c.speed == 0:
		b.soaked.add(b.soaks(b.level) * t)
		return
	}
	b.soaked.add(b.floor*t + b.wall*c.standing(t))
	switch ended := t >= b.ends(c); {
	case ended && c.speed > 0:
		b.level = b.top
	case ended:
		b.level = 0
	default:
		b.level = b.bound(c.at(t))
	}
}

// bound keeps the last digit of a level inside the trench.
func (b *basin) bound(level float64) float64 { return max(0, min(level, b.top)) }

// holds returns the water in the stone.
func (b *basin) holds() unit.Volume { return unit.Volume(b.void * b.level) }

// sum adds many numbers and keeps what a plain sum would round away (Neumaier,
// Rundungsfehleranalyse einiger Verfahren zur Summation endlicher Summen, 1974,
// from memory).
type sum struct{ total, rest float64 }

func (s *sum) add(v float64) {
	t := s.total + v
	if math.Abs(s.total) >= math.Abs(v) {
		s.rest += s.total - t + v
	} else {
		s.rest += v - t + s.total
	}
	s.total = t
}

func (s *sum) value() float64 { return s.total + s.rest }

package adjust

import (
	"math"

	"undersod/core/least"
)

// The models below predict one number from the unknowns. Unknowns 2i and 2i+1
// are the working east and north of point i in metres; the working frame has
// the datum mark at the origin and the datum direction along east. The derivations
// are in docs/method.md.

// xy returns the working position of point i.
func xy(x []float64, i int) (e, n float64) { return x[2*i], x[2*i+1] }

// distanceModel is the distance between points a and b, sloped by a fixed
// height difference rise (m).
type distanceModel struct {
	a, b int
	rise float64
}

func (m distanceModel) Predict(x []float64, t []least.Term) (float64, []least.Term) {
	ae, an := xy(x, m.a)
	be, bn := xy(x, m.b)
	de, dn := be-ae, bn-an
	d := math.Sqrt(de*de + dn*dn + m.rise*m.rise)
	ue, un := 1.0, 0.0 // any direction will do for two points in one place
	if d > 1e-9 {
		ue, un = de/d, dn/d
	}
	return d, append(t,
		least.Term{Index: 2 * m.a, Slope: -ue}, least.Term{Index: 2*m.a + 1, Slope: -un},
		least.Term{Index: 2 * m.b, Slope: ue}, least.Term{Index: 2*m.b + 1, Slope: un})
}

// baselineModel is the station of point p along the baseline from a to b, or
// its distance to the right of it.
type baselineModel struct {
	a, b, p int
	right   bool
}

func (m baselineModel) Predict(x []float64, t []least.Term) (float64, []least.Term) {
	ae, an := xy(x, m.a)
	be, bn := xy(x, m.b)
	pe, pn := xy(x, m.p)
	length := math.Hypot(be-ae, bn-an)
	ue, un := 1.0, 0.0
	if length > 1e-9 {
		ue, un = (be-ae)/length, (bn-an)/length
	} else {
		length = 1
	}
	ve, vn := pe-ae, pn-an
	station, right := ve*ue+vn*un, ve*un-vn*ue
	// u turns when b moves: du = w/length per metre along w, w square to u.
	// The station then changes by the right part and the right by the station.
	value, ce, cn, lever := station, ue, un, right
	if m.right {
		value, ce, cn, lever = right, un, -ue, -station
	}
	// w = (un, -ue) is to the right of u; moving b by w turns u toward w.
	be1, bn1 := lever*un/length, -lever*ue/length
	return value, append(t,
		least.Term{Index: 2 * m.p, Slope: ce}, least.Term{Index: 2*m.p + 1, Slope: cn},
		least.Term{Index: 2 * m.b, Slope: be1}, least.Term{Index: 2*m.b + 1, Slope: bn1},
		least.Term{Index: 2 * m.a, Slope: -ce - be1}, least.Term{Index: 2*m.a + 1, Slope: -cn - bn1})
}

// directionModel is the azimuth from a to b: the working azimuth plus the
// unknown turn of the frame.
type directionModel struct{ a, b, turn int }

func (m directionModel) Predict(x []float64, t []least.Term) (float64, []least.Term) {
	ae, an := xy(x, m.a)
	be, bn := xy(x, m.b)
	de, dn := be-ae, bn-an
	q := de*de + dn*dn
	if q < 1e-18 {
		q = 1e-18
	}
	se, sn := dn/q, -de/q
	return math.Atan2(de, dn) + x[m.turn], append(t,
		least.Term{Index: 2 * m.a, Slope: -se}, least.Term{Index: 2*m.a + 1, Slope: -sn},
		least.Term{Index: 2 * m.b, Slope: se}, least.Term{Index: 2*m.b + 1, Slope: sn},
		least.Term{Index: m.turn, Slope: 1})
}

// fixModel is the east or north of point p in a frame turned by the unknown
// turn and shifted by the unknown shift, both held where they are known.
type fixModel struct {
	p, turn, shift int
	north          bool
}

func (m fixModel) Predict(x []float64, t []least.Term) (float64, []least.Term) {
	e, n := xy(x, m.p)
	s, c := math.Sincos(x[m.turn])
	ge, gn := e*c+n*s, -e*s+n*c
	if m.north {
		return gn + x[m.shift+1], append(t,
			least.Term{Index: 2 * m.p, Slope: -s}, least.Term{Index: 2*m.p + 1, Slope: c},
			least.Term{Index: m.turn, Slope: -ge}, least.Term{Index: m.shift + 1, Slope: 1})
	}
	return ge + x[m.shift], append(t,
		least.Term{Index: 2 * m.p, Slope: c}, least.Term{Index: 2*m.p + 1, Slope: s},
		least.Term{Index: m.turn, Slope: gn}, least.Term{Index: m.shift, Slope: 1})
}

// pathModel is the length along a polyline.
type pathModel struct{ points []int }

func (m pathModel) Predict(x []float64, t []least.Term) (float64, []least.Term) {
	sum := 0.0
	for k := 1; k < len(m.points); k++ {
		var d float64
		d, t = distanceModel{a: m.points[k-1], b: m.points[k]}.Predict(x, t)
		sum += d
	}
	return sum, t
}

// squareModel is the turn at corner c when walking from a through c to b,
// clockwise positive.
type squareModel struct{ a, c, b int }

func (m squareModel) Predict(x []float64, t []least.Term) (float64, []least.Term) {
	ae, an := xy(x, m.a)
	ce, cn := xy(x, m.c)
	be, bn := xy(x, m.b)
	ie, in := ce-ae, cn-an
	oe, on := be-ce, bn-cn
	qi, qo := math.Max(ie*ie+in*in, 1e-18), math.Max(oe*oe+on*on, 1e-18)
	turn := math.Atan2(oe, on) - math.Atan2(ie, in)
	ai, aj := in/qi, -ie/qi // slope of the incoming azimuth per move of c
	bi, bj := on/qo, -oe/qo // slope of the outgoing azimuth per move of b
	return turn, append(t,
		least.Term{Index: 2 * m.a, Slope: ai}, least.Term{Index: 2*m.a + 1, Slope: aj},
		least.Term{Index: 2 * m.c, Slope: -ai - bi}, least.Term{Index: 2*m.c + 1, Slope: -aj - bj},
		least.Term{Index: 2 * m.b, Slope: bi}, least.Term{Index: 2*m.b + 1, Slope: bj})
}

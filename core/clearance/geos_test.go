package clearance_test

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"testing"
	"time"

	"undersod/core/clearance"
	"undersod/core/planar"
	"undersod/core/unit"
)

// python is Debian's, for which python3-shapely is made.
const python = "/usr/bin/python3"

// geosShape and geosLot are what testdata/geos.py reads.
type geosShape struct {
	Points  [][2]float64 `json:"points"`
	Closed  bool         `json:"closed"`
	Radius  float64      `json:"radius"`
	Half    float64      `json:"half"`
	Setback float64      `json:"setback"`
}

type geosLot struct {
	Lot       [][2]float64 `json:"lot"`
	Setback   float64      `json:"setback"`
	Foot      [][2]float64 `json:"foot"`
	Turn      float64      `json:"turn"`
	Tolerance float64      `json:"tolerance"`
	Obstacles []geosShape  `json:"obstacles"`
	Places    [][2]float64 `json:"places"`
}

func numbers(points []planar.Vec) [][2]float64 {
	out := make([][2]float64, len(points))
	for i, p := range points {
		out[i] = [2]float64{float64(p.East), float64(p.North)}
	}
	return out
}

func toGEOS(s clearance.Shape, setback unit.Length) geosShape {
	return geosShape{numbers(s.Points), s.Closed, float64(s.Radius), float64(s.HalfWidth), float64(setback)}
}

func (y yard) toGEOS(tolerance float64) geosLot {
	out := geosLot{
		Lot: numbers(y.Ground.Lot), Setback: float64(y.Ground.Setback), Foot: numbers(y.Foot.Corners),
		Turn: float64(y.Turn), Tolerance: tolerance,
	}
	for _, o := range y.Ground.Obstacles {
		out.Obstacles = append(out.Obstacles, toGEOS(o.Shape, o.Setback))
	}
	return out
}

// askGEOS runs the script. Where shapely is not installed the test is skipped, or
// fails if UNDERSOD_REQUIRE_TOOLS is 1.
func askGEOS(t testing.TB, question, answer any) {
	t.Helper()
	if exec.Command(python, "-c", "import shapely").Run() != nil {
		const word = "the shapely module of " + python + " is not installed (Debian package python3-shapely); the comparison with GEOS did not run"
		if os.Getenv("UNDERSOD_REQUIRE_TOOLS") == "1" {
			t.Fatal(word)
		}
		t.Skip(word)
	}
	in, err := json.Marshal(question)
	if err != nil {
		t.Fatal(err)
	}
	var complaints bytes.Buffer
	run := exec.Command(python, "testdata/geos.py")
	run.Stdin, run.Stderr = bytes.NewReader(in), &complaints
	out, err := run.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, complaints.String())
	}
	if err := json.Unmarshal(out, answer); err != nil {
		t.Fatal(err)
	}
}

// geosLots is how many lots are compared, and geosTolerance the tolerance of
// their arcs on both sides: both draw a circle as the same circumscribed polygon.
const (
	geosLots      = 500
	geosTolerance = 0.002
)

func TestRegionsAgainstGEOS(t *testing.T) {
	rnd := rand.New(rand.NewPCG(31, 32))
	yards, regions, lots := make([]yard, geosLots), make([]clearance.Region, geosLots), make([]geosLot, geosLots)
	for i := range yards {
		u := rnd.Float64()
		yards[i] = randomYard(rnd, 3+int(28*u*u*u))
		r, err := clearance.Allowed(yards[i].Ground, yards[i].Foot, yards[i].Turn, geosTolerance)
		if err != nil {
			t.Fatal(err)
		}
		regions[i], lots[i] = r, yards[i].toGEOS(geosTolerance)
		lots[i].Places = numbers(placesAbout(rnd, yards[i], r))
	}
	var answers []geosAnswer
	askGEOS(t, map[string]any{"mode": "regions", "lots": lots}, &answers)
	if len(answers) != geosLots {
		t.Fatalf("%d answers for %d lots", len(answers), geosLots)
	}
	worst, inside, empty := 0.0, 0, 0
	for i, a := range answers {
		r := regions[i]
		off := math.Abs(float64(r.Area) - a.Area)
		if off > 1e-4*a.Area && off > 1e-4 {
			t.Errorf("lot %d: %.6f m², GEOS %.6f m²", i, r.Area, a.Area)
		}
		if a.Area > 1 {
			worst = max(worst, off/a.Area)
		} else {
			empty++
		}
		inside += checkPlaces(t, i, r, lots[i].Places, a)
	}
	t.Logf("%d lots, %d of them with less than 1 m² left; area off by %.1e of itself at most; %d places inside", geosLots, empty, worst, inside)
	if inside < 1000 || empty > geosLots/3 {
		t.Error("the lots show too little")
	}
}

// geosAnswer is what testdata/geos.py finds of a lot; margins, inside and
// from_edge for each of its places.
type geosAnswer struct {
	Area     float64   `json:"area"`
	Margins  []float64 `json:"margins"`
	Inside   []bool    `json:"inside"`
	FromEdge []float64 `json:"from_edge"`
}

// checkPlaces compares what is inside with GEOS's region and with the distances,
// which know no arcs.
func checkPlaces(t *testing.T, lot int, r clearance.Region, places [][2]float64, a geosAnswer) int {
	t.Helper()
	count := 0
	for k, p := range places {
		in, m := r.Contains(at(p[0], p[1])), a.Margins[k]
		if in {
			count++
		}
		switch {
		case in != a.Inside[k] && a.FromEdge[k] > geosTolerance:
			t.Errorf("lot %d: %v inside is %v and for GEOS %v, %v from the edge", lot, p, in, a.Inside[k], a.FromEdge[k])
		case in && m < -1e-9:
			t.Errorf("lot %d: %v is inside and breaks a setback by %v", lot, p, m)
		case !in && m > float64(r.Tolerance)+1e-9:
			t.Errorf("lot %d: %v is not inside and has %v to spare", lot, p, m)
		}
	}
	return count
}

// placesAbout are places anywhere about the lot, and such beside corners of the
// region.
func placesAbout(rnd *rand.Rand, y yard, r clearance.Region) []planar.Vec {
	var out []planar.Vec
	lo, hi := y.extent()
	for range 12 {
		out = append(out, at(float64(lo.East)+rnd.Float64()*float64(hi.East-lo.East), float64(lo.North)+rnd.Float64()*float64(hi.North-lo.North)))
	}
	for _, p := range r.Pieces[:min(2, len(r.Pieces))] {
		for range 6 {
			c := p.Outer[rnd.IntN(len(p.Outer))]
			out = append(out, c.Plus(at(0.006*rnd.NormFloat64(), 0.006*rnd.NormFloat64())))
		}
	}
	return out
}

func TestDistancesAgainstGEOS(t *testing.T) {
	rnd := rand.New(rand.NewPCG(41, 42))
	const n = 2000
	pairs, ours := make([][2]geosShape, n), make([]float64, n)
	apart := 0
	for i := range pairs {
		a, b := randomObstacle(rnd, 25, at(0, 0)), randomObstacle(rnd, 25, at(10, 0))
		ours[i] = float64(clearance.Distance(a, b).Distance)
		pairs[i] = [2]geosShape{toGEOS(a, 0), toGEOS(b, 0)}
		if ours[i] > 0 {
			apart++
		}
	}
	var theirs []float64
	askGEOS(t, map[string]any{"mode": "distances", "pairs": pairs}, &theirs)
	if len(theirs) != n {
		t.Fatalf("%d answers for %d pairs", len(theirs), n)
	}
	worst := 0.0
	for i, d := range theirs {
		off := math.Abs(d - ours[i])
		if worst = max(worst, off); off > 1e-9 {
			t.Errorf("pair %d: %v, GEOS %v", i, ours[i], d)
		}
	}
	t.Logf("%d pairs, %d of them apart, off by %.1e m at most", n, apart, worst)
	if apart < n/4 || apart > n*99/100 {
		t.Error("the pairs show too little")
	}
}

// quadSegs is how many chords GEOS draws in a quarter circle where it is timed:
// about as many as benchTolerance gives for the largest setback.
const quadSegs = 24

// BenchmarkAllowedByGEOS times GEOS's buffers, union and difference of the lot of
// BenchmarkAllowed, the reading of it, the convex hulls and the start of the
// program left out, beside all of Allowed: the quickest of twenty times each, in
// one run, and how many times the second goes into the first.
func BenchmarkAllowedByGEOS(b *testing.B) {
	const times = 20
	y := benchYard(b, 30)
	question := map[string]any{"mode": "plain", "quad_segs": quadSegs, "times": times, "lots": []geosLot{y.toGEOS(float64(benchTolerance))}}
	var answers []struct{ Area, Seconds float64 }
	ours, area := math.Inf(1), 0.0
	for b.Loop() {
		askGEOS(b, question, &answers)
		for range times {
			start := time.Now()
			r, err := clearance.Allowed(y.Ground, y.Foot, y.Turn, benchTolerance)
			if err != nil {
				b.Fatal(err)
			}
			ours, area = min(ours, time.Since(start).Seconds()), float64(r.Area)
		}
	}
	if len(answers) != 1 || math.Abs(answers[0].Area-area) > 1e-3*area {
		b.Fatalf("GEOS finds %v, expected %v m²", answers, area)
	}
	b.ReportMetric(answers[0].Seconds*1e3, "GEOS-ms")
	b.ReportMetric(ours*1e3, "ours-ms")
	b.ReportMetric(answers[0].Seconds/ours, "GEOS/ours")
	b.ReportMetric(0, "ns/op")
}

package level_test

import (
	"encoding/binary"
	"math"
	"testing"

	"undersod/core/level"
	"undersod/core/site"
	"undersod/core/unit"
)

// dice turns bytes into choices; all are 0 when the bytes are used up.
type dice struct{ data []byte }

func (d *dice) next(n int) int {
	if len(d.data) == 0 {
		return 0
	}
	v := int(d.data[0]) % n
	d.data = d.data[1:]
	return v
}

func (d *dice) name() site.Name { return site.Name([]string{"", "A", "B", "C", "box"}[d.next(5)]) }

func (d *dice) length() unit.Length {
	weird := []float64{0, 1, -1, 1.5, math.NaN(), math.Inf(1), math.Inf(-1), 1e300, 1e-300, -1e-9, 9999, 0.3048}
	if k := d.next(len(weird) + 1); k < len(weird) {
		return unit.Length(weird[k])
	}
	if len(d.data) < 8 {
		return 2
	}
	v := math.Float64frombits(binary.LittleEndian.Uint64(d.data))
	d.data = d.data[8:]
	return unit.Length(v)
}

func (d *dice) written() *unit.Written {
	if d.next(6) == 5 {
		return nil
	}
	return &unit.Written{Text: []string{"", "5.69", `4' 6"`, "\xff"}[d.next(4)], Length: d.length(), Form: unit.Form(d.next(8))}
}

func (d *dice) sd() *unit.Length {
	if d.next(3) > 0 {
		return nil
	}
	l := d.length()
	return &l
}

func (d *dice) reading() site.Reading {
	read := unit.Written{}
	if w := d.written(); w != nil {
		read = *w
	}
	switch d.next(5) {
	case 0:
		return site.Depth{Point: d.name(), Read: read}
	case 1:
		return nil
	}
	return site.Rod{Setup: d.name(), Point: d.name(), On: site.RodFeet()[d.next(4)], Read: read, SD: d.sd()}
}

func (d *dice) opening() site.Opening {
	return site.Opening{Line: d.name(), Rod: d.name(), Down: d.written(), SD: d.sd(), FromLeft: d.written(), Wall: site.Edge(d.next(7))}
}

func (d *dice) box() site.Box {
	b := site.Box{Part: d.name(), Length: d.written(), Width: d.written(), Floor: d.written(), Lid: d.written(), Water: d.written()}
	if d.next(2) == 1 {
		o := d.opening()
		b.Inlet = &o
	}
	for range d.next(6) {
		b.Outlets = append(b.Outlets, d.opening())
	}
	for range d.next(5) {
		if b.Rim == nil {
			b.Rim = map[site.Edge]unit.Written{}
		}
		if w := d.written(); w != nil {
			b.Rim[site.Edge(d.next(7))] = *w
		}
	}
	return b
}

// FuzzLevels adjusts, closes and measures whatever comes, without a panic and
// without a number that is none where one is told.
func FuzzLevels(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte("out and back, and a box with three outlets, one of them low"))
	f.Add([]byte{9, 1, 3, 1, 1, 0, 2, 1, 1, 2, 3, 2, 1, 1, 0, 1, 1, 3, 1, 1, 0, 2, 2, 1, 2, 3, 2, 2, 1, 0, 200, 3, 3, 3, 3})
	f.Fuzz(func(t *testing.T, data []byte) {
		d := &dice{data}
		var readings []site.Reading
		for range d.next(20) {
			readings = append(readings, d.reading())
		}
		n := level.Adjust(readings, sd)
		checkNet(t, n)
		lines := []site.Line{{Name: "A", Kind: site.DrainLine, Path: []site.Name{"A", "B", "box"}}, {Name: "B", Path: []site.Name{"box", "C"}}, {}}
		boxes := []site.Box{d.box(), d.box()}
		run := func(line, from, to site.Name) (unit.Length, unit.Length, bool) { return d.length(), d.length(), true }
		for _, x := range level.Falls(lines, boxes, n, run, unit.Style{Form: unit.Form(d.next(8))}) {
			if x.Words == "" || !finite(x.Drop, x.DropSD, x.Run, unit.Length(x.Slope)) {
				t.Fatalf("fall %+v", x)
			}
		}
		for _, b := range boxes {
			checkBox(t, b, level.Measure(b, n, unit.Style{Form: unit.Form(d.next(8))}))
		}
	})
}

func finite(list ...unit.Length) bool {
	for _, l := range list {
		if math.IsNaN(float64(l)) || math.IsInf(float64(l), 0) {
			return false
		}
	}
	return true
}

func checkNet(t *testing.T, n *level.Net) {
	t.Helper()
	for _, h := range n.Heights() {
		if !finite(h.At, h.SD) {
			t.Fatalf("height %+v", h)
		}
	}
	for _, r := range n.Readings() {
		if !finite(r.Residual, unit.Length(r.Standard)) || r.Flagged && r.Redundancy == 0 {
			t.Fatalf("reading %+v", r)
		}
	}
	for _, c := range n.Closures() {
		if len(c.Through) < 2 || len(c.By) != len(c.Through) || c.Words == "" || !finite(c.Misclosed, c.Allowed) {
			t.Fatalf("closure %+v", c)
		}
	}
	for _, d := range n.Doubts() {
		if len(d.Readings) == 0 || d.Words == "" || !finite(d.Misfit) {
			t.Fatalf("doubt %+v", d)
		}
	}
	n.Words()
	n.Trouble()
}

func checkBox(t *testing.T, in site.Box, out level.Box) {
	t.Helper()
	if len(out.Outlets) != len(in.Outlets) || out.Spread < 0 || !finite(out.Spread, out.Tilt.Across, out.Tilt.AcrossSD, out.Tilt.Residual) {
		t.Fatalf("box %+v", out)
	}
	if out.Tilt.Known == (out.Tilt.Why != "") {
		t.Fatalf("tilt %+v", out.Tilt)
	}
	if out.Flooded != (out.FloodedWords != "") || out.InletLow != (out.InletWords != "") {
		t.Fatalf("box %+v", out)
	}
	for _, o := range out.Outlets {
		if o.At < 0 || !finite(o.At, o.SD) {
			t.Fatalf("outlet %+v", o)
		}
	}
}

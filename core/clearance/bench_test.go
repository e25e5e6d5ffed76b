package clearance_test

import (
	"testing"

	"undersod/core/clearance"
)

func BenchmarkDistance(b *testing.B) {
	house := polygon(at(0, 0), at(14, 0), at(14, 9), at(10, 9), at(10, 13), at(0, 13))
	line := strip(0.45, at(20, -5), at(30, 0), at(38, 2))
	for b.Loop() {
		clearance.Distance(house, line)
	}
}

func BenchmarkMargins(b *testing.B) {
	g, f := backYard(), workshop(b)
	p := clearance.Placement{At: feet(150, 100), Turn: 0.4}
	for b.Loop() {
		clearance.Margins(g, f, p)
	}
}

func BenchmarkBest(b *testing.B) {
	g, f := backYard(), workshop(b)
	for b.Loop() {
		clearance.Best(g, f, halfTurn)
	}
}

// The wish is the middle of the drain field.
func BenchmarkNearestTo(b *testing.B) {
	g, f := backYard(), workshop(b)
	for b.Loop() {
		clearance.NearestTo(g, f, halfTurn, feet(80, 160))
	}
}

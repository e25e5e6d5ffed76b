package fields_test

import (
	"bytes"
	"os"
	"testing"

	"undersod/internal/archive/fields"
)

// BenchmarkCompare compares the largest demo with itself, one reading changed.
func BenchmarkCompare(b *testing.B) {
	before, err := os.ReadFile("../../../examples/quarry-hollow.yaml")
	if err != nil {
		b.Fatal(err)
	}
	after := bytes.Replace(before, []byte("31.9 ft"), []byte("31' 9\""), 1)
	for b.Loop() {
		if _, all := fields.Compare(before, after, 200); all != 1 {
			b.Fatalf("%d entries differ", all)
		}
	}
	b.SetBytes(int64(len(before)))
}

package storage_test

import (
	"testing"

	"undersod/core/storage"
)

func TestDefaultHours(t *testing.T) {
	h := storage.DefaultHours()
	sum, most := 0.0, 0
	for i, w := range h {
		sum += w
		if w > h[most] {
			most = i
		}
	}
	near(t, "sum", sum, 1, 1e-12)
	if len(h) != 24 || most < 6 || most > 9 || h[18] <= h[15] || h[3] >= h[15] {
		t.Errorf("%v", h)
	}
	h[0] = 99
	if storage.DefaultHours()[0] == 99 {
		t.Error("the hours are shared")
	}
}

package storage_test

import (
	"math"
	"strings"
	"testing"

	"undersod/core/storage"
	"undersod/core/unit"
)

func TestFollowRefusesWrongShares(t *testing.T) {
	nan := math.NaN()
	a, b := trench("Line 1"), trench("")
	b.OutOfUse = true
	for _, c := range []struct {
		shares []float64
		word   string
	}{
		{nil, "among 0 trenches"},
		{[]float64{1}, "among 1"},
		{[]float64{nan, 0}, "Line 1"},
		{[]float64{-1, 0}, "Line 1"},
		{[]float64{2, 0}, "Line 1"},
		{[]float64{0.5, 0}, "add up"},
		{[]float64{0.5, 0.5}, "trench 2"},
	} {
		_, err := storage.Follow(storage.Run{Trenches: []storage.Trench{a, b}, Daily: 1, Days: 1, Step: 60,
			Divide: func(unit.Flow, []bool) []float64 { return c.shares }})
		if err == nil || !strings.Contains(err.Error(), c.word) {
			t.Errorf("%v: %v", c.shares, err)
		}
	}
}

func TestFollowRefusesWhatCannotBe(t *testing.T) {
	nan := math.NaN()
	good := storage.Run{Trenches: []storage.Trench{trench("Line 1")}, Daily: 1, Days: 1, Step: 60}
	for i, c := range []struct {
		change func(*storage.Run)
		word   string
	}{
		{func(r *storage.Run) { r.Trenches = nil }, "0 trenches"},
		{func(r *storage.Run) { r.Trenches = make([]storage.Trench, 1001) }, "1001 trenches"},
		{func(r *storage.Run) { r.Trenches[0].Length = 0 }, "Line 1: the length"},
		{func(r *storage.Run) { r.Trenches[0].Width = unit.Length(nan) }, "width"},
		{func(r *storage.Run) { r.Trenches[0].Height = -1; r.Trenches[0].Name = "" }, "trench 1: the height"},
		{func(r *storage.Run) { r.Trenches[0].Porosity = 0 }, "porosity"},
		{func(r *storage.Run) { r.Trenches[0].Porosity = 1.1 }, "porosity"},
		{func(r *storage.Run) { r.Trenches[0].Rate = unit.Loading(nan) }, "gpd"},
		{func(r *storage.Run) { r.Trenches[0].Start = 1 }, "stands"},
		{func(r *storage.Run) { r.Daily = -1 }, "daily"},
		{func(r *storage.Run) { r.Daily = unit.Volume(math.Inf(1)) }, "daily"},
		{func(r *storage.Run) { r.Hours = []float64{1} }, "24"},
		{func(r *storage.Run) { r.Hours = make([]float64, 24) }, "above zero"},
		{func(r *storage.Run) { r.Hours = even(); r.Hours[3] = nan }, "3:00"},
		{func(r *storage.Run) { r.Days = 0 }, "days"},
		{func(r *storage.Run) { r.Days = 1 << 60 }, "days"},
		{func(r *storage.Run) { r.Step = 0 }, "step"},
		{func(r *storage.Run) { r.Step = storage.Seconds(nan) }, "step"},
		{func(r *storage.Run) { r.Days, r.Step = 300, 1 }, "levels to keep"},
	} {
		r := good
		r.Trenches = append([]storage.Trench(nil), good.Trenches...)
		c.change(&r)
		if _, err := storage.Follow(r); err == nil || !strings.Contains(err.Error(), c.word) {
			t.Errorf("case %d: %v", i, err)
		}
	}
}

// A box that jumps to and fro cannot hang the run.
func TestFollowComesToAnEnd(t *testing.T) {
	a, b := trench("A"), trench("B")
	a.Height, b.Height, a.Rate, b.Rate = 0.001, 0.001, 1e-4, 1e-4
	turn := 0
	_, err := storage.Follow(storage.Run{Trenches: []storage.Trench{a, b}, Daily: 1000, Days: 2, Step: 60,
		Divide: func(_ unit.Flow, full []bool) []float64 {
			turn++
			if full[0] || full[1] {
				return []float64{0, 0}
			}
			return []float64{float64(turn % 2), float64(1 - turn%2)}
		}})
	if err == nil || !strings.Contains(err.Error(), "do not settle") {
		t.Error(err)
	}
}

package hydraulic

import (
	"math"
	"sort"
)

// best searches the corrections. Every mouth has a level at which it takes its
// wanted share; the shares are right when these levels agree. So those that stay
// are neighbours in the order of their levels, and the others are brought to
// them: every run of neighbours is tried, the longest first, with the common
// level at many places in and about the run, and what comes out is bettered one
// mouth at a time. A run of one, moved or not, bounds the search from below.
func (s *search) best(stay trial) trial {
	best := stay
	if stay.worst <= s.tolerance {
		return best
	}
	order := make([]int, len(s.box))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return s.level[order[a]] < s.level[order[b]] })
	for stays := len(order); stays >= 0; stays-- {
		if best.worst <= s.tolerance && best.turns < len(order)-stays {
			break // more turns cannot be better
		}
		round := s.bestStaying(order, stays, stay)
		if round = s.polish(round); s.better(round, best) {
			best = round
		}
	}
	return best
}

// bestStaying tries every run of so many neighbours that stay.
func (s *search) bestStaying(order []int, stays int, best trial) trial {
	for first := 0; first+stays <= len(order); first++ {
		run := order[first : first+stays]
		if stays == 0 {
			run = order // none stays, the common level is among them all the same
		}
		low, high := s.level[run[0]]-s.step/2, s.level[run[len(run)-1]]+s.step/2
		const places = 24
		for p := 0; p <= places; p++ {
			common := low + (high-low)*float64(p)/places
			if t := s.judge(s.bring(common, order, first, stays)); s.better(t, best) {
				best = t
			}
		}
	}
	return best
}

// bring returns the steps that take every mouth outside a run nearest to a
// common level. A mouth that is to take nothing only has to be as high.
func (s *search) bring(common float64, order []int, first, stays int) []int {
	steps := make([]int, len(s.box))
	for at, i := range order {
		if at >= first && at < first+stays {
			continue
		}
		by := (common - s.level[i]) / s.step
		if s.wanted[i] == 0 {
			by = math.Ceil(max(by, 0))
		}
		most := float64(largestHead) / s.step // no outlet goes further, and the count stays a whole number
		steps[i] = int(math.Round(max(-most, min(by, most))))
	}
	return steps
}

// polish betters a trial by moving one mouth by a step, or not at all, as long
// as that helps; at most 200 times.
func (s *search) polish(t trial) trial {
	for range 200 {
		next := t
		for i, k := range t.steps {
			for _, to := range [...]int{k - 1, k + 1, 0} {
				if to == k {
					continue
				}
				steps := append([]int(nil), t.steps...)
				steps[i] = to
				if u := s.judge(steps); s.better(u, next) {
					next = u
				}
			}
		}
		if !s.better(next, t) {
			return t
		}
		t = next
	}
	return t
}

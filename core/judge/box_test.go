package judge_test

import (
	"strings"
	"testing"

	"undersod/core/hydraulic"
	"undersod/core/judge"
)

const outlets = `outlets: {Line 1: 6", Line 2: 6", Line 3: 6"}`

// shares are the shares of one box at its first inflow.
func shares(t *testing.T, j *judge.Judgement) []hydraulic.Share {
	t.Helper()
	if len(j.Boxes) != 1 || len(j.Boxes[0].Splits) == 0 {
		t.Fatalf("no split: %q", j.Missing)
	}
	return j.Boxes[0].Splits[0].Split.Shares
}

func TestALevelBoxSharesAlike(t *testing.T) {
	j := judged(t, small)
	for _, s := range j.Boxes[0].Splits {
		sum := 0.0
		for _, h := range s.Split.Shares {
			sum += h.Share
			if !near(h.Share, 1.0/3, 1e-6) {
				t.Errorf("%s: %s takes %v", s.Name, h.Name, h.Share)
			}
		}
		if !near(sum, 1, 1e-9) || s.Words == "" {
			t.Errorf("%s: the shares add up to %v", s.Name, sum)
		}
	}
	if !hears(j.Fine, "D-box shares its flow") || action(j, "set the outlets level") != nil {
		t.Errorf("fine %q", j.Fine)
	}
}

// TestUnequalTrenchesWantUnequalShares: 60, 60 and 54.75 ft of one width.
func TestUnequalTrenchesWantUnequalShares(t *testing.T) {
	for i, want := range []float64{60 / 174.75, 60 / 174.75, 54.75 / 174.75} {
		if s := shares(t, judged(t, small))[i]; !near(s.Wanted, want, 1e-4) {
			t.Errorf("%s should take %v, want %v", s.Name, s.Wanted, want)
		}
	}
	// Where one trench is not known, no outlet is to take more than another.
	for _, s := range shares(t, judged(t, with(t, "trench width: 3 ft, ", ""))) {
		if !near(s.Wanted, 1.0/3, 1e-9) {
			t.Errorf("%s should take %v", s.Name, s.Wanted)
		}
	}
}

func TestWhatABoxLacks(t *testing.T) {
	for name, c := range map[string]struct {
		text  string
		words []string
	}{
		"level":   {with(t, outlets, `outlets: {Line 1: 6", Line 2: {note: under water}, Line 3: 6"}`), []string{"D-box", "level", "Line 2", "enter its down reading"}},
		"bore":    {with(t, "    bore: 4 in\n", "", outlets, `outlets: {Line 1: {down: 6", bore: 4 in}, Line 2: {down: 6", bore: 4 in}, Line 3: 6"}`), []string{"D-box", "diameter", "Line 3", "enter its bore"}},
		"outlets": {with(t, "    "+outlets+"\n", ""), []string{"D-box", "no outlet was entered", "enter its outlets"}},
		"open":    {with(t, outlets, "outlets: {Line 1: {closed: yes}, Line 2: {closed: yes}, Line 3: {closed: yes}}"), []string{"D-box divides", "closed"}},
	} {
		j := judged(t, c.text)
		b := j.Boxes[0]
		if len(b.Splits) > 0 || b.Correction != nil || len(b.Missing) != 1 || !hears(b.Missing, c.words...) || !hears(j.Missing, c.words...) {
			t.Errorf("%s: %q, in all %q, %d splits", name, b.Missing, j.Missing, len(b.Splits))
		}
		switch {
		case j.Storage == nil:
			t.Errorf("%s: no storage: %q", name, j.Missing)
		case name != "open" && !hears(j.Storage.Assumptions, "equal shares are taken"):
			t.Errorf("%s: %q", name, j.Storage.Assumptions)
		}
	}
}

// TestAClosedOutletTakesNothing, measured or not, whether it is capped or its
// line is out of use.
func TestAClosedOutletTakesNothing(t *testing.T) {
	for name, text := range map[string]string{
		"capped":     with(t, outlets, `outlets: {Line 1: 6", Line 2: 6", Line 3: {closed: yes}}`),
		"out of use": with(t, "Line 3: {", "Line 3: {out of use: yes, "),
	} {
		j := judged(t, text)
		got := shares(t, j)
		if got[2].Share != 0 || got[2].Wanted != 0 || got[2].Regime != hydraulic.Dry {
			t.Errorf("%s: %+v", name, got[2])
		}
		for _, s := range got[:2] {
			if !near(s.Share, 0.5, 1e-6) || !near(s.Wanted, 0.5, 1e-4) {
				t.Errorf("%s: %+v", name, s)
			}
		}
		if !hears(j.Fine, "D-box shares its flow") {
			t.Errorf("%s: %q", name, j.Fine)
		}
	}
}

// TestATippedBox: the low outlet takes more, and is to be raised.
func TestATippedBox(t *testing.T) {
	j := judged(t, with(t, outlets, `outlets: {Line 1: 6", Line 2: 6", Line 3: 6 1/4"}`))
	b := j.Boxes[0]
	at, ok := b.Reference()
	if !ok || at.Split.Shares[2].Share < 0.8 || b.Correction == nil || !b.Correction.Within {
		t.Fatalf("%+v, %+v", at, b.Correction)
	}
	a := action(j, "set the outlets level")
	if a == nil || a.Urgency != judge.Soon || !strings.Contains(a.What, "raise the outlet of Line 3 by 1/4\"") || a.About[0] != "D-box" {
		t.Errorf("%+v", a)
	}
	if !strings.Contains(b.SpreadWords, `1/4"`) || !strings.Contains(b.SpreadWords, "state no tolerance") {
		t.Errorf("%q", b.SpreadWords)
	}
}

// TestTheInflows: 450 gal a day are 0.3125 gal a minute; what a meter read wins
// over the design flow, and a stated surge over the usual one.
func TestTheInflows(t *testing.T) {
	gpm := func(text string) map[string]float64 {
		out := map[string]float64{}
		for _, s := range judged(t, text).Boxes[0].Splits {
			out[s.Name] = float64(s.Split.Inflow) / 231 / 0.0254 / 0.0254 / 0.0254 * 60 // 231 in³ to the gallon: NIST Handbook 44, Appendix C
		}
		return out
	}
	got := gpm(small)
	if !near(got["daily average"], 450.0/1440, 1e-9) || !near(got["surge"], 5, 1e-9) || got["busiest hour"] <= got["daily average"] {
		t.Errorf("%v", got)
	}
	got = gpm(with(t, "persons: 4}", "persons: 4, daily flow: 288 gal/day, surge: 12 gal/min, hours: [0,0,0,0,0,0,1,1,0,0,0,0,0,0,0,0,0,0,2,0,0,0,0,0]}"))
	if !near(got["daily average"], 0.2, 1e-9) || !near(got["surge"], 12, 1e-9) || !near(got["busiest hour"], 144.0/60, 1e-9) {
		t.Errorf("%v", got)
	}
	got = gpm(with(t, "household: {bedrooms: 3, persons: 4}\n", ""))
	if len(got) != 1 || !near(got["surge"], 5, 1e-9) {
		t.Errorf("without a household: %v", got)
	}
}

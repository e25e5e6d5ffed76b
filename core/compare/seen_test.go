package compare_test

import (
	"strings"
	"testing"

	"undersod/core/compare"
)

// lawn is a small invented job with everything that two visits may tell apart;
// what stands in <> is replaced.
const lawn = `undersod: 1
site: {name: 7 Sorrel Bank, owner: <owner>}
visit: {date: <date>}
show: {lengths: feet-inches, fraction: 1/4}
marks: {A: iron pin, B: iron pin, C: iron pin}
parts:
  D-box: {kind: distribution box, findings: [<box>]}
  L1 end: line end
lines:
  Line 1: {kind: drain line, path: [D-box, L1 end], bore: 4 in}
ties: {B: {A: 100 ft}}
offsets:
  - {baseline: A-B, point: C, station: 100 ft, right: 80 ft}
  - {baseline: A-B, point: D-box, station: 20 ft, right: 50 ft}
  - {baseline: A-B, point: L1 end, station: 80 ft, right: 50 ft}
level points: {BM: bench mark}
rods:
  one: {BM: {top: 4.00 ft}, D-box: {invert: <invert>}}
depths: {D-box: <depth>}
cameras:
  Line 1: {entry: D-box, ended: <ended>, ended at: <end>, findings: [<seen>]}
household: {bedrooms: <bedrooms>}
care: [<care>]
`

// of fills the job; what is not given is the default.
func of(changes ...string) string {
	fill := map[string]string{"owner": "A. Fernleaf", "date": "2026-05-14", "box": "", "invert": "6.00 ft", "depth": `20"`,
		"ended": "line end", "end": "60'", "seen": "", "bedrooms": "3", "care": ""}
	for i := 0; i+1 < len(changes); i += 2 {
		fill[changes[i]] = changes[i+1]
	}
	out := lawn
	for k, v := range fill {
		out = strings.ReplaceAll(out, "<"+k+">", v)
	}
	return out
}

func compared(t testing.TB, before, after string) *compare.Comparison {
	t.Helper()
	return compare.Visits(side(t, "before.yaml", []byte(before)), side(t, "after.yaml", []byte(after)))
}

func TestWhatBecameOfFindings(t *testing.T) {
	for _, c := range []struct {
		name          string
		before, after string
		growth        compare.Growth
		words         string
	}{
		{"the same", "{at: 20', what: fine roots}", "{at: 20' 4\", what: fine roots}", compare.Same, ""},
		{"a worse kind", "{at: 20', what: fine roots}", "{at: 20', what: root mass}", compare.Grown, "fine roots before"},
		{"a lighter kind", "{at: 20', what: root mass}", "{at: 20', what: fine roots}", compare.Lessened, "root mass before"},
		{"more of the pipe", "{at: 20', what: flattened, percent: 8}", "{at: 20', what: flattened, percent: 18}", compare.Grown, "18 %, 8 % before"},
		{"as judged by another eye", "{at: 20', what: flattened, percent: 8, grade: act}", "{at: 20', what: flattened, percent: 13}", compare.Same, ""},
		{"deeper water", "{from: 20', to: 28', what: standing water, depth: 1 1/2\"}", "{from: 20', to: 28', what: standing water, depth: 2 1/2\"}", compare.Grown, "2 1/2\" deep, 1 1/2\" before"},
		{"a longer stretch", "{from: 30', to: 38', what: standing water}", "{from: 22', to: 38', what: standing water}", compare.Grown, "over 16' 0\", 8' 0\" before"},
		{"a stretch as the counter reads it", "{from: 30', to: 38', what: standing water}", "{from: 29' 6\", to: 38' 3\", what: standing water}", compare.Same, ""},
		{"a heavier grade", "{at: 20', what: corroded, grade: note}", "{at: 20', what: corroded, grade: act}", compare.Grown, "\"act\" now, \"note\" before"},
		{"a new one", "", "{at: 20', what: cracked}", compare.Appeared, "Cracked at 20' 0\" of Line 1: new"},
		{"one that is gone", "{at: 20', what: cracked}", "", compare.Vanished, "gone"},
	} {
		d := compared(t, of("seen", c.before), of("seen", c.after))
		if len(d.Findings) != 1 || d.Findings[0].Growth != c.growth || !strings.Contains(d.Findings[0].Words, c.words) {
			t.Errorf("%s: %+v", c.name, d.Findings)
		}
	}
}

// Another place, another kind: one gone and one new.
func TestFindingsFarApartAreTwo(t *testing.T) {
	for _, after := range []string{"{at: 40', what: fine roots}", "{at: 20', what: cracked}"} {
		d := compared(t, of("seen", "{at: 20', what: fine roots}"), of("seen", after))
		if len(d.Findings) != 2 || d.Findings[0].Growth != compare.Appeared || d.Findings[1].Growth != compare.Vanished {
			t.Errorf("%+v", d.Findings)
		}
	}
}

// What a run did not reach is neither gone nor new.
func TestWhatWasNotLookedAt(t *testing.T) {
	whole, half := []string{"seen", "{at: 50', what: cracked}"}, []string{"ended", "roots", "end", "30'", "seen", "{at: 30', what: root mass}"}
	d := compared(t, of(whole...), of(half...))
	if len(d.Findings) != 2 || d.Findings[0].Growth != compare.Appeared || d.Findings[1].Growth != compare.NotLookedAt {
		t.Errorf("%+v", d.Findings)
	}
	d = compared(t, of(half...), of(whole...))
	if len(d.Findings) != 2 || d.Findings[0].Growth != compare.NotBefore || d.Findings[1].Growth != compare.Vanished {
		t.Errorf("%+v", d.Findings)
	}
	if len(d.Runs) != 1 || !strings.Contains(d.Runs[0].Words, "before: seen from 0\" to 30' 0\" (roots)") {
		t.Errorf("%+v", d.Runs)
	}
}

func TestAtAPart(t *testing.T) {
	d := compared(t, of("box", "{what: cracked}"), of("box", "{what: broken}"))
	if len(d.Findings) != 1 || d.Findings[0].Growth != compare.Grown || d.Findings[0].Words != `Broken at D-box: grown, cracked before, "act" now, "watch" before.` {
		t.Errorf("%+v", d.Findings)
	}
}

// A height is told from the bench mark, a depth by itself.
func TestHeightsAndDepths(t *testing.T) {
	d := compared(t, of(), of("invert", "6.10 ft", "depth", `12"`))
	if len(d.Levels) != 1 || d.Levels[0].Verdict != compare.Moved || !near(d.Levels[0].Change.Feet(), -0.10, 1e-9) || d.LevelFrom != "counted from BM" {
		t.Errorf("%+v %q", d.Levels, d.LevelFrom)
	}
	if len(d.Depths) != 1 || d.Depths[0].Verdict != compare.Changed || !strings.Contains(d.Depths[0].Words, `8" less deep`) {
		t.Errorf("%+v", d.Depths)
	}
	d = compared(t, of(), of("invert", "6.01 ft", "depth", `20 1/2"`))
	if d.Levels[0].Verdict != compare.Unchanged || d.Depths[0].Verdict != compare.Unchanged {
		t.Errorf("%+v %+v", d.Levels, d.Depths)
	}
}

func TestWhatWasDoneSince(t *testing.T) {
	known := "{date: 2021, what: pumped}"
	after := known + ", {date: 2027-03-02, what: jetted}, {date: 2026, what: lid mended}, {date: 2026-05-14, what: pumped}, {date: 2026-05-13, what: told late}, {date: 2026-08, what: box levelled}"
	d := compared(t, of("care", known), of("date", "2028-06-02", "care", after))
	var got []string
	for _, c := range d.Since {
		got = append(got, c.Words)
	}
	want := "2026: lid mended; the date does not tell whether before or after the earlier visit.|2026-05-14: pumped.|2026-08: box levelled.|2027-03-02: jetted."
	if s := strings.Join(got, "|"); s != want {
		t.Errorf("%s\nwant %s", s, want)
	}
}

func TestFacts(t *testing.T) {
	d := compared(t, of(), of("owner", `"B. Rush, his heirs"`, "bedrooms", "4"))
	var got []string
	for _, f := range d.Facts {
		got = append(got, f.Words)
	}
	want := `site, owner: "B. Rush, his heirs" now, A. Fernleaf before.|household, bedrooms: 4 now, 3 before.`
	if s := strings.Join(got, "|"); s != want {
		t.Errorf("%s\nwant %s", s, want)
	}
}

func TestOrderOfTheVisits(t *testing.T) {
	d := compared(t, of("date", "2028-06-02"), of())
	if s := strings.Join(d.Remarks, "|"); !strings.Contains(s, "exchange them") {
		t.Error(s)
	}
}

func TestDiffers(t *testing.T) {
	if compared(t, of(), of("date", "2028-06-02")).Differs() {
		t.Error("another date alone is told as a difference")
	}
	for _, after := range []string{of("bedrooms", "4"), of("invert", "6.10 ft"), of("depth", `12"`), of("seen", "{at: 20', what: cracked}"), of("care", "{date: 2027, what: pumped}")} {
		if !compared(t, of(), after).Differs() {
			t.Errorf("no difference is told of %s", after)
		}
	}
}

package rules_test

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"undersod/core/rules"
	"undersod/core/unit"
)

// book collects the numbers of a pack under the names of testdata/numbers.txt.
type book map[string][]float64

func (b book) put(pack, what, which string, values ...float64) {
	b[pack+" "+what+" "+which] = values
}

func (b book) flow(p *rules.Pack) {
	f := p.Flow
	if f == nil {
		return
	}
	day := func(v unit.Flow) float64 { return float64(v / unit.GallonPerDay) }
	for n, v := range f.ByBedrooms {
		b.put(p.Name, "flow", strconv.Itoa(n), day(v))
	}
	for which, v := range map[string]unit.Flow{"bedroom": f.PerBedroom, "person": f.PerPerson, "more": f.EachMore, "least": f.Least} {
		if v != 0 {
			b.put(p.Name, "flow", which, day(v))
		}
	}
}

func (b book) tank(p *rules.Pack) {
	t := p.Tank
	if t == nil {
		return
	}
	for _, s := range t.Steps {
		b.put(p.Name, "tank", strconv.Itoa(s.UpToBedrooms), float64(s.Capacity/unit.Gallon))
	}
	for which, v := range map[string]unit.Volume{"more": t.EachMore, "least": t.Least} {
		if v != 0 {
			b.put(p.Name, "tank", which, float64(v/unit.Gallon))
		}
	}
}

func minutes(v unit.Percolation) string {
	return strconv.FormatFloat(math.Round(float64(v/unit.MinutePerInch)*1e6)/1e6, 'g', -1, 64)
}

func (b book) field(p *rules.Pack) {
	f := p.Field
	if f == nil {
		return
	}
	rate := func(v unit.Loading) float64 { return float64(v / unit.GallonPerDayPerSquareFoot) }
	for _, s := range f.Steps {
		which := minutes(s.UpTo)
		if s.Texture != "" {
			which = squeeze(s.Texture) + ":" + which
		}
		if s.PerBedroom != 0 {
			b.put(p.Name, "area", which, float64(s.PerBedroom/unit.SquareFoot))
		}
		if s.Loading != 0 {
			b.put(p.Name, "loading", which, rate(s.Loading))
		}
	}
	for _, s := range f.Textures {
		which := squeeze(s.Texture)
		for _, more := range []string{s.Structure, s.Strength} {
			if more != "" {
				which += "/" + squeeze(more)
			}
		}
		b.put(p.Name, "texture", which, rate(s.Loading))
	}
	for which, v := range map[string]float64{
		"rate 1": rate(f.Rate), "from 1": float64(f.From / unit.MinutePerInch),
		"unsuitable below": float64(f.TooFast / unit.MinutePerInch), "unsuitable above": float64(f.Unsuitable / unit.MinutePerInch),
		"flow from": float64(f.LeastFlow / unit.GallonPerDay), "flow upto": float64(f.MostFlow / unit.GallonPerDay),
		"side height": f.SideFeet.Feet(),
	} {
		if v != 0 {
			b[p.Name+" "+which] = []float64{v}
		}
	}
	b.stone(p)
}

func (b book) stone(p *rules.Pack) {
	a := p.Field.Allowance
	if a == nil {
		return
	}
	if a.Formula {
		b.put(p.Name, "stone", "formula", 1)
	}
	for _, s := range a.Steps {
		b.put(p.Name, "stone", strconv.FormatFloat(math.Round(s.From.Inches()*1e6)/1e6, 'g', -1, 64), s.Share)
	}
}

func squeeze(s string) string { return strings.ToLower(strings.ReplaceAll(s, " ", "")) }

// Every number that is shipped stands in the second table, typed separately
// from its source, and the second table has no other.
func TestEveryNumberIsTypedTwice(t *testing.T) {
	shipped := book{}
	for _, p := range rules.Builtin() {
		shipped.flow(p)
		shipped.tank(p)
		shipped.field(p)
	}
	for _, l := range rules.Default().Lives {
		shipped.put("common", "life", squeeze(l.What), l.LeastYears, l.MostYears)
	}
	for _, l := range rules.Default().Looks {
		shipped.put("common", "look", squeeze(l.What), float64(l.Months))
	}
	typed := readTyped(t)
	for key, want := range typed {
		got, ok := shipped[key]
		if !ok {
			t.Errorf("%s is typed and not shipped", key)
			continue
		}
		for i := range want {
			if len(got) != len(want) || math.Abs(got[i]-want[i]) > 1e-9*math.Abs(want[i]) {
				t.Errorf("%s: shipped %v, typed %v", key, got, want)
			}
		}
	}
	for key := range shipped {
		if _, ok := typed[key]; !ok {
			t.Errorf("%s is shipped and was not typed a second time", key)
		}
	}
	if len(typed) < 120 {
		t.Errorf("only %d numbers are typed", len(typed))
	}
}

func readTyped(t *testing.T) book {
	t.Helper()
	f, err := os.Open("testdata/numbers.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	out := book{}
	for lines := bufio.NewScanner(f); lines.Scan(); {
		words := strings.Fields(lines.Text())
		if len(words) == 0 || words[0] == "#" {
			continue
		}
		if len(words) < 4 {
			t.Fatalf("cannot read %q", lines.Text())
		}
		key := strings.Join(words[:3], " ")
		if _, twice := out[key]; twice {
			t.Errorf("%s is typed twice", key)
		}
		for _, w := range words[3:] {
			v, err := strconv.ParseFloat(w, 64)
			if err != nil {
				t.Fatalf("%s: %v", key, err)
			}
			out[key] = append(out[key], v)
		}
	}
	return out
}

// Every rule, life and interval of every pack names its source and a status.
func TestEveryNumberHasASource(t *testing.T) {
	known := map[rules.Status]bool{rules.Read: true, rules.FromMemory: true, rules.CommonPractice: true, rules.TheUser: true}
	for _, p := range rules.Builtin() {
		sources := map[string]rules.Source{}
		if p.Flow != nil {
			sources["flow"] = p.Flow.Source
		}
		if p.Tank != nil {
			sources["tank"] = p.Tank.Source
		}
		if p.Field != nil {
			sources["field"] = p.Field.Source
			if p.Field.Allowance != nil {
				sources["stone"] = p.Field.Allowance.Source
			}
			for i, s := range p.Field.Steps {
				if s.Source != nil {
					sources[fmt.Sprint("step ", i)] = *s.Source
				}
			}
		}
		for _, l := range p.Lives {
			sources["life of "+l.What] = l.Source
		}
		for _, l := range p.Looks {
			sources[l.What] = l.Source
		}
		for what, s := range sources {
			if s.Title == "" || !known[s.Status] {
				t.Errorf("%s, %s: source %+v", p.Name, what, s)
			}
			if s.Status == rules.Read && (s.Section == "" || s.Year == "") {
				t.Errorf("%s, %s: read, and no section or year is named: %+v", p.Name, what, s)
			}
		}
		if p.Words == "" || p.Place == "" {
			t.Errorf("%s does not say what it covers", p.Name)
		}
	}
}

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

// setbacks puts the distances of each row in feet, in the order of the columns
// and without the empty ones at the end; a row with none is a frame to fill in.
func (b book) setbacks(p *rules.Pack) {
	if p.Setbacks == nil {
		return
	}
	for _, r := range p.Setbacks.Rows {
		which := squeeze(r.From)
		if r.Class != "" {
			which += "/" + squeeze(r.Class)
		}
		var feet []float64
		for i, c := range rules.Columns() {
			if l := r.Distances[c]; l != 0 {
				feet = append(feet, make([]float64, i-len(feet))...)
				feet = append(feet, l.Feet())
			}
		}
		if len(feet) > 0 {
			b.put(p.Name, "setback", which, feet...)
		}
	}
}

func (b book) limits(p *rules.Pack) {
	for _, l := range p.Limits {
		if l.Least != 0 || l.Most != 0 {
			b.put(p.Name, "limit", squeeze(string(l.On)), l.Least.Feet(), l.Most.Feet())
		}
	}
}

// asked puts how many texts ask for each item of the common checklist.
func (b book) asked(t *testing.T, c *rules.Checklist) {
	for _, i := range c.Items {
		n := 0
		_, count, _ := strings.Cut(i.Words, "asked by ")
		if _, err := fmt.Sscanf(count, "%d of the 9 texts", &n); err != nil {
			t.Errorf("%s: no count in %q", i.What, i.Words)
		}
		b.put("common", "asked", squeeze(string(i.What)), float64(n))
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
		shipped.setbacks(p)
		shipped.limits(p)
	}
	shipped.asked(t, rules.Default().Checklist)
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
	if len(typed) < 280 {
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
			if w == "-" {
				out[key] = append(out[key], 0)
				continue
			}
			v, err := strconv.ParseFloat(w, 64)
			if err != nil {
				t.Fatalf("%s: %v", key, err)
			}
			out[key] = append(out[key], v)
		}
	}
	return out
}

// sourcesOf names every source of a pack.
func sourcesOf(p *rules.Pack) map[string]rules.Source {
	out := map[string]rules.Source{}
	if p.Flow != nil {
		out["flow"] = p.Flow.Source
	}
	if p.Tank != nil {
		out["tank"] = p.Tank.Source
	}
	if p.Field != nil {
		out["field"] = p.Field.Source
		if p.Field.Allowance != nil {
			out["stone"] = p.Field.Allowance.Source
		}
		for i, s := range p.Field.Steps {
			if s.Source != nil {
				out[fmt.Sprint("step ", i)] = *s.Source
			}
		}
	}
	for _, l := range p.Lives {
		out["life of "+l.What] = l.Source
	}
	for _, l := range p.Looks {
		out[l.What] = l.Source
	}
	for what, s := range lawOf(p) {
		out[what] = s
	}
	return out
}

// lawOf names every source of the setbacks, the limits and the checklist.
func lawOf(p *rules.Pack) map[string]rules.Source {
	out := map[string]rules.Source{"checklist": p.Checklist.Source}
	for i, item := range p.Checklist.Items {
		if item.Source != nil {
			out[fmt.Sprint("item ", i)] = *item.Source
		}
	}
	for _, l := range p.Limits {
		out["limit on "+string(l.On)] = l.Source
	}
	if p.Setbacks != nil {
		out["setbacks"] = p.Setbacks.Source
		for i, r := range p.Setbacks.Rows {
			if r.Source != nil {
				out[fmt.Sprint("setback row ", i)] = *r.Source
			}
		}
	}
	return out
}

// Every rule, life and interval of every pack names its source and a status.
func TestEveryNumberHasASource(t *testing.T) {
	known := map[rules.Status]bool{rules.Read: true, rules.FromMemory: true, rules.CommonPractice: true, rules.TheUser: true}
	for _, p := range rules.Builtin() {
		for what, s := range sourcesOf(p) {
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

// What was not read in a text is shipped in no setback, limit or checklist: a
// person would build by it.
func TestNothingFromMemoryIsShippedAsLaw(t *testing.T) {
	for _, p := range rules.Builtin() {
		for what, s := range lawOf(p) {
			want := rules.Read
			if p.Name == "own" && what != "checklist" {
				want = rules.TheUser
			}
			if s.Status != want {
				t.Errorf("%s, %s: %q, want %q", p.Name, what, s.Status, want)
			}
		}
	}
}

// At least eight places ship setbacks, and every one of them names what it does
// not know by words.
func TestPacksWithSetbacks(t *testing.T) {
	n := 0
	for _, p := range rules.Builtin() {
		if strings.Contains(p.Covers(), "setbacks") {
			n++
		}
		if a := p.Setback("soil test", "", rules.ToStructure); a.Known || !strings.HasPrefix(a.Words, "no rule in this pack") {
			t.Errorf("%s: %+v", p.Name, a)
		}
	}
	if n < 8 {
		t.Errorf("only %d packs have setbacks", n)
	}
}

// The neutral pack has a place for numbers, and none.
func TestTheNeutralPackHasNoNumber(t *testing.T) {
	own, ok := rules.ByName("own")
	if !ok || own.Covers() != "" || len(own.Setbacks.Rows) < 10 || len(own.Limits) != len(rules.LimitsOn()) {
		t.Fatalf("got %+v, covers %q", own, own.Covers())
	}
	answered(t, own)
}

// Answers of the packs that a person would ask for first, with their sources.
func TestSetbacksOfThePacks(t *testing.T) {
	for _, test := range []struct {
		pack, from, class string
		to                rules.Column
		words, source     string
	}{
		{"massachusetts", "building", "", rules.ToField, "the class of the building is not stated: for a field the strictest of basement (20 ft) and slab foundation (10 ft)", "15.211"},
		{"washington", "well", "private", rules.ToSewer, "50 ft between a building sewer and a well (private)", "24.17.120"},
		{"washington", "drain", "upslope", rules.ToTank, "no rule in this pack for a tank from a drain of the class upslope: there are rows for downslope", ""},
		{"new-york", "well", "", rules.ToBox, "100 ft between a distribution box and a well", "75-A.4"},
		{"new-jersey", "water line", "", rules.ToSewer, "no rule in this pack for a building sewer from a water line", ""},
		{"nevada", "field", "", rules.ToTank, "5 ft between a tank and a field", "444.792"},
		{"montana", "flood plain", "", rules.ToField, "100 ft between a field and a flood plain", "Table 1"},
		{"virginia-county", "well", "", rules.ToField, "no rule in this pack for a field from a well", ""},
		{"maryland-carroll", "well", "", rules.ToField, "100 ft between a field and a well; more for a field from the class downslope (200 ft), and none is stated", "setbacks"},
		{"pennsylvania", "well", "", rules.ToField, "no rule in this pack for a field from a well: it has no setbacks", ""},
		{"own", "well", "", rules.ToField, "no rule in this pack for a field from a well", ""},
	} {
		p, ok := rules.ByName(test.pack)
		if !ok {
			t.Fatalf("no pack %s", test.pack)
		}
		got := p.Setback(test.from, test.class, test.to)
		if got.Words != test.words || !strings.Contains(got.Source.Section, test.source) {
			t.Errorf("%s: got %q of %+v\nwant %q of %s", test.pack, got.Words, got.Source, test.words, test.source)
		}
	}
}

package rules_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"strings"
	"testing"

	"undersod/core/rules"
	"undersod/core/unit"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// src is a source for packs that are typed in tests.
const src = `"source": {"title": "our code", "status": "the user's own"}`

// whole is a pack that uses every key.
const whole = `{
  "name": "our county", "place": "Our County", "words": "all of it",
  "flow": {"per bedroom": "100 gal/day", "per person": "60 gpd", "by bedrooms": {"3": "400 gal/day"}, "each more": "100 gal/day", "least": "200 gal/day", ` + src + `},
  "field": {"method": "loading rate by percolation time", "counts": "bottom and sidewall", "side": "1 ft", "ends": true,
    "steps": [{"up to": "18 min/in", "texture": "loam", "per bedroom": "190 sq ft", "loading": "0.6 gpd/ft2", ` + src + `}],
    "between": "between the steps in proportion",
    "textures": [{"texture": "loam", "structure": "massive", "strength": "weak", "loading": "not suitable", ` + src + `}],
    "rate at 1 min/in": "5 gal/day/sq ft", "from": "1 min/in", "unsuitable below": "1 min/in", "unsuitable above": "60 min/in",
    "least flow": "750 gpd", "most flow": "7500 gpd",
    "stone": {"steps": [{"from": "12 in", "share": 0.8}], ` + src + `}, ` + src + `},
  "tank": {"steps": [{"up to bedrooms": 3, "capacity": "3.8 m3"}], "each more": "250 gal", "least": "750 gal", ` + src + `},
  "lives": [{"what": "field", "least years": 20, "most years": 30.5, ` + src + `}],
  "looks": [{"what": "look at the tank", "months": 24, ` + src + `}],
  "setbacks": {"rows": [
    {"from": "well", "class": "private", "tank": "50 ft", "distribution box": "15 m", "field": "100 ft", "building sewer": "20 ft",
      "effluent pipe": "25 ft", "structure": "10 ft", "note": "of a shallow casing more", ` + src + `},
    {"from": "pool", "tank": "?", "field": "15 ft"}], ` + src + `},
  "limits": [{"on": "trench width", "least": "1 ft", "most": "3 ft", "note": "wider is a bed", ` + src + `}, {"on": "soil between trenches", "least": "?", ` + src + `}],
  "checklist": {"items": [{"what": "tank place", "words": "by two distances", ` + src + `}, {"what": "north arrow"}], ` + src + `}
}`

func TestParseReadsEveryKey(t *testing.T) {
	p, err := rules.Parse("our.json", []byte(whole))
	if err != nil {
		t.Fatal(err)
	}
	f := p.Field
	switch {
	case p.Name != "our county" || p.Place != "Our County" || p.Words != "all of it":
		t.Errorf("names %+v", p)
	case p.Flow.PerPerson != 60*unit.GallonPerDay || p.Flow.EachMore != 100*unit.GallonPerDay || p.Flow.Source.Status != rules.TheUser:
		t.Errorf("flow %+v", p.Flow)
	case f.SideFeet != unit.Foot || !f.Ends || f.Counts != rules.CountBoth || f.Between != rules.Interpolate:
		t.Errorf("field %+v", f)
	case len(f.Steps) != 1 || f.Steps[0].Texture != "loam" || f.Steps[0].Source == nil || f.Steps[0].Source.Title != "our code":
		t.Errorf("steps %+v", f.Steps)
	case len(f.Textures) != 1 || f.Textures[0].Loading != 0 || f.Textures[0].Strength != "weak" || f.Textures[0].Source == nil:
		t.Errorf("textures %+v", f.Textures)
	case f.Allowance == nil || f.Allowance.Steps[0].Share != 0.8:
		t.Errorf("stone %+v", f.Allowance)
	case p.Tank.Steps[0].Capacity != 3.8 || p.Tank.Least == 0:
		t.Errorf("tank %+v", p.Tank)
	case len(p.Lives) != 1 || p.Lives[0].MostYears != 30.5 || len(p.Looks) != 1 || p.Looks[0].Months != 24:
		t.Errorf("lives %+v, looks %+v", p.Lives, p.Looks)
	}
}

func TestParseReadsSetbacksLimitsAndChecklist(t *testing.T) {
	p, err := rules.Parse("our.json", []byte(whole))
	if err != nil {
		t.Fatal(err)
	}
	for to, want := range map[rules.Column]unit.Length{
		rules.ToTank: 50 * unit.Foot, rules.ToBox: 15, rules.ToField: 100 * unit.Foot,
		rules.ToSewer: 20 * unit.Foot, rules.ToPipe: 25 * unit.Foot, rules.ToStructure: 10 * unit.Foot,
	} {
		got := p.Setback("well", "private", to)
		if !got.Known || !near(got.Distance, want) || got.Row.Note != "of a shallow casing more" || got.Row.Source == nil || got.Source.Title != "our code" {
			t.Errorf("%s: got %+v, want %v", to, got, want)
		}
	}
	if got := p.Setback("pool", "", rules.ToTank); got.Known {
		t.Errorf("a distance that is yet to be filled in: %+v", got)
	}
	if l, ok := p.Limit(rules.OnTrenchWidth); !ok || !near(l.Least, unit.Foot) || !near(l.Most, 3*unit.Foot) || l.Note != "wider is a bed" || l.Source.Title != "our code" {
		t.Errorf("limit %+v, %v", l, ok)
	}
	if l, ok := p.Limit(rules.OnSpacing); ok {
		t.Errorf("a limit that is yet to be filled in: %+v", l)
	}
	c := p.Checklist
	if len(c.Items) != 2 || c.Items[0].What != rules.WantTank || c.Items[0].Words != "by two distances" || c.Items[0].Source == nil ||
		c.Items[1].What != rules.WantNorth || c.Items[1].Source != nil || c.Source.Title != "our code" {
		t.Errorf("checklist %+v", c)
	}
	if got := p.Covers(); got != "flow, field, tank, setbacks, limits, checklist" {
		t.Errorf("covers %q", got)
	}
}

func TestParseTellsWhatIsWrong(t *testing.T) {
	const head = `{"name": "a", "place": "b", `
	field := func(s string) string { return head + `"field": {` + s + `, ` + src + `}}` }
	rows := func(s string) string { return head + `"setbacks": {"rows": [` + s + `], ` + src + `}}` }
	limits := func(s string) string { return head + `"limits": [` + s + `]}` }
	items := func(s string) string { return head + `"checklist": {"items": [` + s + `], ` + src + `}}` }
	for _, test := range []struct {
		text         string
		line, column int
		key          string
		words        []string
	}{
		{``, 1, 1, "", []string{"empty", "rule pack in JSON"}},
		{"{\n  \"name\": ,}", 2, 11, "", []string{"not JSON"}},
		{`{} {}`, 1, 4, "", []string{"after top-level value"}},
		{`[]`, 1, 1, "", []string{"a list", "an object", "our county"}},
		{`{"place": "b"}`, 1, 1, "", []string{"“name” is missing"}},
		{`{"name": " ", "place": "b"}`, 1, 10, "name", []string{"a short name"}},
		{head + `"flwo": {}}`, 1, 29, "", []string{"“flwo” is not known; did you mean “flow”?", "one of name, place"}},
		{head + `"name": "c"}`, 1, 29, "name", []string{"twice"}},
		{head + `"flow": {"per bedroom": "150", ` + src + `}}`, 1, 53, "flow.per bedroom", []string{"“150”", "no unit", "gallons per day", `"150 gal/day"`}},
		{head + `"flow": {"per bedroom": 150, ` + src + `}}`, 1, 53, "flow.per bedroom", []string{"“150”", "with its unit"}},
		{head + `"flow": {"per bedroom": "0 gpd", ` + src + `}}`, 1, 53, "flow.per bedroom", []string{"above zero"}},
		{head + `"flow": {` + src + `}}`, 1, 37, "flow", []string{"no flow is written"}},
		{head + `"flow": {"per bedroom": "150 gpd"}}`, 1, 37, "flow", []string{"“source” is missing", "status"}},
		{head + `"flow": {"by bedrooms": {"3": "400 gpd", "3": "400 gpd"}, ` + src + `}}`, 1, 70, "flow.by bedrooms.3", []string{"twice"}},
		{head + `"flow": {"by bedrooms": {"many": "400 gpd"}, ` + src + `}}`, 1, 54, "flow.by bedrooms", []string{"“many”", "number of bedrooms"}},
		{head + `"flow": {"per bedroom": "1 gpd", "each more": "1 gpd", ` + src + `}}`, 1, 37, "flow", []string{"no table to go on from"}},
		{head + `"tank": {` + src + `}}`, 1, 37, "tank", []string{"no capacity"}},
		{head + `"tank": {"steps": [{"up to bedrooms": 3, "capacity": "900 gal"}, {"up to bedrooms": 3, "capacity": "900 gal"}], ` + src + `}}`, 1, 94, "tank.steps[1]", []string{"do not rise"}},
		{head + `"tank": {"steps": [{"up to bedrooms": 2.5, "capacity": "900 gal"}], ` + src + `}}`, 1, 67, "tank.steps[0].up to bedrooms", []string{"2.5"}},
		{field(`"method": "by eye", "counts": "bottom"`), 1, 49, "field.method", []string{"“by eye”", "area per bedroom"}},
		{field(`"method": "loading rate by perc time", "counts": "bottom"`), 1, 49, "field.method", []string{"did you mean"}},
		{field(`"method": "rate formula by percolation time", "counts": "bottom"`), 1, 38, "field", []string{"rate at 1 min/in"}},
		{field(`"method": "loading rate by soil texture", "counts": "bottom"`), 1, 38, "field", []string{"textures are missing"}},
		{field(`"method": "loading rate by percolation time", "counts": "bottom", "between": "the next slower step"`), 1, 38, "field", []string{"steps are missing"}},
		{field(`"method": "loading rate by percolation time", "counts": "bottom", "steps": [{"up to": "5 min/in", "loading": "1 gpd/ft2"}]`), 1, 38, "field", []string{"between"}},
		{field(`"method": "area per bedroom by percolation time", "counts": "bottom", "between": "the next slower step", "steps": [{"up to": "5 min/in", "loading": "1 gpd/ft2"}]`), 1, 38, "field", []string{"no per bedroom"}},
		{field(`"method": "rate formula by percolation time", "counts": "bottom", "rate at 1 min/in": "5 gpd/ft2", "side": "1 ft"`), 1, 38, "field", []string{"only the bottom counts"}},
		{field(`"method": "rate formula by percolation time", "counts": "bottom", "rate at 1 min/in": "5 gpd/ft2", "least flow": "2 gpd", "most flow": "1 gpd"`), 1, 38, "field", []string{"below least flow"}},
		{head + `"lives": [{"what": "x", "least years": 5, "most years": 4, ` + src + `}]}`, 1, 39, "lives[0]", []string{"below least years"}},
		{head + `"lives": {}}`, 1, 38, "lives", []string{"an object", "a list"}},
		{head + `"looks": [{"what": "x", "months": 0, ` + src + `}]}`, 1, 63, "looks[0].months", []string{"number of months"}},
		{rows(`{"from": "wel", "tank": "50 ft"}`), 1, 60, "setbacks.rows[0].from", []string{"“wel”; did you mean “well”?", "property line", "other field"}},
		{rows(`{"from": "septic", "tank": "50 ft"}`), 1, 60, "setbacks.rows[0].from", []string{"“septic”", "well", "surface water"}},
		{rows(`{"from": 5, "tank": "50 ft"}`), 1, 60, "setbacks.rows[0].from", []string{"“5”"}},
		{rows(`{"tank": "50 ft"}`), 1, 51, "setbacks.rows[0]", []string{"“from” is missing", `{"from": "well", "class": "private"`}},
		{rows(`{"from": "well"}`), 1, 51, "setbacks.rows[0]", []string{"no distance is written", "tank, distribution box, field", "?"}},
		{rows(`{"from": "well", "tnak": "50 ft"}`), 1, 68, "setbacks.rows[0]", []string{"did you mean “tank”?"}},
		{rows(`{"from": "well", "tank": "50"}`), 1, 76, "setbacks.rows[0].tank", []string{"“50”", "no unit", `"50 ft"`}},
		{rows(`{"from": "well", "tank": 50}`), 1, 76, "setbacks.rows[0].tank", []string{"“50”", "with its unit"}},
		{rows(`{"from": "well", "tank": "100000 ft"}`), 1, 76, "setbacks.rows[0].tank", []string{"up to 10000 ft"}},
		{rows(`{"from": "well", "tank": "-5 ft"}`), 1, 76, "setbacks.rows[0].tank", []string{"“-5 ft”"}},
		{rows(`{"from": "building", "tank": "5 ft"}, {"from": "structure", "tank": "6 ft"}`), 1, 98, "setbacks.rows[1]", []string{"stands in setbacks.rows[0] too", "one row"}},
		{head + `"setbacks": {"rows": []}}`, 1, 41, "setbacks", []string{"“source” is missing"}},
		{head + `"setbacks": {` + src + `}}`, 1, 41, "setbacks", []string{"“rows” is missing"}},
		{limits(`{"on": "trench wdth", "least": "1 ft", ` + src + `}`), 1, 47, "limits[0].on", []string{"did you mean “trench width”?"}},
		{limits(`{"on": "trench width", ` + src + `}`), 1, 40, "limits[0]", []string{"no bound is written", "least, most or both"}},
		{limits(`{"on": "trench width", "least": "1 ft"}`), 1, 40, "limits[0]", []string{"“source” is missing"}},
		{limits(`{"on": "trench width", "least": "3 ft", "most": "1 ft", ` + src + `}`), 1, 40, "limits[0]", []string{"most is below least"}},
		{limits(`{"on": "trench width", "most": "1 ft", ` + src + `}, {"on": "trench width", "least": "1 ft", ` + src + `}`), 1, 141, "limits[1]", []string{"trench width stands here twice"}},
		{items(`{"what": "north arow"}`), 1, 62, "checklist.items[0].what", []string{"did you mean “north arrow”?"}},
		{items(`{"what": "something else"}`), 1, 53, "checklist.items[0]", []string{"what else is wanted is not told", "cleanouts"}},
		{items(`{"what": "wells"}, {"what": "wells"}`), 1, 72, "checklist.items[1]", []string{"“wells” stands here twice"}},
		{items(``), 1, 52, "checklist.items", []string{"no item is written", "the common one"}},
		{strings.Repeat("[", 100) + strings.Repeat("]", 100), 1, 17, "", []string{"nests deeper"}},
	} {
		_, err := rules.Parse("our.json", []byte(test.text))
		var all rules.Problems
		var p *rules.Problem
		if !errors.As(err, &all) || !errors.As(err, &p) {
			t.Errorf("%s: %v", test.text, err)
			continue
		}
		if p.File != "our.json" || p.Line != test.line || p.Column != test.column || p.Key != test.key || p.Expected == "" {
			t.Errorf("%s: got %+v; want %d:%d %q", test.text, p, test.line, test.column, test.key)
		}
		for _, w := range test.words {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%s: %q lacks %q", test.text, err, w)
			}
		}
	}
}

// All that is wrong is told at once, in the order of the file.
func TestParseTellsEverything(t *testing.T) {
	_, err := rules.Parse("our.json", []byte(`{
  "nmae": "x",
  "place": 4,
  "tank": {"least": "nine gal"}
}`))
	var all rules.Problems
	if !errors.As(err, &all) || len(all) != 5 || !strings.Contains(err.Error(), "did you mean “name”?") {
		t.Fatalf("got %v", err)
	}
	for i := 1; i < len(all); i++ {
		if all[i].Line < all[i-1].Line {
			t.Errorf("out of order: %v", err)
		}
	}
}

func compiled(t testing.TB) *jsonschema.Schema {
	t.Helper()
	data, err := os.ReadFile("../../docs/schema/rules.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("rules.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("rules.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The published schema knows what the reader knows: it takes every pack, and
// the pack with every key.
func TestSchemaTakesEveryPack(t *testing.T) {
	s := compiled(t)
	texts := map[string][]byte{"the pack with every key": []byte(whole)}
	for _, name := range rules.Names() {
		text, ok := rules.Text(name)
		if !ok {
			t.Fatalf("no text of %s", name)
		}
		texts[name] = text
	}
	common, err := os.ReadFile("common.json")
	if err != nil {
		t.Fatal(err)
	}
	texts["common"] = common
	for name, text := range texts {
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if err := s.Validate(doc); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The words that the schema offers are those that the reader takes.
func TestSchemaOffersTheWordsOfTheReader(t *testing.T) {
	data, err := os.ReadFile("../../docs/schema/rules.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	type object struct {
		Properties map[string]json.RawMessage
	}
	var doc object
	if err := json.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	// inside returns what lies below a path of properties and items.
	inside := func(path ...string) map[string]any {
		var v map[string]any
		if err := json.Unmarshal(doc.Properties[path[0]], &v); err != nil {
			t.Fatal(err)
		}
		for _, step := range path[1:] {
			v, _ = v[step].(map[string]any)
		}
		if v == nil {
			t.Fatalf("no %q", path)
		}
		return v
	}
	words := func(v map[string]any) []string {
		var out []string
		for _, w := range v["enum"].([]any) {
			out = append(out, w.(string))
		}
		return out
	}
	row := inside("setbacks", "properties", "rows", "items", "properties")
	check(t, "things", words(row["from"].(map[string]any)), rules.Things())
	check(t, "limits", words(inside("limits", "items", "properties", "on")), rules.LimitsOn())
	check(t, "wanted", words(inside("checklist", "properties", "items", "items", "properties", "what")), rules.AllWanted())
	for _, c := range rules.Columns() {
		if row[string(c)] == nil {
			t.Errorf("no column %s", c)
		}
	}
	if len(row) != len(rules.Columns())+4 {
		t.Errorf("%d keys of a row", len(row))
	}
}

func check[T ~string](t *testing.T, what string, got []string, want []T) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s: %q, want %q", what, got, want)
		return
	}
	for i := range want {
		if got[i] != string(want[i]) {
			t.Errorf("%s: %q, want %q", what, got[i], want[i])
		}
	}
}

// What is missing in one of the new parts is refused by both.
func TestSchemaAndReaderMissTheSame(t *testing.T) {
	s := compiled(t)
	for _, part := range []string{
		`"setbacks": {"rows": [{"from": "well"}], ` + src + `}`,
		`"setbacks": {"rows": [{"tank": "5 ft"}], ` + src + `}`,
		`"setbacks": {"rows": []}`,
		`"limits": [{"on": "trench width", ` + src + `}]`,
		`"limits": [{"on": "trench width", "least": "1 ft"}]`,
		`"checklist": {"items": [], ` + src + `}`,
		`"checklist": {"items": [{"what": "something else"}], ` + src + `}`,
		`"checklist": {"items": [{"words": "cleanouts"}], ` + src + `}`,
	} {
		text := []byte(`{"name": "a", "place": "b", ` + part + `}`)
		if _, err := rules.Parse("x", text); err == nil {
			t.Errorf("the reader takes %s", text)
		}
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if s.Validate(doc) == nil {
			t.Errorf("the schema takes %s", text)
		}
	}
}

// A key that neither knows is refused by both, at every level.
func TestSchemaAndReaderRefuseTheSame(t *testing.T) {
	s := compiled(t)
	var doc any
	if err := json.Unmarshal([]byte(whole), &doc); err != nil {
		t.Fatal(err)
	}
	changes := 0
	var walk func(v any)
	try := func() {
		changes++
		text, err := json.Marshal(doc)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := rules.Parse("x", text); err == nil {
			t.Errorf("the reader takes %s", text)
		}
		again, _ := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if s.Validate(again) == nil {
			t.Errorf("the schema takes %s", text)
		}
	}
	walk = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			v["bogus"] = "1"
			try()
			delete(v, "bogus")
			for key, was := range v {
				v[key] = map[string]any{"bogus": true}
				try()
				v[key] = was
				walk(was)
			}
		case []any:
			for _, item := range v {
				walk(item)
			}
		}
	}
	walk(doc)
	if changes < 60 {
		t.Errorf("only %d changes were tried", changes)
	}
}

func TestBuiltin(t *testing.T) {
	all := rules.Builtin()
	if len(all) < 10 || len(all) != len(rules.Names()) {
		t.Fatalf("%d packs", len(all))
	}
	for i, name := range rules.Names() {
		if all[i].Name != name {
			t.Errorf("the file %s holds the pack %s", name, all[i].Name)
		}
	}
	for _, name := range []string{"washington", "Washington", " WASHINGTON ", "new-york", "New York", "new_york"} {
		if _, ok := rules.ByName(name); !ok {
			t.Errorf("no pack %q", name)
		}
	}
	for _, name := range []string{"", "atlantis", "../common", strings.Repeat("x", 1000)} {
		if _, ok := rules.ByName(name); ok {
			t.Errorf("a pack %q", name)
		}
	}
	if like, ok := rules.Nearest("Washinton"); !ok || like != "washington" {
		t.Errorf("near Washinton is %q, %v", like, ok)
	}
	if like, ok := rules.Nearest("xyzzy"); ok {
		t.Errorf("near xyzzy is %q", like)
	}
	if rules.Default().Name != rules.DefaultName {
		t.Error("the default has another name")
	}
	// The caller's copy is the caller's own.
	rules.Default().Field.Steps[0].PerBedroom = 0
	if rules.Default().Field.Steps[0].PerBedroom == 0 {
		t.Error("a caller changed the default")
	}
	own, _ := rules.ByName("own")
	if own.Flow != nil || own.Field != nil || own.Tank != nil {
		t.Error("the neutral pack has numbers")
	}
}

func FuzzParse(f *testing.F) {
	for _, name := range rules.Names() {
		text, _ := rules.Text(name)
		f.Add(text)
	}
	for _, s := range []string{whole, ``, `{}`, `{"name":"a","place":"b"}`, "{\"a\xff\": 1}", `[[[[`, `{"name": null}`, `{"flow":{"by bedrooms":{"1":"1 gpd"}}}`,
		`{"name":"a","place":"b","setbacks":{"rows":[{"from":"well","class":"x\u0000","tank":"1e300 km"}],` + src + `}}`,
		`{"name":"a","place":"b","limits":[{"on":"accuracy of the record drawing","most":"0.5 ft",` + src + `}]}`,
		`{"name":"a","place":"b","checklist":{"items":[{"what":"something else","words":"cleanouts"}],` + src + `}}`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := rules.Parse("x.json", data)
		if err != nil {
			var all rules.Problems
			if !errors.As(err, &all) || len(all) == 0 {
				t.Fatalf("no problems: %v", err)
			}
			for _, one := range all {
				if one.Line < 1 || one.Column < 1 || one.Found == "" || one.Expected == "" || strings.ContainsAny(one.Error(), "\n\r") {
					t.Fatalf("incomplete %+v", one)
				}
			}
			return
		}
		if p.Name == "" || p.Place == "" || len(p.Lives) == 0 || len(p.Looks) == 0 {
			t.Fatalf("incomplete pack %+v", p)
		}
		for n := -1; n < 12; n++ {
			if flow, ok := p.Flow.Daily(n); ok && !(flow > 0) {
				t.Fatalf("%d bedrooms: flow %v", n, flow)
			}
			if v, ok := p.Tank.Capacity(n); ok && !(v > 0) {
				t.Fatalf("%d bedrooms: tank %v", n, v)
			}
			if s, ok := p.Field.Step(perc(float64(n)*7), "loam"); ok && s.PerBedroom < 0 {
				t.Fatalf("step %+v", s)
			}
		}
		if p.Checklist == nil || len(p.Checklist.Items) == 0 {
			t.Fatal("no checklist")
		}
		for _, on := range rules.LimitsOn() {
			if l, ok := p.Limit(on); ok && (l.On != on || l.Most > 0 && l.Most < l.Least || l.Source.Title == "") {
				t.Fatalf("limit %+v", l)
			}
		}
		answered(t, p)
	})
}

// near tells whether two lengths are one but for rounding.
func near(a, b unit.Length) bool { return (a - b).Abs() < 1e-9 }

// answered asks a pack for everything it may know: an answer is a distance with
// its source, or words that there is none.
func answered(t *testing.T, p *rules.Pack) {
	classes := []string{"", "private"}
	if p.Setbacks != nil {
		for _, r := range p.Setbacks.Rows {
			classes = append(classes, r.Class)
		}
	}
	for _, from := range rules.Things() {
		for _, class := range classes[:min(len(classes), 8)] {
			for _, to := range rules.Columns() {
				a := p.Setback(from, class, to)
				rule := !strings.Contains(a.Words, "no rule in this pack")
				if a.Known != (a.Distance > 0) || a.Known != rule || a.Known && a.Source.Title == "" || a.Assumed && !a.Known || strings.ContainsAny(a.Words, "\n\r\x00") {
					t.Fatalf("%s %q %s: %+v", from, class, to, a)
				}
			}
		}
	}
}

// The text of the common pack is the caller's own copy, and reads as a pack.
func TestCommonText(t *testing.T) {
	text := rules.CommonText()
	p, err := rules.Parse("common.json", text)
	if err != nil || p.Name != rules.CommonName || p.Covers() != "checklist" {
		t.Fatalf("got %+v, %v", p, err)
	}
	text[0] = 'x'
	if rules.CommonText()[0] != '{' {
		t.Error("a caller changed the common pack")
	}
}

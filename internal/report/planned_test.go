package report_test

import (
	"strings"
	"testing"

	"undersod/core/absorb"
	"undersod/core/judge"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/render"
	"undersod/internal/report"
)

// planned is an example job with its own judgement, its setbacks and what it
// proposes.
func planned(t testing.TB, name string) report.Input {
	t.Helper()
	job, plan := yard(t, name)
	pack, ok := rules.ByName(job.Site.Rules)
	if !ok {
		pack = rules.Default()
	}
	in := report.Input{Job: job, Plan: plan, Judgement: judge.Judge(job, plan, pack), Metrics: render.Metrics()}
	in.Table, in.Checks = setback.Judge(job, plan, pack), setback.Checks(job, plan, pack)
	for _, p := range job.Site.Proposed {
		q, problems := setback.Ask(job, plan, p)
		q.Turning.Step = 10 * unit.Degree // quick: how well it fits is tested elsewhere
		fit, err := setback.Find(job, plan, pack, q)
		if err != nil {
			t.Fatalf("%s: %v, problems %v", p.Name, err, problems)
		}
		in.Fits = append(in.Fits, fit)
	}
	in.Capacity = setback.Bedrooms(job, plan, pack, in.Judgement.Capacity, in.Judgement.Added, job.Site.PlannedBedrooms())
	return in
}

func TestTheCountyPacketHasSetbacksAndPlans(t *testing.T) {
	in := planned(t, "quarry-hollow.yaml")
	pages, err := report.County(in)
	if err != nil {
		t.Fatal(err)
	}
	text := words(pages)
	for _, want := range []string{"Setbacks", "permit [", "The permit's own distance: permit T-1996-0412", "No rule in this pack", "What the authority wants on the drawing",
		"How well the parts are found again", "Planned: Workshop, 24' x 16'", "What limits it at that place", "bedrooms that are planned", absorb.Decides} {
		if !strings.Contains(text, want) {
			t.Errorf("the packet does not say %q", want)
		}
	}
	if strings.Contains(text, "A common list, without a source") {
		t.Error("the packet has a common list beside the authority's")
	}
	short, clear := strings.Index(text, " short permit ["), strings.Index(text, " clear permit [")
	if short < 0 || clear < short {
		t.Errorf("a distance that is short stands at %d, one that is clear at %d", short, clear)
	}
}

// The drawing of what is proposed cannot be taken for the record.
func TestTheDrawingOfAProposalHasItsOwnTitle(t *testing.T) {
	in := planned(t, "second-dwelling.yaml")
	title := in.Job.Show.Title
	pages, err := report.County(in)
	if err != nil {
		t.Fatal(err)
	}
	var sheets []string
	for _, p := range pages {
		if !ours(p) {
			sheets = append(sheets, words([]sheet.Scene{p}))
		}
	}
	if len(sheets) != 1+len(in.Fits) {
		t.Fatalf("%d drawings, expected the record and %d proposals", len(sheets), len(in.Fits))
	}
	for i, s := range sheets {
		is := strings.Contains(s, "Planned:")
		if is != (i > 0) || i > 0 && !strings.Contains(s, "proposed") {
			t.Errorf("drawing %d is titled as planned: %v", i+1, is)
		}
	}
	if in.Job.Show.Title != title {
		t.Error("the job was changed")
	}
}

func TestThePacketWithoutAPlanTellsOfProposals(t *testing.T) {
	in := planned(t, "quarry-hollow.yaml")
	in.Plan, in.Unfitted = nil, []string{"quarry-hollow.yaml:9: Pool: it has no size; give it one"}
	if text := county(t, in); !strings.Contains(text, "There is no drawing") || !strings.Contains(text, "Planned, and not judged") || !strings.Contains(text, "Pool: it has no size") {
		t.Error("what could not be drawn or asked is not told")
	}
	in.Fits = nil
	if text := owner(t, in); !strings.Contains(text, "Not judged") {
		t.Error("the owner is not told what was not judged")
	}
}

// What is planned is told once to the owner, not as a second size of the field.
func TestTheOwnerIsToldOfBedroomsOnce(t *testing.T) {
	in := planned(t, "quarry-hollow.yaml")
	if text := owner(t, in); !strings.Contains(text, "What it asks of the system") || strings.Contains(text, "The field with one more bedroom") {
		t.Error("what bedrooms ask for is told twice, or not under what is planned")
	}
	in.Fits = nil
	if text := owner(t, in); strings.Contains(text, "What you plan") || !strings.Contains(text, "The field with one more bedroom") {
		t.Error("without a proposal bedrooms are not told with the size of the field")
	}
}

// A job that holds nothing has no table to show, and says so.
func TestSetbacksOfNothing(t *testing.T) {
	job := &site.Job{}
	in := report.Input{Metrics: render.Metrics(), Job: job, Table: setback.Judge(job, nil, rules.Default()), Checks: setback.Checks(job, nil, rules.Default())}
	if text := county(t, in); !strings.Contains(text, "No distance was judged.") {
		t.Error("a packet of nothing does not say that no distance was judged")
	}
}

// A signature stands with what it signs, however long the authority's list is.
func TestTheSignatureIsNotTornFromItsWords(t *testing.T) {
	in := planned(t, "quarry-hollow.yaml")
	all := in.Checks
	for n := range len(all) + 1 {
		in.Checks, in.Fits, in.Table = all[:n], nil, nil
		pages, err := report.County(in)
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range pages {
			text := words([]sheet.Scene{p})
			if strings.Contains(text, "what was measured and seen on the day") != strings.Contains(text, "Received by the authority (name") {
				t.Errorf("%d items: page %d has the words or the lines of the signature alone", n, i+1)
			}
		}
	}
}

func BenchmarkPacketOfTheDemo(b *testing.B) {
	for name, change := range map[string]func(*report.Input){"all": func(*report.Input) {}, "without plans": func(in *report.Input) {
		in.Table, in.Checks, in.Fits, in.Capacity = nil, nil, nil, nil
	}} {
		b.Run(name, func(b *testing.B) {
			in := planned(b, "quarry-hollow.yaml")
			change(&in)
			for b.Loop() {
				if _, err := report.County(in); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

package text_test

import (
	"bytes"
	"strings"
	"testing"

	"undersod/core/compare"
	"undersod/core/judge"
	"undersod/core/site"
	"undersod/internal/text"
)

func sideOf(of text.Of) compare.Side {
	return compare.Side{Job: &of.Read.Job, Plan: of.Plan, Judgement: judge.Judge(&of.Read.Job, of.Plan, nil)}
}

// TestComparisonsCanBeRead: every example against itself and the one before it.
func TestComparisonsCanBeRead(t *testing.T) {
	list := all(t)
	for i, of := range list {
		for _, before := range []text.Of{of, list[max(i-1, 0)]} {
			var out bytes.Buffer
			text.Compare(&out, before, of, compare.Visits(sideOf(before), sideOf(of)))
			readable(t, before.Name+" and "+of.Name, &out)
		}
	}
}

// TestAComparisonCannotSteerTheTerminal: names come from a file that anyone may
// have written.
func TestAComparisonCannotSteerTheTerminal(t *testing.T) {
	list := all(t)
	before, of := list[0], list[1]
	of.Read.Job.Site.Care = []site.Care{{Date: "2030-01-01", What: "\x1b[2Jpumped"}}
	of.Read.Job.Site.Owner = "\x1b]0;owned\a"
	var out bytes.Buffer
	text.Compare(&out, before, of, compare.Visits(sideOf(before), sideOf(of)))
	if strings.ContainsAny(out.String(), "\x1b\a") || !strings.Contains(out.String(), "pumped") {
		t.Error(out.String())
	}
}

package answer

import (
	"testing"

	"undersod/core/sheet"
	"undersod/examples"
	"undersod/internal/report"
)

// TestAServedReportHasWhatTheRulesSay: the pages of a report are made of the
// same table, checklist and plans as those of the command line.
func TestAServedReportHasWhatTheRulesSay(t *testing.T) {
	var got report.Input
	_, _ = New().book(t.Context(), Job{Format: "yaml", Bytes: examples.Demo()}, "seen", func(in report.Input) ([]sheet.Scene, error) {
		got = in
		return report.Owner(in)
	})
	if got.Table == nil || len(got.Table.Rows) == 0 || len(got.Checks) == 0 || got.Capacity == nil {
		t.Errorf("table %v, %d checks, capacity %v", got.Table != nil, len(got.Checks), got.Capacity != nil)
	}
	if len(got.Fits) != 1 || got.Fits[0].Question.Name != "Workshop" || len(got.Unfitted) != 0 {
		t.Errorf("%d fits, not fitted %q", len(got.Fits), got.Unfitted)
	}
}

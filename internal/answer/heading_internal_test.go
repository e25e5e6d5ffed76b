package answer

import (
	"fmt"
	"strings"
	"testing"

	"undersod/examples"
)

// TestABusyMomentIsNotKept: what is stored with a save says the same of a job
// whether the desk had a turn or not.
func TestABusyMomentIsNotKept(t *testing.T) {
	calm, busy := New(), New()
	for range cap(busy.waiting) {
		busy.waiting <- struct{}{}
	}
	want, got := calm.Heading("yaml", examples.Demo()), busy.Heading("yaml", examples.Demo())
	if fmt.Sprint(got) != fmt.Sprint(want) || got.Name != "18 Quarry Hollow Lane" || got.Acts == 0 {
		t.Errorf("busy %+v, calm %+v", got, want)
	}
}

// TestAJobThatIsNotJudgedKeepsItsName: one that is too large to be answered can
// be found all the same.
func TestAJobThatIsNotJudgedKeepsItsName(t *testing.T) {
	var job strings.Builder
	job.WriteString("undersod: 1\nsite: {name: 3 Fen Row, owner: A. Holm}\nmarks:\n")
	for i := range MostPoints + 1 {
		fmt.Fprintf(&job, "  M%d: {kind: iron pin}\n", i)
	}
	h := New().Heading("yaml", []byte(job.String()))
	if h.Name != "3 Fen Row" || h.Owner != "A. Holm" || !strings.HasPrefix(h.Fill, "not judged: the job has 301 points") {
		t.Errorf("%+v", h)
	}
	if h := New().Heading("yaml", []byte("{{{")); h.Name != "a job file that cannot be read" || h.Mistakes != 1 {
		t.Errorf("%+v", h)
	}
}

package text

import (
	"io"

	"undersod/core/caution"
	"undersod/core/judge"
)

// Split prints how every opened box shares its flow.
func Split(w io.Writer, of Of, j *judge.Judgement) {
	t := of.teller(w)
	t.head()
	if len(j.Boxes) == 0 {
		t.wrapped("", "No box was opened in this job: enter it under boxes, with the level and the bore of each outlet.")
	}
	for _, b := range j.Boxes {
		t.box(b)
	}
	t.stored(j.Storage)
	t.cautions("Before you open it", caution.OpenBox)
	t.print("\n")
	t.wrapped("", "The reckoning neglects the speed of the water in the box, and takes each outlet as a free brink. A water test with the box filled shows the same with less trust in figures.")
}

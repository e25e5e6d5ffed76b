package report

import "undersod/core/sheet"

// Marks are the findings that a sheet shows at their places, with the words
// that stand beside them. They are none without a plan or a judgement.
func Marks(in Input) []sheet.Finding {
	r, err := begin(in)
	if err != nil {
		return nil
	}
	return r.marked()
}

package judgefile

import "undersod/internal/checkfile"

// SplitDocument is what split --json prints.
type SplitDocument struct {
	Undersod int           `json:"undersod"` // version of this shape
	Kind     string        `json:"kind"`     // "split"
	Job      checkfile.Job `json:"job"`
	Boxes    []Box         `json:"boxes"`
	Storage  *Storage      `json:"storage,omitempty"`
	Missing  []string      `json:"missing"`
}

// CheckDocument is what check --json prints: the plan, and what is judged of it.
type CheckDocument struct {
	checkfile.Document
	Judgement Document `json:"judgement"`
}

// ReportDocument is what report --json prints.
type ReportDocument struct {
	Undersod int           `json:"undersod"` // version of this shape
	Kind     string        `json:"kind"`     // "report"
	Job      checkfile.Job `json:"job"`
	Document
}

package site

import "undersod/core/unit"

// FindingKind is what was seen, in plain words.
type FindingKind string

// The kinds of finding.
const (
	FineRoots      FindingKind = "fine roots"
	RootMass       FindingKind = "root mass"
	StandingWater  FindingKind = "standing water"
	Flattened      FindingKind = "flattened"
	Cracked        FindingKind = "cracked"
	Broken         FindingKind = "broken"
	JointShifted   FindingKind = "joint shifted"
	SoilEntering   FindingKind = "soil entering"
	Sediment       FindingKind = "sediment"
	Blocked        FindingKind = "blocked"
	LineEndSeen    FindingKind = "line end"
	Corroded       FindingKind = "corroded"
	Leaking        FindingKind = "leaking"
	PieceMissing   FindingKind = "piece missing" // a baffle, a tee, a lid
	WaterOverPipe  FindingKind = "water over the outlet"
	AnotherFinding FindingKind = "other" // the note says what
)

// Grade is how much a finding weighs.
type Grade uint8

// The grades, lightest first. GradeUnstated leaves the choice to the kind and
// the measure of the finding.
const (
	GradeUnstated Grade = iota
	Note                // keep on record
	Watch               // look again before long
	Act                 // something must be done
)

// String returns the grade in words: "note", "watch", "act".
func (g Grade) String() string { return [...]string{"", "note", "watch", "act"}[min(g, Act)] }

// Finding is one thing seen in a line, with its footages, or at a part.
type Finding struct {
	What  FindingKind
	Grade Grade
	// At is the counter's reading where it begins, To where it ends. Nil At for
	// a finding at a part; nil To where it is at one place.
	At, To  *unit.Written
	Depth   *unit.Written // of standing water or sediment over the pipe's bottom
	Percent *float64      // of the diameter: how much a flattened pipe lost, or how much roots close; 0 to 100
	Note    string
	Photos  []Photo
	Place   Place
}

// Photo is a picture in a file beside the job.
type Photo struct {
	File  string // slash-separated, relative to the job file
	Words string // what it shows, empty for the finding's own words
	Of    Name   // part, line or feature that it shows; empty for the site
	Place Place
}

// RunEnd is why a camera run ended.
type RunEnd string

// The reasons.
const (
	ReachedEnd     RunEnd = "line end"        // the end of the line was seen
	StoppedRoots   RunEnd = "roots"           // roots would not let it pass
	StoppedWater   RunEnd = "water"           // nothing could be seen under water
	StoppedBroken  RunEnd = "broken pipe"     // the pipe is broken or flattened
	StoppedBend    RunEnd = "bend"            // the camera would not go round
	StoppedSoil    RunEnd = "soil"            // soil or sediment closed the way
	StoppedCable   RunEnd = "cable too short" // no more cable
	StoppedOther   RunEnd = "other"           // the note says what
	RunEndUnstated RunEnd = ""                // nobody said
)

// Run is one camera run down a line.
type Run struct {
	ID   ReadingID // "camera Line 2", "camera Line 2 #2"
	Line Name
	// Entry is the point of the line's path where the camera went in, and Toward
	// the end of the path it was pushed to. Empty: from the line's start to its
	// end. A run from the far end back is a run against the flow.
	Entry, Toward Name
	Zero          *unit.Written // what the counter showed at the entry; nil for zero
	// Pushed is by how much of the true length the counter reads long because
	// the pushed cable snakes in the pipe, a ratio (0.01 is 1 in 100): true
	// length = (counter - zero) / (1 + Pushed).
	Pushed     float64
	Instrument Name         // of kind camera counter; empty for the default
	SD         *unit.Length // of one footage, nil for the instrument's
	Ended      RunEnd
	EndedAt    *unit.Written // the counter's reading there
	Findings   []Finding
	Note       string
	Place      Place
}

// PhotoFiles lists every picture that a job names, each once: those of the
// visit, of the camera runs, and of the parts.
func (j *Job) PhotoFiles() []string {
	var names []string
	seen := map[string]bool{}
	add := func(list []Photo) {
		for _, f := range list {
			if !seen[f.File] {
				seen[f.File] = true
				names = append(names, f.File)
			}
		}
	}
	add(j.Visit.Photos)
	for _, r := range j.Visit.Runs {
		for _, f := range r.Findings {
			add(f.Photos)
		}
	}
	for _, part := range j.Site.Parts {
		for _, f := range part.Findings {
			add(f.Photos)
		}
	}
	return names
}

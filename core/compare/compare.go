// Package compare holds two visits of one site against each other: what moved,
// by how much and how surely, what grew, what is new or gone, and what was done
// in between.
package compare

import (
	"undersod/core/adjust"
	"undersod/core/judge"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// Side is one of the two visits.
type Side struct {
	Job       *site.Job
	Plan      *adjust.Plan
	Judgement *judge.Judgement // for the split of boxes; nil leaves it out
	// Renamed tells, for the later visit, what something is called there by what
	// it was called before. Nothing counts as renamed unless a person says so.
	Renamed map[site.Name]site.Name
}

// Verdict is what the comparison says of one thing.
type Verdict string

// The verdicts. Moved and changed are told with 95 % of both visits together;
// unchanged says as well that a difference that matters would have been seen.
const (
	Unchanged  Verdict = "unchanged"
	Moved      Verdict = "moved"             // a place
	Changed    Verdict = "changed"           // a number or a word
	TooClose   Verdict = "too close to call" // neither can be told
	New        Verdict = "new"               // the earlier visit has nothing of that name
	Gone       Verdict = "gone"              // the later visit has nothing of that name
	NotLocated Verdict = "not located"       // one of the two does not know where it is
)

// What counts as a difference that matters where the job states no limit of its
// own: common practice, no source, but for the first, which is the limit of a
// record drawing in WAC 246-272A-0265 (0.5 ft).
const (
	PlaceMatters = unit.Foot / 2
	LevelMatters = unit.Inch / 2 // of a height
	BoxMatters   = unit.Inch / 4 // of an outlet over the lowest one
	DepthMatters = 2 * unit.Inch // of a depth below the ground, which a rake changes
)

// How well one and the same thing is found again by another crew, as a standard
// deviation of each of east and north: common practice, no source.
const (
	MarkAgain    = unit.Inch / 8
	PartAgain    = unit.Inch / 2
	FeatureAgain = unit.Inch
)

// Comparison is two visits held against each other.
type Comparison struct {
	Before, After string // dates of the visits, as written
	Overlay       Overlay
	Places        []Place
	Outlines      []Outline
	Lines         []Line
	Levels        []Level
	Depths        []Depth
	LevelFrom     string // what the levels are counted from, in words; empty where none are common
	Boxes         []Box
	Findings      []Finding
	Runs          []Run
	Since         []Care // what was done since the earlier visit, in order
	Facts         []Fact
	Readings      []Pair
	Remarks       []string // what limits the comparison, in words
	Summary       []string // what matters, first things first
}

// Overlay is how the later plan is laid over the earlier one: shifted and
// turned, never scaled.
type Overlay struct {
	Known   bool
	Marks   []site.Name // that hold it, by their earlier names
	Aside   []Aside     // marks that were set aside
	Turn    unit.Angle  // clockwise, from the later plan to the earlier one
	Shift   planar.Vec  // after the turn
	Misfit  float64     // weighted sum of squares that the marks leave
	Freedom int
	Words   string
}

// Aside is a mark that does not fit the others.
type Aside struct {
	Mark  site.Name
	With  []site.Name // others that it cannot be told apart from
	By    planar.Vec  // how far it stands from where the others put it
	Words string
}

// ToEarlier carries a place of the later plan onto the earlier one.
func (o Overlay) ToEarlier(v planar.Vec) planar.Vec { return v.Clockwise(o.Turn).Plus(o.Shift) }

// ToLater carries a place of the earlier plan onto the later one.
func (o Overlay) ToLater(v planar.Vec) planar.Vec { return v.Minus(o.Shift).Clockwise(-o.Turn) }

// Place is one point of the two plans.
type Place struct {
	Name    site.Name // in the later visit, or the earlier one where it is gone
	Earlier site.Name // where it is another
	What    string    // what it is: "distribution box", "corner"
	Mark    bool
	Verdict Verdict
	Was, Is planar.Vec  // on the earlier plan; Was also where it is new or gone, as far as known
	By      unit.Length // how far it lies from where it lay
	Toward  unit.Angle  // direction of the move on the earlier plan
	Within  unit.Length // 95 % of both visits together
	Same    bool        // every reading of it is written as it was before
	Words   string
	Short   string // of a move, for a drawing: "D-box moved 4\" toward N 20° E"
}

// Outline is a part found by its edges.
type Outline struct {
	Part      site.Name
	Verdict   Verdict
	By        unit.Length // of its middle
	Toward    unit.Angle
	Within    unit.Length
	Turned    unit.Angle // clockwise
	TurnedSD  unit.Angle
	Was, Is   planar.Vec    // its middle, on the earlier plan
	WasCorner [4]planar.Vec // on the earlier plan
	Words     string
	Short     string // of a move, for a drawing
}

// Line is a line's length and run.
type Line struct {
	Line             site.Name
	Verdict          Verdict
	Known            bool // both lengths are
	Before, After    unit.Length
	Change, Within   unit.Length // 95 % of both together
	BendsWas, BendIs int
	Moved            []site.Name // points of its path that moved
	Words            string
}

// Level is one height against the same height before.
type Level struct {
	Point          site.Name
	On             site.RodOn
	Verdict        Verdict
	Change, Within unit.Length // later minus earlier; 95 %
	Words          string
}

// Depth is how deep something lies below the ground above it, before and now.
type Depth struct {
	Point                         site.Name
	Verdict                       Verdict
	Before, After, Change, Within unit.Length // 95 % of the change
	Words                         string
}

// Box is an opened box before and now.
type Box struct {
	Part    site.Name
	Outlets []Outlet
	Spread  Spread
	Words   string
}

// Spread is the highest less the lowest outlet.
type Spread struct {
	Known                         bool
	Verdict                       Verdict
	Before, After, Change, Within unit.Length
}

// Outlet is one outlet before and now: its height over the lowest, and its share.
type Outlet struct {
	Line          site.Name
	Known         bool // both heights are
	Verdict       Verdict
	Before, After unit.Length
	Within        unit.Length // of the change, 95 %
	SharesKnown   bool
	ShareBefore   float64 // of the inflow, 0 to 1
	ShareAfter    float64
	Words         string
}

// Growth is what became of a finding.
type Growth string

// The answers.
const (
	Same        Growth = "same"
	Grown       Growth = "grown"
	Lessened    Growth = "less"
	Appeared    Growth = "new"
	Vanished    Growth = "gone"
	NotLookedAt Growth = "not looked at again"
	NotBefore   Growth = "not looked at before"
)

// Finding is one thing seen, before and now.
type Finding struct {
	Line, Part    site.Name
	What          site.FindingKind // now, or before where it is gone
	Growth        Growth
	Station       unit.Length // along the line, where it is of one
	Before, After *site.Finding
	Grade         site.Grade // now, or before where it is gone
	Words         string
}

// Run is how far the camera saw of a line, before and now.
type Run struct {
	Line          site.Name
	Before, After []Seen
	Words         string
}

// Seen is one camera run.
type Seen struct {
	From, To unit.Length // stations
	Ended    site.RunEnd
}

// Care is something done since the earlier visit.
type Care struct {
	site.Care
	Unsure bool // the dates do not tell whether before or after the earlier visit
	Words  string
}

// Fact is one entry that changed: of household, soil, record or permit, or of a
// part or line.
type Fact struct {
	Of, What      string
	Before, After string // empty where nothing was stated
	Words         string
}

// Pair is a distance taped at both visits that does not read the same.
type Pair struct {
	From, To      site.Name
	Before, After unit.Length // the mean where it was taped several times
	Change        unit.Length
	Within        unit.Length // 95 % of both together
	Words         string
}

// Visits compares two visits of one site. It never fails: what cannot be
// compared is told in Remarks, and the rest is compared. A nil job or plan is an
// empty one.
func Visits(before, after Side) *Comparison {
	w := newWork(before, after)
	w.order()
	w.unsettled()
	w.overlay()
	w.places()
	w.outlines()
	w.lines()
	w.levels()
	w.depths()
	w.boxes()
	w.findings()
	w.since()
	w.facts()
	w.readings()
	w.renames()
	w.summary()
	return w.out
}

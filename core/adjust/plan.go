package adjust

import (
	"undersod/core/level"
	"undersod/core/planar"
	"undersod/core/site"
	"undersod/core/unit"
)

// Plan is what the readings of a visit say: where every point lies and how
// sure that is, how every reading agrees with the others, and what to do next.
type Plan struct {
	Frame      Frame
	Points     []Point   // in the order of the site's points
	Readings   []Reading // in the order of the visit's readings, then sides and right angles
	Global     Global
	Search     Search      // readings that disagree, with explanations
	Next       []Candidate // best further readings, best first
	Outlines   []Outline   // fitted rectangles
	Footages   []LineLength
	Levels     Levels
	Net        *level.Net // the adjusted heights in full; never nil in a plan of Solve
	Verdict    Verdict
	Iterations int // of the last adjustment

	work   *remembered // where the next plan may start
	solved solved      // for the joint covariance
}

// Frame says what the coordinates are counted from.
type Frame struct {
	Kind      site.DatumKind
	Mark      site.Name   // held in place
	Toward    site.Name   // the direction to it is held
	Azimuth   unit.Angle  // of the held direction on the plan
	North     North       // what up on the plan means
	NorthSD   unit.Angle  // of a measured north; 0 where it is given
	Latitude  *unit.Angle // of Mark, where known from the job or from fixes
	Longitude *unit.Angle
	Height    unit.Length
	Why       string // why this datum, in words
}

// North is what the plan's up direction means.
type North uint8

// The norths.
const (
	NorthUnknown  North = iota // nothing measured it: up is square to the datum's baseline
	NorthGiven                 // the job's datum states it
	NorthMeasured              // bearings or fixes gave it
	NorthMagnetic              // magnetic bearings without a declination gave it
)

// State is how far a point is known.
type State uint8

// The states of a point.
const (
	Determined   State = iota
	TwoAnswers         // two mirrored places fit equally well
	Undetermined       // the readings leave it free to move
	Unconnected        // no reading ties it to the datum at all
)

// Point is one point of the plan.
type Point struct {
	Name    site.Name
	Role    site.Role
	State   State
	Why     string      // why it is not determined, in words; empty when it is
	At      planar.Vec  // adjusted position; the best one where there are two
	Other   *planar.Vec // the mirrored place, for TwoAnswers
	Placed  bool        // whether At means anything
	Sigma   Sigma
	Ellipse Ellipse // 95 %
	Checked float64 // largest redundancy share of the readings that touch it, 0 when nothing checks it
	// Hidden is how far a slip in one reading that speaks of the point may move
	// it and still go unnoticed (one time in five); +Inf where a reading that
	// moves it is checked by nothing.
	Hidden unit.Length
	// Doubt is how far the point moves when the accused readings are set aside;
	// 0 when none is accused. At keeps every reading as written.
	Doubt     unit.Length
	Cure      *Candidate // for a point not determined: the cheapest reading that would fix it
	CureWords string     // the same in words
}

// Sigma is the covariance of a point relative to the datum: standard deviations
// of east and north, and their correlation.
type Sigma struct {
	East, North unit.Length
	Correlation float64
}

// Ellipse is the ellipse that holds the point with 95 % probability.
type Ellipse struct {
	Major, Minor unit.Length // semi-axes
	Azimuth      unit.Angle  // of the major axis, from 0 up to half a turn
	Radius       unit.Length // of the circle about At that holds it with 95 %
}

// Source says where an observation of the adjustment comes from.
type Source uint8

// The sources.
const (
	FromReading Source = iota // a reading of the visit
	FromSide                  // a side of a building
	FromSquare                // a right angle of a building: a condition, not a reading
)

// Use is what the adjustment did with a reading.
type Use uint8

// The uses.
const (
	Used     Use = iota
	SetAside     // blamed and left out of the adjustment
	Unusable     // its value cannot be right, as a negative length
	Idle         // nothing to adjust with it: a depth, or a point that is not placed
)

// Component is one number of a reading against its adjusted value. Lengths are
// in metres and angles in radians; Unit says which.
type Component struct {
	What       string // "distance", "station", "right", "direction", "east", "north", "length", "angle"
	Angular    bool
	Read       float64 // m or rad
	Adjusted   float64 // m or rad
	Residual   float64 // adjusted minus read, m or rad
	SD         float64 // a-priori standard deviation of the reading, m or rad
	Standard   float64 // standardized residual; 0 where Redundancy is 0
	Redundancy float64 // redundancy share, 0 to 1
	Detectable float64 // smallest slip that would be found, m or rad; +Inf where nothing checks it
}

// Reading is one reading of the plan.
type Reading struct {
	ID         site.ReadingID
	Source     Source
	Use        Use
	Why        string // why it is not used, in words
	Words      string // the reading in words: "tie from A to tank lid"
	Written    string // as written
	Corrected  string // what the person decided it should have been, empty when it stands
	Place      site.Place
	Touches    []site.Name // the points it speaks of
	Components []Component
	Flagged    bool // it disagrees, alone or as one of a group
}

// Global is the test of the whole adjustment.
type Global struct {
	Freedom      int     // degrees of freedom
	Statistic    float64 // weighted sum of squared residuals
	Lower, Upper float64 // limits at Significance, two-sided
	Significance float64
	Passed       bool    // Statistic is not above Upper
	TooGood      bool    // Statistic is below Lower: the readings agree better than stated
	Critical     float64 // limit of a standardized residual
	FamilyWise   float64 // significance of that limit over all tested readings together
	Power        float64 // with which the smallest detectable slip is found
}

// Search is the outcome of the search for wrong readings.
type Search struct {
	Accused     []Accusation
	Unchecked   []site.ReadingID // nothing checks these
	Unexplained bool             // the global test still fails with all accused readings set aside
	Words       string
}

// Accusation is one wrong reading, or a group of which one is wrong.
type Accusation struct {
	Readings    []site.ReadingID // one, or several that cannot be told apart; the likeliest first
	Located     bool             // whether one reading is named
	Standard    float64          // standardized residual of the first
	Misfit      float64          // first reading: as written minus what the others say, m or rad
	Angular     bool
	Predicted   float64 // what the others say the first reading should be, m or rad
	PredictedSD float64
	Hypotheses  []Hypothesis // ranked, best first
	NextReading *Candidate   // the reading that would tell the group apart
	Words       string
}

// HypothesisKind is what may have gone wrong.
type HypothesisKind string

// The slips that are tried.
const (
	SlipFoot        HypothesisKind = "foot slip"
	SlipMetre       HypothesisKind = "metre slip"
	SlipTenths      HypothesisKind = "inches written as tenths"
	SlipInches      HypothesisKind = "tenths written as inches"
	SlipSixNine     HypothesisKind = "6 and 9 swapped"
	SlipTransposed  HypothesisKind = "digits transposed"
	SlipTapeZero    HypothesisKind = "tape not held at zero"
	SlipSwapped     HypothesisKind = "two readings swapped"
	SlipWrongEnd    HypothesisKind = "measured from the other end"
	SlipOtherSide   HypothesisKind = "left and right exchanged"
	SlipOtherCorner HypothesisKind = "taken from another corner"
	SlipMirrored    HypothesisKind = "point on the other side"
	SlipUnknown     HypothesisKind = "some other slip"
)

// Hypothesis is one explanation of a wrong reading, refitted.
type Hypothesis struct {
	Kind      HypothesisKind
	Words     string           // in full
	Readings  []site.ReadingID // what it changes
	Corrected string           // what the reading would have been, as the trade writes it
	Change    float64          // corrected minus written, m or rad
	Statistic float64          // weighted sum of squared residuals under it
	Standard  float64          // how far the corrected reading lies from the others, in standard deviations
	Explains  bool             // Standard is within its limit
	Score     float64          // ranking: smaller is better
	Moves     []Move           // what it does to the points, largest first
}

// Move is how far a point moves under a hypothesis, against the plan with the
// reading as written.
type Move struct {
	Point site.Name
	By    planar.Vec
}

// Candidate is a further reading that could be taken.
type Candidate struct {
	Kind     string // "tie", "repeat", "side"
	From, To site.Name
	Expect   unit.Length // about what it will read; 0 when not known
	Before   unit.Length // largest 95 % radius among the drawn parts now
	After    unit.Length // the same with the reading
	Point    site.Name   // the point it helps most
	Words    string
}

// Outline is a rectangle fitted to probe hits.
type Outline struct {
	Part          site.Name
	Fitted        bool
	Why           string // why it is not fitted, in words
	Centre        planar.Vec
	Sigma         Sigma      // of Centre
	Azimuth       unit.Angle // of the length, to the right along the near edge
	AzimuthSD     unit.Angle
	Length, Width unit.Length
	LengthSD      unit.Length
	WidthSD       unit.Length
	Corners       [4]planar.Vec // near left, far left, far right, near right: clockwise
	Freedom       int
	Statistic     float64
	Hits          []HitResult
}

// HitResult is a probe hit against the fitted outline.
type HitResult struct {
	Point    site.Name
	Edge     site.Edge
	Off      unit.Length // adjusted edge to hit, positive outside the outline
	Standard float64
	LiesOff  bool
	Words    string // empty when it lies on the outline
}

// LineLength is a line's measured length: along the plan, with its uncertainty.
type LineLength struct {
	Line     site.Name
	Known    bool
	Length   unit.Length
	SD       unit.Length
	Segments []unit.Length
}

// Levels holds the heights found from rod readings and depths.
type Levels struct {
	Heights   []Height
	Freedom   int
	Statistic float64
}

// Height is the height of the ground or of a part at a point, over the lowest
// set-up's first point.
type Height struct {
	Point site.Name
	On    site.RodOn
	At    unit.Length
	SD    unit.Length
}

// Colour of the verdict, named for what it allows.
type Fill uint8

// The verdicts.
const (
	FillNo     Fill = iota // something disagrees or is not determined
	FillUnsure             // all agrees, but a drawn part rests on readings that nothing checks
	FillYes
)

// Verdict says whether the hole may be filled.
type Verdict struct {
	Fill    Fill
	Words   string
	Reasons []string
	Unused  int // entries of the job that were wrong and not used
}

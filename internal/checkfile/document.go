// Package checkfile turns a plan into the JSON document that check --json
// prints. Its shape is published in docs/schema/check.schema.json; lengths are
// in metres and angles in degrees, and every key says so.
package checkfile

// Document is the whole answer.
type Document struct {
	Undersod int       `json:"undersod"` // version of this shape
	Kind     string    `json:"kind"`     // "check"
	Job      Job       `json:"job"`
	Verdict  Verdict   `json:"verdict"`
	Frame    Frame     `json:"frame"`
	Global   Global    `json:"global"`
	Points   []Point   `json:"points"`
	Readings []Reading `json:"readings"`
	Accused  []Accused `json:"accused"`
	Next     []Next    `json:"next"`
	Lines    []Line    `json:"lines"`
	Outlines []Outline `json:"outlines"`
	Heights  []Height  `json:"heights"`
	Problems []Problem `json:"problems"`
}

// Job names the job.
type Job struct {
	File string `json:"file"`
	Site string `json:"site"`
	Date string `json:"date"`
}

// Verdict says whether the hole may be filled: yes, unsure or no.
type Verdict struct {
	Fill    string   `json:"fill"`
	Words   string   `json:"words"`
	Reasons []string `json:"reasons"`
}

// Frame is what the coordinates are counted from.
type Frame struct {
	Kind      string   `json:"kind"` // auto, baseline or free
	Mark      string   `json:"mark"`
	Toward    string   `json:"toward"`
	Azimuth   float64  `json:"azimuth_deg"`
	North     string   `json:"north"` // given, measured, magnetic or unknown
	NorthSD   float64  `json:"north_sd_deg"`
	Latitude  *float64 `json:"latitude_deg,omitempty"`
	Longitude *float64 `json:"longitude_deg,omitempty"`
	Why       string   `json:"why"`
}

// Global is the test of the whole adjustment.
type Global struct {
	Freedom      int     `json:"degrees_of_freedom"`
	Statistic    float64 `json:"statistic"`
	Lower        float64 `json:"lower_limit"`
	Upper        float64 `json:"upper_limit"`
	Significance float64 `json:"significance"`
	Passed       bool    `json:"passed"`
	TooGood      bool    `json:"better_than_stated"`
	Critical     float64 `json:"critical_standardized_residual"`
	FamilyWise   float64 `json:"family_wise_significance"`
	Power        float64 `json:"power"`
	Iterations   int     `json:"iterations"`
}

// Place is a position in metres.
type Place struct {
	East  float64 `json:"east_m"`
	North float64 `json:"north_m"`
}

// Ellipse is the 95 % ellipse.
type Ellipse struct {
	Major   float64 `json:"semi_major_m"`
	Minor   float64 `json:"semi_minor_m"`
	Azimuth float64 `json:"azimuth_deg"`
}

// Point is one point. East to Radius are absent when it has no place.
type Point struct {
	Name        string   `json:"name"`
	Role        string   `json:"role"`
	Determined  bool     `json:"determined"`
	State       string   `json:"state"` // determined, two answers, undetermined, unconnected
	Why         string   `json:"why,omitempty"`
	East        *float64 `json:"east_m,omitempty"`
	North       *float64 `json:"north_m,omitempty"`
	Other       *Place   `json:"other,omitempty"`
	SDEast      *float64 `json:"sd_east_m,omitempty"`
	SDNorth     *float64 `json:"sd_north_m,omitempty"`
	Correlation *float64 `json:"correlation,omitempty"`
	Ellipse     *Ellipse `json:"ellipse95,omitempty"`
	Radius      *float64 `json:"radius95_m,omitempty"`
	Checked     float64  `json:"largest_redundancy_share"`
	Hidden      *float64 `json:"hidden_slip_moves_m,omitempty"`
	Doubt       float64  `json:"moves_without_accused_m"`
	Cure        string   `json:"cure,omitempty"`
}

// Component is one number of a reading; Unit is m or deg.
type Component struct {
	What       string   `json:"what"`
	Unit       string   `json:"unit"`
	Read       float64  `json:"read"`
	Adjusted   *float64 `json:"adjusted,omitempty"`
	Residual   *float64 `json:"residual,omitempty"`
	SD         float64  `json:"sd"`
	Standard   *float64 `json:"standardized_residual,omitempty"`
	Redundancy *float64 `json:"redundancy_share,omitempty"`
	Detectable *float64 `json:"smallest_detectable_slip,omitempty"`
}

// Reading is one reading, side or right angle.
type Reading struct {
	ID         string       `json:"id"`
	Source     string       `json:"source"` // reading, side, right angle
	Use        string       `json:"use"`    // used, set aside, unusable, idle
	Why        string       `json:"why,omitempty"`
	Words      string       `json:"words"`
	Written    string       `json:"written"`
	Corrected  string       `json:"corrected,omitempty"`
	Line       int          `json:"line,omitempty"`
	Column     int          `json:"column,omitempty"`
	Components []Component  `json:"components"`
	Flagged    bool         `json:"flagged"`
	Checked    bool         `json:"checked"` // whether anything checks it
	Hypotheses []Hypothesis `json:"hypotheses,omitempty"`
}

// Accused is one wrong reading, or a group that cannot be told apart.
type Accused struct {
	Readings   []string     `json:"readings"`
	Located    bool         `json:"located"`
	Standard   float64      `json:"standardized_residual"`
	Unit       string       `json:"unit"`
	Misfit     float64      `json:"misfit"`
	Predicted  float64      `json:"predicted"`
	Hypotheses []Hypothesis `json:"hypotheses"`
	Next       string       `json:"next,omitempty"`
	Words      string       `json:"words"`
}

// Hypothesis is one ranked explanation.
type Hypothesis struct {
	Rank      int      `json:"rank"`
	Kind      string   `json:"kind"`
	Words     string   `json:"words"`
	Readings  []string `json:"readings"`
	Corrected string   `json:"corrected"`
	Change    float64  `json:"change"`
	Statistic float64  `json:"statistic"`
	Standard  float64  `json:"standard"`
	Explains  bool     `json:"explains"`
	Score     float64  `json:"score"`
	Moves     []Move   `json:"moves,omitempty"`
}

// Move is how far a point moves under a hypothesis.
type Move struct {
	Point string  `json:"point"`
	East  float64 `json:"east_m"`
	North float64 `json:"north_m"`
}

// Next is a further reading worth taking.
type Next struct {
	From   string  `json:"from"`
	To     string  `json:"to"`
	Expect float64 `json:"expect_m"`
	Before float64 `json:"worst_radius95_before_m"`
	After  float64 `json:"worst_radius95_after_m"`
	Words  string  `json:"words"`
}

// Line is a line's length along the plan.
type Line struct {
	Name   string   `json:"name"`
	Known  bool     `json:"known"`
	Length *float64 `json:"length_m,omitempty"`
	SD     *float64 `json:"sd_m,omitempty"`
}

// Outline is a rectangle fitted to probe hits.
type Outline struct {
	Part      string   `json:"part"`
	Fitted    bool     `json:"fitted"`
	Why       string   `json:"why,omitempty"`
	Centre    *Place   `json:"centre,omitempty"`
	SDEast    *float64 `json:"sd_east_m,omitempty"`
	SDNorth   *float64 `json:"sd_north_m,omitempty"`
	Azimuth   *float64 `json:"azimuth_deg,omitempty"`
	AzimuthSD *float64 `json:"sd_azimuth_deg,omitempty"`
	Length    *float64 `json:"length_m,omitempty"`
	LengthSD  *float64 `json:"sd_length_m,omitempty"`
	Width     *float64 `json:"width_m,omitempty"`
	WidthSD   *float64 `json:"sd_width_m,omitempty"`
	Corners   []Place  `json:"corners,omitempty"`
	Hits      []Hit    `json:"hits,omitempty"`
}

// Hit is a probe hit against its outline.
type Hit struct {
	Point    string  `json:"point"`
	Edge     string  `json:"edge"`
	Off      float64 `json:"off_m"`
	Standard float64 `json:"standardized_residual"`
	LiesOff  bool    `json:"lies_off"`
	Words    string  `json:"words,omitempty"`
}

// Height is a height from rod readings and depths.
type Height struct {
	Point string  `json:"point"`
	On    string  `json:"on"`
	At    float64 `json:"height_m"`
	SD    float64 `json:"sd_m"`
}

// Problem is one thing wrong with the job file.
type Problem struct {
	Line     int    `json:"line"`
	Column   int    `json:"column"`
	Subject  string `json:"subject"`
	Found    string `json:"found"`
	Expected string `json:"expected"`
	Example  string `json:"example,omitempty"`
	Advice   string `json:"advice,omitempty"`
	Remark   bool   `json:"remark"`
}

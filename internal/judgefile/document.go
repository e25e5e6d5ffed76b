// Package judgefile turns a judgement into JSON: the part of check --json that
// speaks of camera, levels, boxes, field, permit and condition, and the whole
// of split --json. Keys say their unit; shapes are published in docs/schema.
package judgefile

// Document is a judgement.
type Document struct {
	Pack      string       `json:"rule_pack"`
	Runs      []Run        `json:"camera_runs"`
	Parts     []Finding    `json:"findings_at_parts"`
	Levels    Levels       `json:"levels"`
	Boxes     []Box        `json:"boxes"`
	Storage   *Storage     `json:"storage,omitempty"`
	Capacity  Capacity     `json:"capacity"`
	Added     *Added       `json:"with_added_bedrooms,omitempty"`
	Permit    []Comparison `json:"permit"`
	Old       *OldDrawing  `json:"old_drawing,omitempty"`
	Lives     []Life       `json:"ages"`
	Actions   []Action     `json:"actions"`
	Fine      []string     `json:"fine"`
	Reminders []Reminder   `json:"reminders"`
	Missing   []string     `json:"missing"`
}

// Place is a position on the plan.
type Place struct {
	East  float64 `json:"east_m"`
	North float64 `json:"north_m"`
}

// Spot is a place along a line.
type Spot struct {
	Station   float64  `json:"station_m"`
	StationSD float64  `json:"sd_station_m"`
	At        *Place   `json:"at,omitempty"`
	Radius    *float64 `json:"radius95_m,omitempty"`
	Beyond    float64  `json:"beyond_end_m,omitempty"`
}

// Run is a camera run.
type Run struct {
	Line     string    `json:"line"`
	Against  bool      `json:"against_flow"`
	From     float64   `json:"seen_from_m"`
	To       float64   `json:"seen_to_m"`
	Ended    string    `json:"ended"`
	Words    string    `json:"words"`
	Findings []Finding `json:"findings"`
}

// Finding is one thing seen.
type Finding struct {
	Part    string   `json:"part,omitempty"`
	What    string   `json:"what"`
	Grade   string   `json:"grade"`
	Why     string   `json:"grade_why,omitempty"`
	Written string   `json:"at_written,omitempty"`
	From    *Spot    `json:"from,omitempty"`
	To      *Spot    `json:"to,omitempty"`
	Stretch *float64 `json:"stretch_m,omitempty"`
	Depth   *float64 `json:"depth_m,omitempty"`
	Percent *float64 `json:"percent_of_diameter,omitempty"`
	Note    string   `json:"note,omitempty"`
	Photos  []string `json:"photos,omitempty"`
	Near    []Near   `json:"near,omitempty"`
	Words   string   `json:"words"`
}

// Near is something that a finding lies close to.
type Near struct {
	Feature  string  `json:"feature"`
	Kind     string  `json:"kind"`
	Distance float64 `json:"distance_m"`
	Over     bool    `json:"lies_over"`
	Explains bool    `json:"may_explain"`
	Words    string  `json:"words"`
}

// Levels is what the rod says.
type Levels struct {
	Heights  []Height  `json:"heights"`
	Readings []Rod     `json:"readings"`
	Closures []Closure `json:"closures"`
	Falls    []Fall    `json:"falls"`
	Words    string    `json:"words"`
	Carries  []string  `json:"carries"`
}

// Height is an adjusted height.
type Height struct {
	Point string  `json:"point"`
	On    string  `json:"on"`
	At    float64 `json:"height_m"`
	SD    float64 `json:"sd_m"`
	Group int     `json:"group"`
}

// Rod is a rod reading or a depth against the heights.
type Rod struct {
	ID         string   `json:"id"`
	Residual   float64  `json:"residual_m"`
	SD         float64  `json:"sd_m"`
	Standard   *float64 `json:"standardized_residual,omitempty"`
	Redundancy float64  `json:"redundancy_share"`
	Flagged    bool     `json:"flagged"`
}

// Closure is a loop of set-ups.
type Closure struct {
	Through   []string `json:"setups"`
	Misclosed float64  `json:"misclosed_m"`
	Allowed   float64  `json:"allowed95_m"`
	Closes    bool     `json:"closes"`
	Words     string   `json:"words"`
}

// Fall is how a pipe runs.
type Fall struct {
	Line    string   `json:"line"`
	From    string   `json:"from"`
	To      string   `json:"to"`
	Drop    float64  `json:"drop_m"`
	DropSD  float64  `json:"sd_drop_m"`
	Run     *float64 `json:"run_m,omitempty"`
	Slope   *float64 `json:"slope,omitempty"` // drop per run
	SlopeSD *float64 `json:"sd_slope,omitempty"`
	Way     string   `json:"way"`
	Words   string   `json:"words"`
}

// Box is an opened box.
type Box struct {
	Part        string        `json:"part"`
	Spread      float64       `json:"outlet_spread_m"`
	Tilt        *Tilt         `json:"tilt,omitempty"`
	Openings    []Opening     `json:"openings"`
	Splits      []Split       `json:"splits"`
	Correction  *Correction   `json:"correction,omitempty"`
	Level       *Correction   `json:"level_correction,omitempty"`
	Sensitivity []Sensitivity `json:"sensitivity,omitempty"`
	Words       []string      `json:"words"`
	Missing     []string      `json:"missing"`
}

// Tilt is how a box is tipped.
type Tilt struct {
	By      string  `json:"by"`
	Slope   float64 `json:"slope"`
	SlopeSD float64 `json:"sd_slope"`
	Toward  float64 `json:"toward_deg"` // clockwise from straight across the box
	Words   string  `json:"words"`
}

// Opening is one outlet as the split takes it.
type Opening struct {
	Line     string   `json:"line"`
	Invert   *float64 `json:"invert_over_lowest_m,omitempty"`
	SD       *float64 `json:"sd_invert_m,omitempty"`
	Bore     float64  `json:"inside_diameter_m"`
	Closed   bool     `json:"closed"`
	Narrowed float64  `json:"narrowed"`
}

// Split is how a box divides one inflow.
type Split struct {
	Name      string  `json:"name"`
	Words     string  `json:"words"`
	Inflow    float64 `json:"inflow_m3_per_s"`
	InflowGPM float64 `json:"inflow_gal_per_min"`
	Water     float64 `json:"water_over_lowest_invert_m"`
	Shares    []Share `json:"shares"`
}

// Share is what one outlet takes.
type Share struct {
	Line    string  `json:"line"`
	Head    float64 `json:"head_m"`
	Depth   float64 `json:"depth_at_brink_m"`
	Flow    float64 `json:"flow_m3_per_s"`
	FlowGPM float64 `json:"flow_gal_per_min"`
	Share   float64 `json:"share"`
	Wanted  float64 `json:"wanted_share"`
	Regime  string  `json:"regime"`
}

// Correction is which outlets to move.
type Correction struct {
	Turns     []Turn  `json:"turns"`
	Worst     float64 `json:"worst_before"`
	After     float64 `json:"worst_after"`
	Tolerance float64 `json:"tolerance"`
	Within    bool    `json:"within_tolerance"`
}

// Turn raises an outlet.
type Turn struct {
	Line string  `json:"line"`
	By   float64 `json:"raise_by_m"`
}

// Sensitivity is what raising one outlet does to its share.
type Sensitivity struct {
	Line   string  `json:"line"`
	By     float64 `json:"raised_by_m"`
	Change float64 `json:"share_change"`
}

// Storage is the field followed through some days.
type Storage struct {
	Step        float64   `json:"step_s"`
	Days        int       `json:"days"`
	Inflow      float64   `json:"inflow_m3"`
	Backed      float64   `json:"backed_up_m3"`
	Closure     float64   `json:"mass_closure_m3"`
	Courses     []Course  `json:"lines"`
	Without     []Without `json:"without_one_line"`
	Assumptions []string  `json:"assumptions"`
	Words       []string  `json:"words"`
}

// Without is the field with one line out of use.
type Without struct {
	Line    string   `json:"line"`
	Backed  float64  `json:"backed_up_m3"`
	Courses []Course `json:"lines"`
}

// Course is what happened in one trench.
type Course struct {
	Line    string   `json:"line"`
	Inflow  float64  `json:"inflow_m3"`
	Soaked  float64  `json:"soaked_m3"`
	End     float64  `json:"stored_m3"`
	Highest float64  `json:"highest_m"`
	FullAt  *float64 `json:"full_at_s,omitempty"`
}

// Capacity is the field and the tank against a rule pack.
type Capacity struct {
	Daily      *float64 `json:"daily_flow_m3_per_s,omitempty"`
	DailyGPD   *float64 `json:"daily_flow_gal_per_day,omitempty"`
	FlowWords  string   `json:"daily_flow_words"`
	FlowSource Source   `json:"daily_flow_source"`
	Present    float64  `json:"area_present_m2"`
	PresentSD  float64  `json:"sd_area_present_m2"`
	Required   *float64 `json:"area_required_m2,omitempty"`
	Method     string   `json:"method"`
	Reckoned   string   `json:"area_required_words"`
	Source     Source   `json:"area_source"`
	Field      string   `json:"field"`
	FieldWords string   `json:"field_words"`
	Trenches   []Trench `json:"trenches"`
	Tank       Tank     `json:"tank"`
	Pumping    *Pumping `json:"pumping,omitempty"`
	Missing    []string `json:"missing"`
}

// Added is the capacity with planned bedrooms.
type Added struct {
	Bedrooms int    `json:"added_bedrooms"`
	Words    string `json:"words"`
	Capacity
}

// Source is where a number comes from.
type Source struct {
	Title   string `json:"title"`
	Section string `json:"section,omitempty"`
	Year    string `json:"year,omitempty"`
	Status  string `json:"status"`
	Note    string `json:"note,omitempty"`
}

// Trench is the area of one trench.
type Trench struct {
	Line    string  `json:"line"`
	Known   bool    `json:"known"`
	Bottom  float64 `json:"bottom_m2"`
	Side    float64 `json:"side_m2"`
	Share   float64 `json:"standard_length_share"`
	Counted float64 `json:"counted_m2"`
	SD      float64 `json:"sd_counted_m2"`
	Words   string  `json:"words"`
}

// Tank is the tank against its rule.
type Tank struct {
	Present  *float64 `json:"present_m3,omitempty"`
	Required *float64 `json:"required_m3,omitempty"`
	Verdict  string   `json:"verdict"`
	Words    string   `json:"words"`
	Source   Source   `json:"source"`
}

// Pumping is how often the tank wants pumping.
type Pumping struct {
	Years  float64 `json:"years"`
	Words  string  `json:"words"`
	Source Source  `json:"source"`
}

// Comparison is one line of the permit.
type Comparison struct {
	What     string `json:"what"`
	Claimed  string `json:"claimed"`
	Measured string `json:"measured,omitempty"`
	Off      string `json:"off,omitempty"`
	Within   string `json:"within95,omitempty"`
	Answer   string `json:"answer"`
	Words    string `json:"words"`
}

// OldDrawing is an old drawing laid over the plan.
type OldDrawing struct {
	Scale  float64    `json:"drawing_units_per_m"`
	Misfit float64    `json:"misfit_m"`
	Points []OldPoint `json:"points"`
	Words  string     `json:"words"`
}

// OldPoint is one of its points.
type OldPoint struct {
	Name    string  `json:"name"`
	At      Place   `json:"at"`
	Control bool    `json:"control"`
	Off     float64 `json:"off_m"`
	Radius  float64 `json:"radius95_m"`
	Answer  string  `json:"answer"`
	Words   string  `json:"words"`
}

// Life is the age of something.
type Life struct {
	What      string  `json:"what"`
	Kind      string  `json:"kind"`
	Installed string  `json:"installed"`
	Years     float64 `json:"years"`
	Least     float64 `json:"usual_from_years"`
	Most      float64 `json:"usual_to_years"`
	Words     string  `json:"words"`
	Source    Source  `json:"source"`
}

// Action is something to do.
type Action struct {
	Urgency string   `json:"urgency"` // now, soon, can wait
	What    string   `json:"what"`
	Why     string   `json:"why"`
	By      string   `json:"by,omitempty"`
	About   []string `json:"about,omitempty"`
}

// Reminder is a date to remember.
type Reminder struct {
	Key   string `json:"key"`
	On    string `json:"on"`
	Words string `json:"words"`
	Why   string `json:"why"`
}

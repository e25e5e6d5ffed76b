// Package clearfile turns setbacks, fits and checklists into JSON: what
// setbacks --json, fit --json and checklist --json print. Keys say their unit,
// geometry is that of GeoJSON in plan metres, and the shapes are published in
// docs/schema.
package clearfile

import (
	"undersod/internal/checkfile"
	"undersod/internal/judgefile"
)

// Coordinates says what the coordinates of a document mean: GeoJSON of RFC 7946
// in its geometry types, its order and its turning, but on the plan.
const Coordinates = "GeoJSON geometry in plan metres, [east, north] from the origin of frame; not longitude and latitude"

// Setbacks is what setbacks --json prints.
type Setbacks struct {
	Undersod    int             `json:"undersod"` // version of this shape
	Kind        string          `json:"kind"`     // "setbacks"
	Job         checkfile.Job   `json:"job"`
	Coordinates string          `json:"coordinates"`
	Frame       checkfile.Frame `json:"frame"`
	Pack        string          `json:"rule_pack"`
	Place       string          `json:"rule_pack_place"`
	Check       Check           `json:"check"`
	Rows        []Row           `json:"rows"`
	Proposed    []Stands        `json:"proposed"`
	Clashes     []string        `json:"clashes"` // buried things that lie one on the other
	Limits      []Limit         `json:"limits"`
	NoRule      []string        `json:"no_rule"`
	Missing     []string        `json:"missing"`
	Checklist   Count           `json:"checklist"`
	Decides     string          `json:"decides"`
}

// Check is what the check of the readings says: what is told here is no surer.
type Check struct {
	Fill    string `json:"fill"` // yes, unsure or no
	Words   string `json:"words"`
	Accused int    `json:"accused"`        // readings that disagree
	Unused  int    `json:"unused_entries"` // entries of the job that were wrong and not used
}

// Thing is one of the two sides of a distance.
type Thing struct {
	Name  string `json:"name"`
	Kind  string `json:"kind"`
	Class string `json:"class,omitempty"`
}

// Row is one part against one thing that a rule names.
type Row struct {
	Part     Thing            `json:"part"`
	Column   string           `json:"column"`
	From     Thing            `json:"from"`
	Required float64          `json:"required_m"`
	Measured *float64         `json:"measured_m,omitempty"`
	Margin   *float64         `json:"margin_m,omitempty"`
	Within   *float64         `json:"margin_within95_m,omitempty"`
	Verdict  string           `json:"verdict"`
	Gap      *Gap             `json:"gap,omitempty"`
	Words    string           `json:"words"`
	Source   judgefile.Source `json:"source"`
	Permit   bool             `json:"permit"` // the permit's own distance
	Assumed  string           `json:"assumed,omitempty"`
	Note     string           `json:"note,omitempty"`
	Proposed bool             `json:"proposed"`         // from is something the owner wants to build
	Advice   string           `json:"advice,omitempty"` // what would narrow it
}

// Gap is where two things are nearest to one another.
type Gap struct {
	Distance float64  `json:"distance_m"`
	Overlap  bool     `json:"overlap"`
	Line     Geometry `json:"line"`
}

// Limit is one measured thing against a limit of the pack.
type Limit struct {
	What     string           `json:"what"`
	On       string           `json:"on"`
	Least    *float64         `json:"least_m,omitempty"`
	Most     *float64         `json:"most_m,omitempty"`
	Measured *float64         `json:"measured_m,omitempty"`
	Within   *float64         `json:"measured_within95_m,omitempty"`
	Verdict  string           `json:"verdict"`
	Words    string           `json:"words"`
	Source   judgefile.Source `json:"source"`
}

// Count is how many items of the checklist have each answer.
type Count struct {
	OnSheet       int `json:"on_the_sheet"`
	Missing       int `json:"missing"`
	NotApplicable int `json:"not_applicable"`
}

// Checklist is what checklist --json prints.
type Checklist struct {
	Undersod int           `json:"undersod"` // version of this shape
	Kind     string        `json:"kind"`     // "checklist"
	Job      checkfile.Job `json:"job"`
	Pack     string        `json:"rule_pack"`
	Place    string        `json:"rule_pack_place"`
	Check    Check         `json:"check"`
	Count    Count         `json:"count"`
	Items    []Item        `json:"items"`
	Decides  string        `json:"decides"`
}

// Item is one item of the checklist.
type Item struct {
	What   string           `json:"what"`
	Words  string           `json:"words"`
	Answer string           `json:"answer"`
	Why    string           `json:"why"`
	Source judgefile.Source `json:"source"`
}

// Fits is what fit --json prints.
type Fits struct {
	Undersod    int             `json:"undersod"` // version of this shape
	Kind        string          `json:"kind"`     // "fit"
	Job         checkfile.Job   `json:"job"`
	Coordinates string          `json:"coordinates"`
	Frame       checkfile.Frame `json:"frame"`
	Pack        string          `json:"rule_pack"`
	Place       string          `json:"rule_pack_place"`
	Check       Check           `json:"check"`
	Fits        []Fit           `json:"fits"`
	NotAsked    []string        `json:"not_asked"` // what could not be asked, and why
	Decides     string          `json:"decides"`
}

// Fit is where one thing may stand.
type Fit struct {
	Name      string     `json:"name"`
	Thing     string     `json:"thing"` // what it is
	Class     string     `json:"class,omitempty"`
	Size      string     `json:"size"`
	Footprint Geometry   `json:"footprint"` // about its middle, its length to the north
	Turning   Turning    `json:"turning"`
	Wish      *Geometry  `json:"wish,omitempty"`
	WishWords string     `json:"wish_words,omitempty"`
	FromLot   *float64   `json:"asked_from_property_line_m,omitempty"`
	Verdict   string     `json:"verdict"`
	Words     []string   `json:"words"`
	Allowed   Region     `json:"allowed"`
	ByTurn    []TurnArea `json:"allowed_by_turn"`
	Best      Place      `json:"best"`
	Limits    []Limiting `json:"limits"` // at the best place
	Stated    *Stated    `json:"stated,omitempty"`
	Sure      *Place     `json:"sure,omitempty"` // the nearest place that is clear whatever the uncertainty
	LeftOut   []string   `json:"left_out"`       // what it must keep away from and is not located
	Outcome   string     `json:"outcome"`
	Bedrooms  int        `json:"bedrooms"`
	Capacity  *Capacity  `json:"capacity,omitempty"`
	Missing   []string   `json:"missing"`
	Caution   []string   `json:"caution"`
}

// Turning is which turns a footprint may have.
type Turning struct {
	Free  bool     `json:"free"`
	Fixed *float64 `json:"fixed_deg,omitempty"` // azimuth of the length
	Step  *float64 `json:"step_deg,omitempty"`  // of the turns tried
}

// Region is where the footprint's middle may lie at one turn.
type Region struct {
	Turn      float64  `json:"turn_deg"`
	Area      float64  `json:"area_m2"`
	Tolerance float64  `json:"arc_tolerance_m"`
	Region    Geometry `json:"region"`
}

// TurnArea is the size of the allowed region at one turn.
type TurnArea struct {
	Turn float64 `json:"turn_deg"`
	Area float64 `json:"area_m2"`
}

// Place is a footprint standing somewhere.
type Place struct {
	At       Geometry `json:"at"` // its middle
	Turn     float64  `json:"turn_deg"`
	Outline  Geometry `json:"outline"`
	Fits     bool     `json:"fits"`
	Moved    float64  `json:"moved_m"` // from the place wished for or stated
	Searched int      `json:"turns_tried"`
	Stakes   []Stake  `json:"stakes"`
}

// Stake is a corner to be pegged by tapes.
type Stake struct {
	At   Geometry `json:"at"`
	Ties []Tie    `json:"ties"`
}

// Tie is one tape distance to a corner.
type Tie struct {
	From     string  `json:"from"`
	Distance float64 `json:"distance_m"`
}

// Stated is the place that was stated.
type Stated struct {
	At      Geometry   `json:"at"`
	Turn    float64    `json:"turn_deg"`
	Outline Geometry   `json:"outline"`
	Limits  []Limiting `json:"limits"`
	Cure    *Place     `json:"cure,omitempty"` // the smallest move that makes it allowed
}

// Limiting is one thing that a footprint keeps away from.
type Limiting struct {
	From     Thing            `json:"from"`
	Required float64          `json:"required_m"`
	Measured float64          `json:"measured_m"`
	Margin   float64          `json:"margin_m"`
	Within   float64          `json:"margin_within95_m"`
	Verdict  string           `json:"verdict"`
	Gap      Gap              `json:"gap"`
	Words    string           `json:"words"`
	Source   judgefile.Source `json:"source"`
	Permit   bool             `json:"permit"` // the permit's own distance
	Assumed  string           `json:"assumed,omitempty"`
	Ruled    bool             `json:"ruled"` // false where no rule asks for a distance
	Proposed bool             `json:"proposed"`
	Advice   string           `json:"advice,omitempty"`
}

// Stands is something proposed at its stated place.
type Stands struct {
	Thing   Thing    `json:"thing"`
	Size    string   `json:"size"`
	Outline Geometry `json:"outline"`
	Verdict string   `json:"verdict"`
	Words   string   `json:"words"`
}

// Capacity is what planned bedrooms ask of field, tank and reserve area.
type Capacity struct {
	Rooms         int                `json:"added_bedrooms"`
	Now           judgefile.Capacity `json:"now"`
	Then          judgefile.Capacity `json:"then"`
	ReserveArea   *float64           `json:"reserve_area_m2,omitempty"`
	ReserveNeeded *float64           `json:"reserve_needed_m2,omitempty"`
	Reserve       string             `json:"reserve"`
	Words         []string           `json:"words"`
}

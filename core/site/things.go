package site

import "undersod/core/unit"

// Role is what a located point is.
type Role uint8

// The roles of a point.
const (
	RoleMark    Role = iota // stays for thirty years: corner, well casing, iron pin, pole
	RoleCorner              // corner of a building; also a mark
	RolePart                // something of the system
	RoleBend                // where a line or a feature's edge changes direction, or a line ends
	RoleHit                 // probe hit on a part's edge
	RoleFeature             // something of the property: tree, downspout, corner of a drive
)

// Point is anything that has one position on the plan.
type Point struct {
	Name  Name
	Role  Role
	Kind  string // what it is in the trade's words: "iron pin", "line end", "maple"
	Sides []Side // hints that decide a mirror; they carry no weight
	Rough *Rough // a rough position; decides a mirror or starts, carries no weight
	Place Place
}

// IsMark tells whether tape ties are taken from the point.
func (p Point) IsMark() bool { return p.Role == RoleMark || p.Role == RoleCorner }

// SideKind says on which side of a wall or baseline a point lies.
type SideKind uint8

// The sides.
const (
	LeftOf  SideKind = iota // looking from From to To
	RightOf                 // looking from From to To
	Outside                 // the lawn side of a building's wall From-To
)

// Side is a hint: on which side of the line from From to To the point lies.
type Side struct {
	Kind     SideKind
	From, To Name
	Text     string // as written
	Place    Place
}

// Rough is a rough position as steps along and to the right of the direction
// from one point to another, as read off a sketch.
type Rough struct {
	From, To Name // the baseline of the sketch; empty means the datum's
	Along    unit.Length
	Right    unit.Length // positive to the right of From-To
	Text     string
	Place    Place
}

// BuildingTurn is the way the outline turns at a corner when its corners are
// walked in the order given.
type BuildingTurn int8

// The turns.
const (
	TurnRight BuildingTurn = 1
	TurnLeft  BuildingTurn = -1
)

// Building is a building whose outline turns by right angles, given by its
// corners in order and the lengths of its sides. Side i runs from Corners[i] to
// the next corner; the last runs back to Corners[0]. A rectangle may give two
// sides only.
type Building struct {
	Name    Name
	Corners []Name
	Sides   []unit.Written // 2 for a rectangle, or one per corner; an empty Text means not measured
	Turns   []BuildingTurn // one per corner
	SideSD  *unit.Length   // standard deviation of a side, nil for the default
	Square  *unit.Angle    // standard deviation of a right angle, nil for the default
	Class   string         // tells rules more, as "slab foundation"; empty where it is not stated
	Place   Place
}

// PartKind is what a part is.
type PartKind string

// The kinds of part.
const (
	SepticTank      PartKind = "septic tank"
	PumpTank        PartKind = "pump tank"
	DistributionBox PartKind = "distribution box"
	DropBox         PartKind = "drop box"
	LineEnd         PartKind = "line end"
	Cleanout        PartKind = "cleanout"
	Lid             PartKind = "lid"
	InspectionPort  PartKind = "inspection port"
)

// Part is something of the system: a single point, or an outline found with a
// probe.
type Part struct {
	Name    Name // also the name of its point, unless it has an Outline only
	Kind    PartKind
	Detail  string // "1,000 gal concrete"
	Outline *Outline
	Width   unit.Length // drawn size where known, across; 0 when not known
	Length  unit.Length // drawn size where known, along; 0 when not known
	// Capacity is of a tank; 0 when not known.
	Capacity  unit.Volume
	Material  string    // "concrete"; empty when not known
	Installed string    // ISO 8601 calendar date, or a year; empty when not known
	Findings  []Finding // seen at the part
	Place     Place
}

// Outline is a rectangle found by probe hits along its edges.
type Outline struct {
	Hits    []Hit
	Length  *unit.Written // nil when the size is not known
	Width   *unit.Written // nil when the size is not known
	SizeSD  *unit.Length  // standard deviation of a known size, nil for the default
	ProbeSD *unit.Length  // standard deviation of a hit across the edge, nil for the default
}

// Edge is one of the four edges of an outline as seen by someone standing at
// the near edge and looking across to the far one. Near and far are the edges
// along the length; left and right those along the width.
type Edge uint8

// The edges; AnyEdge leaves the choice to the fit.
const (
	AnyEdge Edge = iota
	EdgeNear
	EdgeRight
	EdgeFar
	EdgeLeft
)

// Hit is a probe hit: a located point lying on an edge.
type Hit struct {
	Point Name
	Edge  Edge
}

// LineKind is what a pipe run is.
type LineKind string

// The kinds of line.
const (
	DrainLine     LineKind = "drain line"
	EffluentPipe  LineKind = "effluent pipe"
	BuildingSewer LineKind = "building sewer"
	PressurePipe  LineKind = "pressure pipe"
)

// Line is a pipe run through located points, from its start to its end.
type Line struct {
	Name        Name
	Kind        LineKind
	Path        []Name
	TrenchWidth unit.Length // 0 when not known
	Permitted   *unit.Written
	// Bore is the inside diameter of the pipe; 0 when not known.
	Bore        unit.Length
	TrenchDepth *unit.Written // bottom of the trench below the ground
	StoneBelow  *unit.Written // stone from the trench's bottom to the pipe's
	StoneAbove  *unit.Written // stone over the top of the pipe
	Porosity    float64       // share of the stone's room that is void; 0 when not known
	Installed   string        // ISO 8601 calendar date, or a year; empty when not known
	OutOfUse    bool          // shut off or abandoned; it takes no flow
	Place       Place
}

// FeatureKind is what a feature of the property is.
type FeatureKind string

// The kinds of feature.
const (
	Tree         FeatureKind = "tree"
	Well         FeatureKind = "well"
	Driveway     FeatureKind = "driveway"
	PropertyLine FeatureKind = "property line"
	WaterLine    FeatureKind = "water line"
	Pool         FeatureKind = "pool"
	SurfaceWater FeatureKind = "surface water"
	ReserveArea  FeatureKind = "reserve area"
	Fence        FeatureKind = "fence"
	Downspout    FeatureKind = "downspout"
	Structure    FeatureKind = "structure"
	SoilTest     FeatureKind = "soil test"
	UtilityLine  FeatureKind = "utility line"
	Spring       FeatureKind = "spring"
	Wetland      FeatureKind = "wetland"
	Drain        FeatureKind = "drain" // laid to carry ground or roof water off
	Bank         FeatureKind = "bank"  // a cut, an escarpment or a steep slope, by its edge
	Easement     FeatureKind = "easement"
	DryWell      FeatureKind = "dry well"
	Cistern      FeatureKind = "cistern"
	FloodPlain   FeatureKind = "flood plain"
	Sinkhole     FeatureKind = "sinkhole"
	StormPipe    FeatureKind = "storm pipe"
	Ditch        FeatureKind = "ditch"       // a swale or a drainage channel
	OtherField   FeatureKind = "other field" // of another system, as a neighbour's
)

// Feature is something of the property: a point with an optional radius, an
// open line, or a closed area through located points.
type Feature struct {
	Name   Name
	Kind   FeatureKind
	Detail string
	// Class tells rules more: of a well "private", of a drain "upslope". Its
	// words are those of the rule pack; empty where it is not stated.
	Class  string
	Points []Name
	Closed bool
	Radius unit.Length // of a tree's crown or a round thing; 0 when not known
	Trunk  unit.Length // diameter of a tree's trunk; 0 when not known
	Place  Place
}

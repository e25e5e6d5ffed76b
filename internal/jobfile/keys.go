package jobfile

// The groups of keys that a job file knows. The published schema lists the
// same; a test holds the two together.
const (
	inJob        = "job"
	inSite       = "site"
	inVisit      = "visit"
	inShow       = "show"
	inAccuracy   = "accuracy"
	inDatum      = "datum"
	inInstrument = "instrument"
	inBuilding   = "building"
	inMark       = "mark"
	inPart       = "part"
	inOutline    = "outline"
	inLine       = "line"
	inFeature    = "feature"
	inTie        = "tie"
	inOffset     = "offset"
	inBearing    = "bearing"
	inFix        = "fix"
	inDepth      = "depth"
	inRod        = "rod"
	inRodReading = "rod reading"
	inFootage    = "footage"

	inRun          = "camera run"
	inFinding      = "finding"
	inFindingPhoto = "finding photo"
	inBox          = "box"
	inInlet        = "inlet"
	inOutlet       = "outlet"
	inRim          = "rim"
	inRecord       = "record"
	inClaim        = "claim"
	inDrawing      = "drawing"
	inHousehold    = "household"
	inSoil         = "soil"
	inCare         = "care"
	inPhoto        = "photo"

	inProposed = "proposed"
	inStand    = "stand"
	inSetbacks = "setbacks"
	inSetback  = "setback"
)

// keyTable holds the keys of every group, in the order of the documentation.
// Nothing writes to it.
var keyTable = map[string][]string{
	inJob: {"undersod", "site", "visit", "show", "bare", "accuracy", "declination", "datum",
		"instruments", "buildings", "marks", "parts", "points", "lines", "features",
		"ties", "offsets", "bearings", "fixes", "depths", "rods", "footages", "import",
		"cameras", "boxes", "level points", "record", "household", "soil", "care", "proposed", "setbacks",
		"photos", "rules"},
	inSite:       {"name", "address", "county", "owner", "parcel", "permit", "authority"},
	inVisit:      {"date", "by", "company", "licence", "notes"},
	inShow:       {"lengths", "fraction", "paper", "ties", "title"},
	inAccuracy:   {"limit", "source"},
	inDatum:      {"mark", "east", "north", "toward", "azimuth", "latitude", "longitude", "height"},
	inInstrument: {"kind", "sd"},
	inBuilding:   {"corners", "size", "sides", "turns", "order", "side sd", "square sd", "class"},
	inMark:       {"kind", "side", "rough"},
	inPart: {"kind", "detail", "side", "rough", "length", "width", "outline",
		"capacity", "material", "installed", "findings"},
	inOutline: {"hits", "length", "width", "size sd", "probe sd"},
	inLine: {"kind", "path", "trench width", "permitted", "bore", "trench depth", "stone below", "stone above",
		"porosity", "installed", "out of use"},
	inFeature:    {"kind", "detail", "class", "at", "path", "area", "radius", "trunk"},
	inTie:        {"read", "corrected", "with", "sd", "held", "drop", "note", "set aside"},
	inOffset:     {"baseline", "point", "station", "right", "left", "with", "sd", "note", "set aside"},
	inBearing:    {"read", "north", "with", "sd", "note", "set aside"},
	inFix:        {"latitude", "longitude", "east", "north", "with", "sd", "note", "set aside"},
	inDepth:      {"read", "with", "sd", "note", "set aside"},
	inRod:        {"ground", "lid", "invert", "top"},
	inRodReading: {"read", "with", "sd", "note", "set aside"},
	inFootage:    {"read", "with", "sd", "note", "set aside"},

	inRun:          {"entry", "toward", "zero", "pushed", "with", "sd", "ended", "ended at", "findings", "note"},
	inFinding:      {"at", "from", "to", "what", "grade", "depth", "percent", "note", "photo"},
	inFindingPhoto: {"file", "words"},
	inBox:          {"length", "width", "floor", "lid", "water", "bore", "sd", "inlet", "outlets", "rim"},
	inInlet:        {"line", "bore", "down", "rod", "sd", "wall", "from left", "closed", "narrowed", "note"},
	inOutlet:       {"bore", "down", "rod", "sd", "wall", "from left", "closed", "narrowed", "note"},
	inRim:          {"near", "right", "far", "left"},
	inRecord: {"source", "date", "lines", "outlets", "bedrooms", "tank", "daily flow", "area", "trench width", "trench depth",
		"stone below", "trench length", "spacing", "distances", "drawing"},
	inClaim:     {"read", "sd"},
	inDrawing:   {"file", "down", "sd", "points"},
	inHousehold: {"bedrooms", "added bedrooms", "persons", "grinder", "daily flow", "surge", "hours"},
	inSoil:      {"percolation", "texture", "structure", "strength", "loading", "source"},
	inCare:      {"date", "what", "by", "note"},
	inPhoto:     {"file", "of", "words"},

	inProposed: {"kind", "class", "size", "outline", "at", "along", "turn", "near", "from property line", "bedrooms"},
	inStand:    {"baseline", "station", "right", "left"},
	inSetbacks: {"source", "rows"},
	inSetback: {"from", "class", "tank", "distribution box", "field", "building sewer", "effluent pipe", "structure",
		"note"},
}

// The words that a value may be, in the order of the documentation.

func lengthForms() []string { return []string{"feet-inches", "decimal feet", "metres"} }

func bareForms() []string {
	return []string{"feet", "inches", "metres", "centimetres", "millimetres"}
}

func fractions() []string { return []string{"1/2", "1/4", "1/8", "1/16", "1/32", "1/64"} }

func papers() []string { return []string{"letter", "tabloid", "a4", "a3"} }

func edges() []string { return []string{"any", "near", "right", "far", "left"} }

func walls() []string { return []string{"near", "right", "far", "left"} }

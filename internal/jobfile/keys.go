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
)

// keyTable holds the keys of every group, in the order of the documentation.
// Nothing writes to it.
var keyTable = map[string][]string{
	inJob: {"undersod", "site", "visit", "show", "bare", "accuracy", "declination", "datum",
		"instruments", "buildings", "marks", "parts", "points", "lines", "features",
		"ties", "offsets", "bearings", "fixes", "depths", "rods", "footages", "import"},
	inSite:       {"name", "address", "county", "owner", "parcel", "permit", "authority"},
	inVisit:      {"date", "by", "company", "licence", "notes"},
	inShow:       {"lengths", "fraction", "paper", "ties", "title"},
	inAccuracy:   {"limit", "source"},
	inDatum:      {"mark", "east", "north", "toward", "azimuth", "latitude", "longitude", "height"},
	inInstrument: {"kind", "sd"},
	inBuilding:   {"corners", "size", "sides", "turns", "order", "side sd", "square sd"},
	inMark:       {"kind", "side", "rough"},
	inPart:       {"kind", "detail", "side", "rough", "length", "width", "outline"},
	inOutline:    {"hits", "length", "width", "size sd", "probe sd"},
	inLine:       {"kind", "path", "trench width", "permitted"},
	inFeature:    {"kind", "detail", "at", "path", "area", "radius"},
	inTie:        {"read", "corrected", "with", "sd", "held", "drop", "note", "set aside"},
	inOffset:     {"baseline", "point", "station", "right", "left", "with", "sd", "note", "set aside"},
	inBearing:    {"read", "north", "with", "sd", "note", "set aside"},
	inFix:        {"latitude", "longitude", "east", "north", "with", "sd", "note", "set aside"},
	inDepth:      {"read", "with", "sd", "note", "set aside"},
	inRod:        {"ground", "lid", "invert", "top"},
	inRodReading: {"read", "with", "sd", "note", "set aside"},
	inFootage:    {"read", "with", "sd", "note", "set aside"},
}

// The words that a value may be, in the order of the documentation.

func lengthForms() []string { return []string{"feet-inches", "decimal feet", "metres"} }

func bareForms() []string {
	return []string{"feet", "inches", "metres", "centimetres", "millimetres"}
}

func fractions() []string { return []string{"1/2", "1/4", "1/8", "1/16", "1/32", "1/64"} }

func papers() []string { return []string{"letter", "tabloid", "a4", "a3"} }

func edges() []string { return []string{"any", "near", "right", "far", "left"} }

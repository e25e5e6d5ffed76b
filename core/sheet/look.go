package sheet

// The colours, from soil, clay, grass and slate. All are dark enough to read
// when printed in grey.
var (
	ink   = Colour{38, 33, 28}
	soil  = Colour{92, 72, 52}
	clay  = Colour{150, 68, 38}
	grass = Colour{78, 104, 48}
	slate = Colour{48, 92, 116}
	stone = Colour{112, 106, 98}
	rule  = Colour{176, 168, 156}
	sand  = Colour{244, 238, 226}
	dust  = Colour{232, 228, 221}
	mist  = Colour{226, 236, 240}
	leaf  = Colour{236, 242, 228}
	pale  = Colour{247, 230, 221}
	paper = Colour{255, 255, 255}
)

// look is how one kind of thing is drawn.
type look uint8

// The looks, in the order of the legend.
const (
	lookTank look = iota
	lookTankSign
	lookPump
	lookPumpSign
	lookBox
	lookDrop
	lookLid
	lookCleanout
	lookPort
	lookEnd
	lookBend
	lookHit
	lookTrench
	lookEffluent
	lookSewer
	lookPressure
	lookSeenNote
	lookSeenWatch
	lookSeenAct
	lookRunNote
	lookRunWatch
	lookRunAct
	lookMark
	lookTie
	lookEllipse
	lookTwo
	lookProposed
	lookNewWell
	lookAllowed
	lookBand
	lookFarNote
	lookFarWatch
	lookFarAct
	lookShift
	lookWas
	lookWasEdge
	lookHouse
	lookStructure
	lookDrive
	lookWell
	lookTree
	lookProperty
	lookFence
	lookWaterLine
	lookUtility
	lookPool
	lookWater
	lookReserve
	lookDownspout
	lookSoil
	lookSpring
	lookWetland
	lookDitch
	lookFloodPlain
	lookDrain
	lookStormPipe
	lookDryWell
	lookCistern
	lookBank
	lookSinkhole
	lookEasement
	lookOtherField
	lookPoint
	looks
)

// form is what kind of figure a look makes.
type form uint8

const (
	formPoint form = iota
	formLine
	formArea
)

// tick is what is set along a line so that it is told apart without colour.
type tick uint8

const (
	tickNone tick = iota
	tickCross
	tickRing
	tickArrow
	tickBar
	tickComb
	tickWave
	tickVee
	tickSquare
)

// manner is how a look is drawn and what the legend calls it.
type manner struct {
	words  string
	layer  layerID
	form   form
	stroke Stroke
	fill   *Colour
	tick   tick
	symbol symbol
}

// manners holds one manner per look.
var manners = [looks]manner{
	lookTank:       {"septic tank, to scale", layerTanks, formArea, Stroke{Width: 0.5, Colour: ink}, &pale, tickNone, symbolTank},
	lookTankSign:   {"septic tank, size not measured", layerParts, formPoint, Stroke{Width: 0.35, Colour: ink, Dash: []MM{0.9, 0.6}}, &paper, tickNone, symbolTank},
	lookPump:       {"pump tank, to scale", layerTanks, formArea, Stroke{Width: 0.5, Colour: ink}, &pale, tickNone, symbolPump},
	lookPumpSign:   {"pump tank, size not measured", layerParts, formPoint, Stroke{Width: 0.35, Colour: ink, Dash: []MM{0.9, 0.6}}, &paper, tickNone, symbolPump},
	lookBox:        {"distribution box", layerParts, formPoint, Stroke{Width: 0.4, Colour: ink}, &paper, tickNone, symbolBox},
	lookDrop:       {"drop box", layerParts, formPoint, Stroke{Width: 0.4, Colour: ink}, &paper, tickNone, symbolDrop},
	lookLid:        {"lid", layerParts, formPoint, Stroke{Width: 0.35, Colour: ink}, &paper, tickNone, symbolLid},
	lookCleanout:   {"cleanout", layerParts, formPoint, Stroke{Width: 0.35, Colour: ink}, &paper, tickNone, symbolCleanout},
	lookPort:       {"inspection port", layerParts, formPoint, Stroke{Width: 0.35, Colour: ink}, &paper, tickNone, symbolPort},
	lookEnd:        {"line end", layerParts, formPoint, Stroke{Width: 0.35, Colour: ink}, &clay, tickNone, symbolEnd},
	lookBend:       {"bend of a line", layerParts, formPoint, Stroke{Width: 0.25, Colour: clay}, &paper, tickNone, symbolBend},
	lookHit:        {"probe hit", layerParts, formPoint, Stroke{Width: 0.18, Colour: ink}, nil, tickNone, symbolHit},
	lookTrench:     {"drain line", layerPipes, formLine, Stroke{Width: 0.4, Colour: clay, Dash: []MM{1.8, 1}}, &pale, tickNone, symbolNone},
	lookEffluent:   {"effluent pipe", layerPipes, formLine, Stroke{Width: 0.4, Colour: clay}, nil, tickArrow, symbolNone},
	lookSewer:      {"building sewer", layerPipes, formLine, Stroke{Width: 0.6, Colour: soil}, nil, tickNone, symbolNone},
	lookPressure:   {"pressure pipe", layerPipes, formLine, Stroke{Width: 0.4, Colour: clay, Dash: []MM{4, 0.8, 0.4, 0.8}}, nil, tickArrow, symbolNone},
	lookSeenNote:   {"found by camera: note", layerFindings, formPoint, Stroke{Width: 0.35, Colour: ink}, nil, tickNone, symbolSeenNote},
	lookSeenWatch:  {"found by camera: watch", layerFindings, formPoint, Stroke{Width: 0.35, Colour: ink}, nil, tickNone, symbolSeenWatch},
	lookSeenAct:    {"found by camera: act", layerFindings, formPoint, Stroke{Width: 0.35, Colour: ink}, &paper, tickNone, symbolSeenAct},
	lookRunNote:    {"stretch found by camera: note", layerFindings, formLine, Stroke{Width: 0.7, Colour: ink}, nil, tickNone, symbolNone},
	lookRunWatch:   {"stretch found by camera: watch", layerFindings, formLine, Stroke{Width: 1.2, Colour: ink}, nil, tickNone, symbolNone},
	lookRunAct:     {"stretch found by camera: act", layerFindings, formLine, Stroke{Width: 1.8, Colour: ink}, nil, tickNone, symbolNone},
	lookMark:       {"mark or corner", layerMarks, formPoint, Stroke{Width: 0.3, Colour: ink}, &ink, tickNone, symbolMark},
	lookTie:        {"tie, tape distance", layerTies, formLine, Stroke{Width: 0.13, Colour: stone, Dash: []MM{0.9, 0.7}}, nil, tickNone, symbolNone},
	lookEllipse:    {"lies inside, 95 % sure", layerUncertain, formArea, Stroke{Width: 0.18, Colour: slate, Dash: []MM{0.5, 0.5}}, nil, tickNone, symbolNone},
	lookTwo:        {"one place or the other", layerUncertain, formLine, Stroke{Width: 0.25, Colour: ink, Dash: []MM{1, 1}}, nil, tickNone, symbolNone},
	lookProposed:   {"proposed, not built", layerProposed, formArea, Stroke{Width: 0.7, Colour: ink, Dash: []MM{2.2, 1}}, nil, tickNone, symbolNone},
	lookNewWell:    {"proposed well", layerProposed, formPoint, Stroke{Width: 0.45, Colour: ink, Dash: []MM{0.9, 0.5}}, &paper, tickNone, symbolWell},
	lookAllowed:    {"where its middle may lie", layerAllowed, formArea, Stroke{Width: 0.25, Colour: grass}, nil, tickNone, symbolNone},
	lookBand:       {"edge of a setback, as named along it", layerBands, formLine, Stroke{Width: 0.25, Colour: soil, Dash: []MM{0.4, 0.8}}, nil, tickNone, symbolNone},
	lookFarNote:    {"distance: clear", layerDistances, formLine, Stroke{Width: 0.2, Colour: ink}, nil, tickNone, symbolFarNote},
	lookFarWatch:   {"distance: too close to call", layerDistances, formLine, Stroke{Width: 0.4, Colour: ink, Dash: []MM{1.5, 0.7}}, nil, tickNone, symbolFarWatch},
	lookFarAct:     {"distance: short", layerDistances, formLine, Stroke{Width: 0.7, Colour: ink}, nil, tickNone, symbolFarAct},
	lookShift:      {"moved, to where it lies now", layerProposed, formLine, Stroke{Width: 0.4, Colour: ink}, nil, tickArrow, symbolNone},
	lookWas:        {"where it lay before", layerProposed, formPoint, Stroke{Width: 0.3, Colour: slate}, &paper, tickNone, symbolBend},
	lookWasEdge:    {"how it lay before", layerProposed, formLine, Stroke{Width: 0.2, Colour: slate, Dash: []MM{1.2, 0.6}}, nil, tickNone, symbolNone},
	lookHouse:      {"building", layerBuildings, formArea, Stroke{Width: 0.6, Colour: ink}, &dust, tickNone, symbolNone},
	lookStructure:  {"other structure", layerBuildings, formArea, Stroke{Width: 0.35, Colour: ink}, &dust, tickNone, symbolStructure},
	lookDrive:      {"driveway", layerAreas, formArea, Stroke{Width: 0.25, Colour: stone}, &sand, tickNone, symbolNone},
	lookWell:       {"well", layerParts, formPoint, Stroke{Width: 0.4, Colour: slate}, &paper, tickNone, symbolWell},
	lookTree:       {"tree, crown to scale", layerParts, formPoint, Stroke{Width: 0.3, Colour: grass}, &grass, tickNone, symbolTree},
	lookProperty:   {"property line", layerBounds, formLine, Stroke{Width: 0.4, Colour: ink, Dash: []MM{7, 1.2, 0.8, 1.2, 0.8, 1.2}}, nil, tickNone, symbolNone},
	lookFence:      {"fence", layerBounds, formLine, Stroke{Width: 0.2, Colour: stone}, nil, tickCross, symbolNone},
	lookWaterLine:  {"water line", layerBounds, formLine, Stroke{Width: 0.3, Colour: slate, Dash: []MM{3, 1}}, nil, tickRing, symbolNone},
	lookUtility:    {"utility line", layerBounds, formLine, Stroke{Width: 0.25, Colour: stone, Dash: []MM{1.2, 0.8}}, nil, tickNone, symbolNone},
	lookPool:       {"pool", layerAreas, formArea, Stroke{Width: 0.45, Colour: slate}, &mist, tickNone, symbolNone},
	lookWater:      {"surface water", layerAreas, formArea, Stroke{Width: 0.3, Colour: slate, Dash: []MM{2, 0.6}}, &mist, tickNone, symbolNone},
	lookReserve:    {"reserve area", layerAreas, formArea, Stroke{Width: 0.3, Colour: grass, Dash: []MM{2, 1.2}}, &leaf, tickNone, symbolNone},
	lookDownspout:  {"downspout", layerParts, formPoint, Stroke{Width: 0.3, Colour: slate}, &paper, tickNone, symbolDownspout},
	lookSoil:       {"soil test", layerParts, formPoint, Stroke{Width: 0.3, Colour: soil}, &paper, tickNone, symbolSoil},
	lookSpring:     {"spring", layerParts, formPoint, Stroke{Width: 0.35, Colour: slate}, &paper, tickNone, symbolSpring},
	lookWetland:    {"wetland", layerAreas, formArea, Stroke{Width: 0.25, Colour: slate, Dash: []MM{0.8, 0.8}}, &leaf, tickNone, symbolNone},
	lookDitch:      {"ditch or swale", layerBounds, formLine, Stroke{Width: 0.3, Colour: slate}, nil, tickVee, symbolNone},
	lookFloodPlain: {"edge of the flood plain", layerBounds, formLine, Stroke{Width: 0.25, Colour: slate, Dash: []MM{4, 0.8}}, nil, tickWave, symbolNone},
	lookDrain:      {"drain for ground or roof water", layerBounds, formLine, Stroke{Width: 0.3, Colour: slate, Dash: []MM{1.8, 0.7}}, nil, tickBar, symbolNone},
	lookStormPipe:  {"storm pipe", layerBounds, formLine, Stroke{Width: 0.4, Colour: stone, Dash: []MM{3, 0.8}}, nil, tickSquare, symbolNone},
	lookDryWell:    {"dry well", layerParts, formPoint, Stroke{Width: 0.3, Colour: slate}, &paper, tickNone, symbolDryWell},
	lookCistern:    {"cistern", layerAreas, formArea, Stroke{Width: 0.4, Colour: slate}, &mist, tickNone, symbolCistern},
	lookBank:       {"bank or steep slope, its edge", layerBounds, formLine, Stroke{Width: 0.25, Colour: soil}, nil, tickComb, symbolNone},
	lookSinkhole:   {"sinkhole", layerAreas, formArea, Stroke{Width: 0.35, Colour: soil, Dash: []MM{0.7, 0.6}}, &dust, tickNone, symbolSinkhole},
	lookEasement:   {"easement", layerAreas, formArea, Stroke{Width: 0.25, Colour: stone, Dash: []MM{3, 0.8, 0.8, 0.8}}, nil, tickNone, symbolNone},
	lookOtherField: {"field of another system", layerAreas, formArea, Stroke{Width: 0.35, Colour: clay, Dash: []MM{1.4, 0.8}}, nil, tickNone, symbolNone},
	lookPoint:      {"other point", layerParts, formPoint, Stroke{Width: 0.3, Colour: stone}, &paper, tickNone, symbolBend},
}

// layerID is a layer of the plan, in drawing order.
type layerID uint8

const (
	layerAreas layerID = iota
	layerTrees
	layerAllowed
	layerBuildings
	layerBands
	layerBounds
	layerTies
	layerPipes
	layerTanks
	layerUncertain
	layerDistances
	layerProposed
	layerParts
	layerMarks
	layerFindings
	layerLeaders
	layerLabels
	layerCount
)

// layerNames are the names the layers carry into the files.
var layerNames = [layerCount]string{
	"areas", "trees", "allowed region", "buildings", "setbacks", "boundaries and services", "tie lines", "pipes and trenches",
	"tanks", "uncertainty", "distances", "proposed", "parts", "marks", "findings", "leaders", "labels",
}

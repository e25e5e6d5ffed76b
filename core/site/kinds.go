package site

// InstrumentKinds returns every kind of instrument, in the order of the
// documentation.
func InstrumentKinds() []InstrumentKind {
	return []InstrumentKind{SteelTape, FibreglassTape, LaserMeter, CameraCounter, Compass,
		PhoneFix, SurveyReceiver, LevelRod, ProbeRod, Transit}
}

// PartKinds returns every kind of part, in the order of the documentation.
func PartKinds() []PartKind {
	return []PartKind{SepticTank, PumpTank, DistributionBox, DropBox, LineEnd, Cleanout, Lid, InspectionPort}
}

// LineKinds returns every kind of line, in the order of the documentation.
func LineKinds() []LineKind {
	return []LineKind{DrainLine, EffluentPipe, BuildingSewer, PressurePipe}
}

// FeatureKinds returns every kind of feature, in the order of the
// documentation.
func FeatureKinds() []FeatureKind {
	return []FeatureKind{Tree, Well, Driveway, PropertyLine, WaterLine, Pool, SurfaceWater,
		ReserveArea, Fence, Downspout, Structure, SoilTest, UtilityLine,
		Spring, Wetland, Drain, Bank, Easement, DryWell, Cistern, FloodPlain, Sinkhole, StormPipe, Ditch, OtherField}
}

// RodFeet returns everything a rod may stand on, in the order of the
// documentation.
func RodFeet() []RodOn { return []RodOn{OnGround, OnLid, OnInvert, OnTop} }

package site

// FindingKinds returns every kind of finding, in the order of the
// documentation.
func FindingKinds() []FindingKind {
	return []FindingKind{FineRoots, RootMass, StandingWater, Flattened, Cracked, Broken, JointShifted,
		SoilEntering, Sediment, Blocked, LineEndSeen, Corroded, Leaking, PieceMissing, WaterOverPipe, AnotherFinding}
}

// Grades returns the grades that a person may state, lightest first.
func Grades() []Grade { return []Grade{Note, Watch, Act} }

// RunEnds returns every reason why a camera run may end, in the order of the
// documentation.
func RunEnds() []RunEnd {
	return []RunEnd{ReachedEnd, StoppedRoots, StoppedWater, StoppedBroken, StoppedBend, StoppedSoil, StoppedCable, StoppedOther}
}

package storage

// DefaultHours returns the weights of the 24 hours of a household's day from
// midnight, which add up to 1: little at night, a peak in the morning and a
// lower one in the evening (common practice, no source). Each call returns its
// own copy.
func DefaultHours() []float64 {
	return []float64{
		0.010, 0.005, 0.005, 0.005, 0.010, 0.025, // from midnight
		0.065, 0.090, 0.080, 0.060, 0.050, 0.045, // from six in the morning
		0.045, 0.040, 0.035, 0.035, 0.040, 0.055, // from noon
		0.070, 0.070, 0.060, 0.045, 0.035, 0.020, // from six in the evening
	}
}

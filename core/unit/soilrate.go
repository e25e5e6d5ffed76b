package unit

// Percolation is how slowly water sinks in a percolation test: the time per
// depth of fall, in seconds per metre.
type Percolation float64

// Loading is the flow that an area of soil takes or is given, in cubic metres
// per second and square metre.
type Loading float64

// Units of percolation and loading.
const (
	MinutePerInch             Percolation = Percolation(60 / Inch)
	GallonPerDayPerSquareFoot Loading     = Loading(GallonPerDay) / Loading(SquareFoot)
	LitrePerDayPerSquareMetre Loading     = Loading(Litre) / 86400
)

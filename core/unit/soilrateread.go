package unit

import "strings"

// ParseLoading reads how much water an area of soil takes in a day:
// 0.6 gal/ft2/day, 0.6 gpd/ft2, 0.6 gpd per sq ft, 25 L/m2/d, or the same as a
// depth, 25 mm/d. It is not negative; 0 says that the soil takes none. An error
// is a *ParseError.
func ParseLoading(text string) (Loading, error) {
	v, err := parseQuantity(text, "a loading rate in gallons a day per square foot, or litres a day per square metre", "0.6 gpd/ft2", loadingUnit)
	return Loading(v), err
}

// ParsePercolation reads how long water takes to fall by a depth in a
// percolation test: 18 min/in, 18 min per inch, 18 mpi, 7 min/cm. It is above
// zero. An error is a *ParseError.
func ParsePercolation(text string) (Percolation, error) {
	const expected, example = "a percolation time in minutes per inch or per centimetre", "18 min/in"
	v, err := parseQuantity(text, expected, example, percolationUnit)
	if err == nil && v == 0 {
		s := scan(text, expected, example)
		return 0, s.fail(s.at, "a percolation time is above zero; leave it out where no test was made")
	}
	return Percolation(v), err
}

// ratioOf splits a compound unit at its strokes and its "per"s. n is 4 where
// there are more parts than any known unit has.
func ratioOf(compacted string) (parts [3]string, n int) {
	for _, p := range strings.Split(strings.ReplaceAll(compacted, "per", "/"), "/") {
		if n == len(parts) {
			return parts, n + 1
		}
		parts[n] = p
		n++
	}
	return parts, n
}

// spanOf returns the seconds of a named time, 0 for any other word.
func spanOf(name string) float64 {
	switch name {
	case "d", "day":
		return 86400
	}
	return 0
}

// loadingUnit returns the SI value of a loading unit, 0 for one it does not
// know. Area and time may stand in either order.
func loadingUnit(name string) float64 {
	parts, n := ratioOf(name)
	switch n {
	case 2:
		switch {
		case parts[0] == "gpd" && areaUnit(parts[1]) > 0:
			return float64(GallonPerDay) / areaUnit(parts[1])
		case parts[0] == "mm" && spanOf(parts[1]) > 0:
			return float64(Millimetre) / 86400
		case parts[0] == "cm" && spanOf(parts[1]) > 0:
			return float64(Centimetre) / 86400
		}
	case 3:
		area, time := areaUnit(parts[1]), spanOf(parts[2])
		if area == 0 {
			area, time = areaUnit(parts[2]), spanOf(parts[1])
		}
		if area > 0 && time > 0 {
			return volumeUnit(parts[0]) / time / area
		}
	}
	return 0
}

// percolationUnit returns the SI value of a percolation unit, 0 for one it does
// not know.
func percolationUnit(name string) float64 {
	if name == "mpi" {
		return float64(MinutePerInch)
	}
	parts, n := ratioOf(name)
	if n != 2 {
		return 0
	}
	switch parts[0] {
	case "min", "mins", "minute", "minutes":
	default:
		return 0
	}
	switch parts[1] {
	case "in", "inch":
		return float64(MinutePerInch)
	case "cm", "centimetre", "centimeter":
		return 60 / float64(Centimetre)
	case "mm", "millimetre", "millimeter":
		return 60 / float64(Millimetre)
	}
	return 0
}

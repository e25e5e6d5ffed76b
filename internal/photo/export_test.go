package photo

import "image"

// ReadExif lets the tests read EXIF data without a picture around them.
func ReadExif(data []byte) (orientation int, taken, location string) {
	a := readExif(data)
	return a.orientation, a.taken, a.location
}

// Reduced lets the tests see the channels of a reduced picture, by its own way
// of storing colours or, with rows, by that for all pictures.
func Reduced(m image.Image, longSide int, rows bool) (channels [][]byte, sizes []image.Point) {
	planes := reduced(m, longSide)
	if rows {
		planes = reducedRows(m, fit(m.Bounds().Size(), longSide))
	}
	for _, p := range planes {
		channels = append(channels, p.dots)
		sizes = append(sizes, image.Pt(p.wide, p.high))
	}
	return channels, sizes
}

// Budget lets the tests take and give memory without pictures.
func Budget(all int64) (take, give func(bytes int64)) {
	b := newBudget(all)
	return b.take, b.give
}

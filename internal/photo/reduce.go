package photo

import "image"

// plane is one channel of a picture, a byte for each dot, row after row.
type plane struct {
	wide, high int
	dots       []byte
}

// reducer makes a plane smaller row by row. A dot of the result is the mean of
// the dots that its area covers, each by the share covered: no dot is passed
// over, so that fine patterns turn grey and not into waves. All sums are whole
// numbers, so that every machine makes the same picture.
//
// Along a side of from dots that becomes to dots, a dot of the original is to
// units long and a dot of the result from units.
type reducer struct {
	from image.Point
	out  plane
	row  []uint32 // sums of one row of the original
	sums []uint64 // of the row of the result that is being made
	need int      // units down that this row still lacks
	made int      // rows
}

// newReducer returns a reducer for planes of the given sizes in dots.
func newReducer(from, to image.Point) *reducer {
	return &reducer{
		from: from,
		out:  plane{to.X, to.Y, make([]byte, to.X*to.Y)},
		row:  make([]uint32, to.X),
		sums: make([]uint64, to.X),
		need: from.Y,
	}
}

// add takes the next row of the original.
func (r *reducer) add(dots []byte) {
	r.across(dots)
	for left := r.out.high; left > 0; {
		take := min(left, r.need)
		for x, v := range r.row {
			r.sums[x] += uint64(v) * uint64(take)
		}
		left -= take
		if r.need -= take; r.need == 0 {
			r.finishRow()
		}
	}
}

// across sums one row. A sum is at most 255 * 65,535 and so fits.
func (r *reducer) across(dots []byte) {
	to := r.out.wide
	x, left := 0, to
	for i := range r.row {
		need, sum := r.from.X, 0
		for need >= left {
			sum += int(dots[x]) * left
			need -= left
			x, left = x+1, to
		}
		if need > 0 {
			sum += int(dots[x]) * need
			left -= need
		}
		r.row[i] = uint32(sum)
	}
}

func (r *reducer) finishRow() {
	area := uint64(r.from.X) * uint64(r.from.Y)
	out := r.out.dots[r.made*r.out.wide:]
	for x, sum := range r.sums {
		out[x] = byte((sum + area/2) / area)
		r.sums[x] = 0
	}
	r.made++
	r.need = r.from.Y
}

// upright turns a plane by its orientation in EXIF (CIPA DC-008-2019, 4.6.4):
// from 5 on rows and columns are exchanged; then 2, 3, 6 and 7 are mirrored
// left to right and 3, 4, 7 and 8 top to bottom.
func (p plane) upright(orientation int) plane {
	if orientation == 1 {
		return p
	}
	exchanged := orientation >= 5
	mirrored := orientation == 2 || orientation == 3 || orientation == 6 || orientation == 7
	flipped := orientation == 3 || orientation == 4 || orientation == 7 || orientation == 8
	out := plane{p.wide, p.high, make([]byte, len(p.dots))}
	if exchanged {
		out.wide, out.high = p.high, p.wide
	}
	for row := range p.high {
		for column, v := range p.dots[row*p.wide : (row+1)*p.wide] {
			x, y := column, row
			if exchanged {
				x, y = row, column
			}
			if mirrored {
				x = out.wide - 1 - x
			}
			if flipped {
				y = out.high - 1 - y
			}
			out.dots[y*out.wide+x] = v
		}
	}
	return out
}

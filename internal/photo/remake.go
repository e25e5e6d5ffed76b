package photo

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"

	"undersod/core/sheet"
)

// remake reads the dots of a picture and writes them anew, smaller and upright.
func remake(k kind, data []byte, orientation int, o Options) (*sheet.Picture, error) {
	dots, err := k.dots(data)
	if err != nil {
		return nil, err
	}
	channels := reduced(dots, o.LongSide)
	for i := range channels {
		channels[i] = channels[i].upright(orientation)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, picture(channels), &jpeg.Options{Quality: o.Quality}); err != nil {
		return nil, fmt.Errorf("it cannot be written as JPEG: %w", err)
	}
	return &sheet.Picture{Wide: channels[0].wide, High: channels[0].high, Grey: len(channels) == 1, JPEG: b.Bytes()}, nil
}

// fit returns the size at which the longer side has at most the given dots. A
// picture is never made larger.
func fit(size image.Point, longSide int) image.Point {
	long := max(size.X, size.Y)
	if long <= longSide {
		return size
	}
	side := func(v int) int { return max(1, (v*longSide+long/2)/long) }
	return image.Pt(side(size.X), side(size.Y))
}

// halved is the size of the colours of a picture: half of its dots each way,
// as JPEG stores them.
func halved(size image.Point) image.Point { return image.Pt((size.X+1)/2, (size.Y+1)/2) }

// reduced returns the light of a picture, and of one that is not grey the two
// colour differences at half size.
func reduced(m image.Image, longSide int) []plane {
	to := fit(m.Bounds().Size(), longSide)
	switch v := m.(type) {
	case *image.YCbCr:
		return reducedYCbCr(v, to)
	case *image.Gray:
		return []plane{reducedPlane(v.Pix, v.Stride, v.Rect.Size(), to)}
	}
	return reducedRows(m, to)
}

// reducedYCbCr reduces the channels as they are stored, whatever their sizes.
func reducedYCbCr(m *image.YCbCr, to image.Point) []plane {
	size := m.Rect.Size()
	across, down := 1, 1
	switch m.SubsampleRatio {
	case image.YCbCrSubsampleRatio422:
		across = 2
	case image.YCbCrSubsampleRatio420:
		across, down = 2, 2
	case image.YCbCrSubsampleRatio440:
		down = 2
	case image.YCbCrSubsampleRatio411:
		across = 4
	case image.YCbCrSubsampleRatio410:
		across, down = 4, 2
	}
	colours := image.Pt((size.X+across-1)/across, (size.Y+down-1)/down)
	return []plane{
		reducedPlane(m.Y, m.YStride, size, to),
		reducedPlane(m.Cb, m.CStride, colours, halved(to)),
		reducedPlane(m.Cr, m.CStride, colours, halved(to)),
	}
}

func reducedPlane(dots []byte, stride int, size, to image.Point) plane {
	r := newReducer(size, to)
	for y := range size.Y {
		r.add(dots[y*stride:][:size.X])
	}
	return r.out
}

// reducedRows reduces a picture of any other kind, on white where it is
// transparent, one row at a time.
func reducedRows(m image.Image, to image.Point) []plane {
	size := m.Bounds().Size()
	light, blue, red := newReducer(size, to), newReducer(size, halved(to)), newReducer(size, halved(to))
	row := image.NewRGBA(image.Rect(0, 0, size.X, 1))
	channels := [3][]byte{make([]byte, size.X), make([]byte, size.X), make([]byte, size.X)}
	for y := range size.Y {
		draw.Draw(row, row.Rect, image.White, image.Point{}, draw.Src)
		draw.Draw(row, row.Rect, m, m.Bounds().Min.Add(image.Pt(0, y)), draw.Over)
		for x := range size.X {
			p := row.Pix[4*x : 4*x+3]
			channels[0][x], channels[1][x], channels[2][x] = color.RGBToYCbCr(p[0], p[1], p[2])
		}
		light.add(channels[0])
		blue.add(channels[1])
		red.add(channels[2])
	}
	if m.ColorModel() == color.Gray16Model {
		return []plane{light.out}
	}
	return []plane{light.out, blue.out, red.out}
}

// picture joins channels.
func picture(channels []plane) image.Image {
	light := channels[0]
	all := image.Rect(0, 0, light.wide, light.high)
	if len(channels) == 1 {
		return &image.Gray{Pix: light.dots, Stride: light.wide, Rect: all}
	}
	blue, red := channels[1], channels[2]
	return &image.YCbCr{
		Y: light.dots, YStride: light.wide, Cb: blue.dots, Cr: red.dots, CStride: blue.wide,
		SubsampleRatio: image.YCbCrSubsampleRatio420, Rect: all,
	}
}

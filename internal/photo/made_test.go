package photo_test

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"os"
	"os/exec"
	"testing"
	"testing/fstest"

	"undersod/internal/photo"
)

// scene is an upright picture no turn of which looks like it: a light left
// edge, a red upper right and a blue lower right.
func scene(wide, high int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, wide, high))
	for y := range high {
		for x := range wide {
			c := color.RGBA{60, 120, 60, 255}
			switch {
			case x < wide/4:
				c = color.RGBA{230, 230, 230, 255}
			case x >= wide/2 && y < high/2:
				c = color.RGBA{200, 40, 40, 255}
			case x >= wide/2:
				c = color.RGBA{40, 40, 200, 255}
			}
			m.SetRGBA(x, y, c)
		}
	}
	return m
}

// stored returns the rows and columns that a camera stores of an upright
// picture, after the definition of the eight orientations: where the first row
// and the first column lie in what is seen (CIPA DC-008-2019, 4.6.4,
// Orientation).
func stored(upright *image.RGBA, orientation int) *image.RGBA {
	sides := [9][2]string{1: {"top", "left"}, 2: {"top", "right"}, 3: {"bottom", "right"}, 4: {"bottom", "left"},
		5: {"left", "top"}, 6: {"right", "top"}, 7: {"right", "bottom"}, 8: {"left", "bottom"}}[orientation]
	wide, high := upright.Rect.Dx(), upright.Rect.Dy()
	rows, columns := high, wide
	if orientation >= 5 {
		rows, columns = wide, high
	}
	out := image.NewRGBA(image.Rect(0, 0, columns, rows))
	for row := range rows {
		for column := range columns {
			var x, y int
			for _, from := range []struct {
				side string
				n    int
			}{{sides[0], row}, {sides[1], column}} {
				switch from.side {
				case "top":
					y = from.n
				case "bottom":
					y = high - 1 - from.n
				case "left":
					x = from.n
				case "right":
					x = wide - 1 - from.n
				}
			}
			out.SetRGBA(column, row, upright.RGBAAt(x, y))
		}
	}
	return out
}

func asJPEG(t testing.TB, m image.Image, quality int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func asPNG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// field is one entry of a directory of EXIF.
type field struct {
	tag, kind uint16
	count     int
	value     []byte
}

// exifData writes EXIF data with the given fields of its three directories.
func exifData(order binary.AppendByteOrder, root, camera, gps []field) []byte {
	out := []byte("II*\x00")
	if order.String() == binary.BigEndian.String() {
		out = []byte("MM\x00*")
	}
	out = order.AppendUint32(out, 8)
	size := func(fields []field) (n int) {
		n = 2 + 12*len(fields) + 4
		for _, f := range fields {
			if len(f.value) > 4 {
				n += len(f.value)
			}
		}
		return n
	}
	long := func(at int) []byte { return order.AppendUint32(nil, uint32(at)) }
	rootSize := size(root) + 24
	root = append(append([]field{}, root...), field{0x8769, 4, 1, long(8 + rootSize)}, field{0x8825, 4, 1, long(8 + rootSize + size(camera))})
	for _, directory := range [][]field{root, camera, gps} {
		out = order.AppendUint16(out, uint16(len(directory)))
		at := len(out) + 12*len(directory) + 4
		var tail []byte
		for _, f := range directory {
			out = order.AppendUint16(out, f.tag)
			out = order.AppendUint16(out, f.kind)
			out = order.AppendUint32(out, uint32(f.count))
			if len(f.value) > 4 {
				out = order.AppendUint32(out, uint32(at+len(tail)))
				tail = append(tail, f.value...)
				continue
			}
			out = append(append(out, f.value...), make([]byte, 4-len(f.value))...)
		}
		out = append(append(out, 0, 0, 0, 0), tail...)
	}
	return out
}

// fullExif is what a camera might write, with an invented place and time.
func fullExif(order binary.AppendByteOrder, orientation int) []byte {
	ratios := func(v ...uint32) (out []byte) {
		for _, n := range v {
			out = order.AppendUint32(out, n)
		}
		return out
	}
	date := []byte("2026:11:12 14:03:22\x00")
	return exifData(order,
		[]field{{0x0112, 3, 1, order.AppendUint16(nil, uint16(orientation))}},
		[]field{{0x9003, 2, len(date), date}},
		[]field{
			{1, 2, 2, []byte("N\x00")}, {2, 5, 3, ratios(12, 1, 30, 1, 1800, 100)},
			{3, 2, 2, []byte("W\x00")}, {4, 5, 3, ratios(98, 1, 0, 1, 0, 1)},
		})
}

const (
	fullTaken    = "2026-11-12 14:03:22"
	fullLocation = "12.50500 N, 98.00000 W" // 12 degrees 30 minutes 18 seconds
)

// withExif puts EXIF data into a JPEG right behind its start.
func withExif(data, exif []byte) []byte {
	content := append([]byte("Exif\x00\x00"), exif...)
	out := append([]byte{}, data[:2]...)
	out = append(out, 0xFF, 0xE1)
	out = binary.BigEndian.AppendUint16(out, uint16(len(content)+2))
	return append(append(out, content...), data[2:]...)
}

// pngChunk returns a chunk of a PNG.
func pngChunk(name string, content []byte) []byte {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(content)))
	out = append(append(out, name...), content...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
}

// bits collects the bits of a lossless WebP, the lowest of each byte first.
type bits struct {
	out  []byte
	used int
}

func (b *bits) add(value uint64, n int) {
	for i := range n {
		if b.used%8 == 0 {
			b.out = append(b.out, 0)
		}
		b.out[len(b.out)-1] |= byte(value>>i&1) << (b.used % 8)
		b.used++
	}
}

// plainWebP writes a lossless WebP of one colour (RFC 9649, 2024, section 3):
// each channel has a code of a single symbol, so that its dots need no bits.
func plainWebP(wide, high int, c color.RGBA, chunks ...[]byte) []byte {
	var b bits
	b.add(0x2F, 8)
	b.add(uint64(wide-1), 14)
	b.add(uint64(high-1), 14)
	b.add(0, 1+3)   // no alpha, version 0
	b.add(0, 1+1+1) // no transform, no cache of colours, one group of codes
	for _, v := range []uint8{c.G, c.R, c.B, 255, 0} {
		b.add(1, 1) // a simple code
		b.add(0, 1) // of one symbol
		if v > 0 {
			b.add(1, 1) // of eight bits
			b.add(uint64(v), 8)
		} else {
			b.add(0, 1+1) // of one bit
		}
	}
	body := append([]byte("WEBP"), webpChunk("VP8L", b.out)...)
	for _, more := range chunks {
		body = append(body, more...)
	}
	return webpChunk("RIFF", body)
}

func webpChunk(name string, content []byte) []byte {
	out := append([]byte(name), 0, 0, 0, 0)
	binary.LittleEndian.PutUint32(out[4:], uint32(len(content)))
	return append(append(out, content...), make([]byte, len(content)%2)...)
}

// inkJPEG writes a baseline JPEG of one block of 8 x 8 dots with four inks, as
// a printer's program does: stored inverted. light is what is stored of each.
func inkJPEG(light [4]int) []byte {
	out := []byte{0xFF, 0xD8, 0xFF, 0xEE, 0, 14}
	out = append(out, "Adobe\x00\x64\x00\x00\x00\x00\x00"...)
	out = append(out, 0xFF, 0xDB, 0, 67, 0)
	out = append(out, bytes.Repeat([]byte{8}, 64)...) // so that a step of the mean is one step of light
	out = append(out, 0xFF, 0xC0, 0, 20, 8, 0, 8, 0, 8, 4)
	for i := range 4 {
		out = append(out, byte(i+1), 0x11, 0)
	}
	// Code 0 is the category 7, the only one: means from -127 to -64 and from
	// 64 to 127. Code 0 of the other table ends a block.
	for _, table := range [][2]byte{{0x00, 7}, {0x10, 0}} {
		out = append(out, 0xFF, 0xC4, 0, 20, table[0], 1)
		out = append(append(out, make([]byte, 15)...), table[1])
	}
	out = append(out, 0xFF, 0xDA, 0, 14, 4, 1, 0, 2, 0, 3, 0, 4, 0, 0, 63, 0)
	var bitsOut uint64
	n := 0
	add := func(v uint64, size int) { bitsOut, n = bitsOut<<size|v, n+size }
	for _, l := range light {
		add(0, 1)
		if d := l - 128; d > 0 {
			add(uint64(d), 7)
		} else {
			add(uint64(d+127), 7)
		}
		add(0, 1)
	}
	bitsOut <<= 40 - n
	for shift := 32; shift >= 0; shift -= 8 {
		out = append(out, byte(bitsOut>>shift))
		if byte(bitsOut>>shift) == 0xFF {
			out = append(out, 0)
		}
	}
	return append(out, 0xFF, 0xD9)
}

// grainy returns a picture as full of detail as a photograph of soil.
func grainy(wide, high int) *image.YCbCr {
	m := image.NewYCbCr(image.Rect(0, 0, wide, high), image.YCbCrSubsampleRatio420)
	random := rand.New(rand.NewPCG(uint64(wide), uint64(high)))
	for y := range high {
		for x := range wide {
			m.Y[y*m.YStride+x] = uint8(40 + x*120/wide + y*40/high + int(random.Uint32()>>28))
		}
	}
	for i := range m.Cb {
		m.Cb[i], m.Cr[i] = uint8(110+i%m.CStride*20/m.CStride), uint8(130+random.Uint32()>>30)
	}
	return m
}

// folder is a file system of these files.
func folder(files map[string][]byte) fstest.MapFS {
	out := fstest.MapFS{}
	for name, data := range files {
		out[name] = &fstest.MapFile{Data: data, Mode: 0o644}
	}
	return out
}

// ready prepares one file of these bytes.
func ready(t testing.TB, data []byte, o photo.Options) photo.Prepared {
	t.Helper()
	p, err := photo.Prepare(folder(map[string][]byte{"photo.jpg": data}), "photo.jpg", o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// seen decodes a prepared picture and checks what is said of it.
func seen(t testing.TB, p photo.Prepared) image.Image {
	t.Helper()
	m, err := jpeg.Decode(bytes.NewReader(p.Picture.JPEG))
	if err != nil {
		t.Fatal(err)
	}
	_, grey := m.(*image.Gray)
	if size := m.Bounds().Size(); size != image.Pt(p.Picture.Wide, p.Picture.High) || grey != p.Picture.Grey {
		t.Errorf("the picture is %v, grey %v; said are %d x %d, %v", size, grey, p.Picture.Wide, p.Picture.High, p.Picture.Grey)
	}
	return m
}

// off returns how far the colour of a dot is from another, by its worst
// channel.
func off(m image.Image, x, y int, want color.RGBA) int {
	c := color.RGBAModel.Convert(m.At(x, y)).(color.RGBA)
	apart := func(a, b uint8) int { return max(int(a)-int(b), int(b)-int(a)) }
	return max(apart(c.R, want.R), apart(c.G, want.G), apart(c.B, want.B))
}

// tool returns the path of a program that a test runs. Where it is not
// installed the test is skipped, or fails if UNDERSOD_REQUIRE_TOOLS is 1.
func tool(t *testing.T, name, packageName string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err == nil {
		return path
	}
	const word = "%s is not installed (Debian package %s); the check against it did not run"
	if os.Getenv("UNDERSOD_REQUIRE_TOOLS") == "1" {
		t.Fatalf(word, name, packageName)
	}
	t.Skipf(word, name, packageName)
	return ""
}

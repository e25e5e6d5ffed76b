package photo_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/gif"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"testing/fstest"
	"time"

	"golang.org/x/image/bmp"
	"golang.org/x/image/tiff"

	"undersod/internal/photo"
)

var orders = []binary.AppendByteOrder{binary.LittleEndian, binary.BigEndian}

// places are dots of scene(64, 48) well inside its fields.
var places = []struct {
	x, y int
	want color.RGBA
}{
	{7, 10, color.RGBA{230, 230, 230, 255}}, {7, 40, color.RGBA{230, 230, 230, 255}},
	{24, 24, color.RGBA{60, 120, 60, 255}},
	{50, 10, color.RGBA{200, 40, 40, 255}}, {50, 38, color.RGBA{40, 40, 200, 255}},
}

func isUpright(t *testing.T, what string, p photo.Prepared) {
	t.Helper()
	m := seen(t, p)
	if p.Picture.Wide != 64 || p.Picture.High != 48 {
		t.Errorf("%s: %d x %d dots, want 64 x 48", what, p.Picture.Wide, p.Picture.High)
	}
	for _, c := range places {
		if d := off(m, c.x, c.y, c.want); d > 12 {
			t.Errorf("%s: the dot %d, %d is %v, want %v", what, c.x, c.y, m.At(c.x, c.y), c.want)
		}
	}
}

func TestAllOrientationsGiveTheSamePicture(t *testing.T) {
	for orientation := 1; orientation <= 8; orientation++ {
		m := stored(scene(64, 48), orientation)
		for _, order := range orders {
			data := withExif(asJPEG(t, m, 95), fullExif(order, orientation))
			isUpright(t, fmt.Sprint("JPEG, ", order, " ", orientation), ready(t, data, photo.Options{}))
			large := withExif(asJPEG(t, stored(scene(640, 480), orientation), 95), fullExif(order, orientation))
			isUpright(t, fmt.Sprint("reduced, ", orientation), ready(t, large, photo.Options{LongSide: 64}))
		}
		whole := asPNG(t, m)
		data := append(append(append([]byte{}, whole[:33]...), pngChunk("eXIf", fullExif(binary.BigEndian, orientation))...), whole[33:]...)
		p := ready(t, data, photo.Options{KeepLocation: true})
		isUpright(t, fmt.Sprint("PNG ", orientation), p)
		if p.Taken != fullTaken || p.Location != fullLocation {
			t.Errorf("PNG: taken %q at %q", p.Taken, p.Location)
		}
	}
}

// TestOrientationSixTurnsClockwise holds the one that phones write most
// against a picture laid by hand: the first row is seen at the right.
func TestOrientationSixTurnsClockwise(t *testing.T) {
	m := image.NewRGBA(image.Rect(0, 0, 32, 16))
	for i := range m.Pix {
		m.Pix[i] = 255
	}
	for y := range 8 {
		for x := range 8 {
			m.SetRGBA(x, y, color.RGBA{R: 200, A: 255}) // upper left as stored
		}
	}
	got := seen(t, ready(t, withExif(asJPEG(t, m, 95), fullExif(binary.LittleEndian, 6)), photo.Options{}))
	if got.Bounds().Dx() != 16 || off(got, 12, 4, color.RGBA{R: 200, A: 255}) > 12 || off(got, 4, 4, color.RGBA{255, 255, 255, 255}) > 12 {
		t.Errorf("%v, upper right %v, upper left %v", got.Bounds(), got.At(12, 4), got.At(4, 4))
	}
}

func TestDateAndPlaceAreTold(t *testing.T) {
	for _, order := range orders {
		data := withExif(asJPEG(t, scene(64, 48), 90), fullExif(order, 1))
		if p := ready(t, data, photo.Options{}); p.Taken != fullTaken || p.Location != "" || p.File != "photo.jpg" {
			t.Errorf("%s, taken %q at %q; the place was not asked for", p.File, p.Taken, p.Location)
		}
		if p := ready(t, data, photo.Options{KeepLocation: true}); p.Location != fullLocation {
			t.Errorf("taken at %q, want %q", p.Location, fullLocation)
		}
	}
}

// TestNothingOfTheCameraIsLeft looks for the data, for any segment that could
// hold some, and for the words in them, also where the place is asked for.
func TestNothingOfTheCameraIsLeft(t *testing.T) {
	data := asJPEG(t, scene(64, 48), 90)
	comment := append([]byte{0xFF, 0xFE, 0, 18}, "invented comment"...)
	xmp := "http://ns.adobe.com/xap/1.0/\x00<x:xmpmeta/>"
	segment := append([]byte{0xFF, 0xE1, 0, byte(len(xmp) + 2)}, xmp...)
	data = append(append(append(append([]byte{}, data[:2]...), comment...), segment...), data[2:]...)
	data = append(withExif(data, fullExif(binary.LittleEndian, 6)), "trailing film"...)
	out := ready(t, data, photo.Options{KeepLocation: true}).Picture.JPEG
	for _, trace := range []string{"Exif", "2026", "invented", "xap", "II*\x00", "MM\x00*", "film", "ICC_PROFILE"} {
		if bytes.Contains(out, []byte(trace)) {
			t.Errorf("%q is in what was made", trace)
		}
	}
	for at := 2; out[at+1] != 0xDA; at += 2 + int(binary.BigEndian.Uint16(out[at+2:])) {
		if m := out[at+1]; out[at] != 0xFF || m >= 0xE0 {
			t.Errorf("a segment %02X is in what was made", m)
		}
	}
}

// TestExiftoolFindsNothingLeft has an independent program write the data and
// look for them afterwards.
func TestExiftoolFindsNothingLeft(t *testing.T) {
	exiftool := tool(t, "exiftool", "libimage-exiftool-perl")
	dir := t.TempDir()
	path := filepath.Join(dir, "in.jpg")
	if err := os.WriteFile(path, asJPEG(t, stored(scene(64, 48), 8), 95), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(exiftool, "-q", "-overwrite_original", "-Orientation#=8", "-DateTimeOriginal=2026:11:12 14:03:22",
		"-Make=Invented Cameras", "-GPSLatitude=12.505", "-GPSLatitudeRef=S", "-GPSLongitude=98", "-GPSLongitudeRef=E",
		"-XMP:Creator=Invented", "-IPTC:City=Tamsin", path).CombinedOutput()
	if err != nil {
		t.Fatalf("exiftool: %v\n%s", err, out)
	}
	p, err := photo.Prepare(os.DirFS(dir), "in.jpg", photo.Options{KeepLocation: true})
	if err != nil {
		t.Fatal(err)
	}
	isUpright(t, "as exiftool wrote it", p)
	if p.Taken != fullTaken || p.Location != "12.50500 S, 98.00000 E" {
		t.Errorf("taken %q at %q", p.Taken, p.Location)
	}
	made := filepath.Join(dir, "out.jpg")
	if err := os.WriteFile(made, p.Picture.JPEG, 0o600); err != nil {
		t.Fatal(err)
	}
	left, err := exec.Command(exiftool, "-G1", "-EXIF:all", "-GPS:all", "-XMP:all", "-IPTC:all", "-MakerNotes:all", "-ICC_Profile:all", "-JFIF:all", made).CombinedOutput()
	if err != nil || len(bytes.TrimSpace(left)) > 0 {
		t.Errorf("exiftool finds %q, error %v", left, err)
	}
}

func TestEveryKindIsReadByItsContent(t *testing.T) {
	m := scene(64, 48)
	write := func(encode func(io.Writer) error) []byte {
		var b bytes.Buffer
		if err := encode(&b); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	for name, data := range map[string][]byte{
		"JPEG":          asJPEG(t, m, 95),
		"PNG":           asPNG(t, m),
		"GIF":           write(func(w io.Writer) error { return gif.Encode(w, paletted(m), nil) }),
		"TIFF":          write(func(w io.Writer) error { return tiff.Encode(w, m, nil) }),
		"TIFF, packed":  write(func(w io.Writer) error { return tiff.Encode(w, m, &tiff.Options{Compression: tiff.Deflate}) }),
		"BMP":           write(func(w io.Writer) error { return bmp.Encode(w, m) }),
		"no end":        bytes.TrimSuffix(asJPEG(t, m, 95), []byte{0xFF, 0xD9}),
		"film after it": append(asJPEG(t, m, 95), bytes.Repeat([]byte{0xFF, 0xDA, 0, 2}, 1000)...),
	} {
		isUpright(t, name, ready(t, data, photo.Options{}))
	}
}

// paletted returns the picture with just its own colours.
func paletted(m *image.RGBA) *image.Paletted {
	var colours color.Palette
	for _, c := range places {
		colours = append(colours, c.want)
	}
	out := image.NewPaletted(m.Rect, colours)
	for y := range m.Rect.Dy() {
		for x := range m.Rect.Dx() {
			out.Set(x, y, m.At(x, y))
		}
	}
	return out
}

func TestWebPIsReadWithItsOrientation(t *testing.T) {
	clay := color.RGBA{178, 84, 48, 255}
	for _, data := range [][]byte{
		plainWebP(40, 20, clay, webpChunk("EXIF", fullExif(binary.LittleEndian, 6))),
		plainWebP(40, 20, clay, webpChunk("EXIF", append([]byte("Exif\x00\x00"), fullExif(binary.BigEndian, 6)...))),
	} {
		p := ready(t, data, photo.Options{})
		if m := seen(t, p); m.Bounds().Dx() != 20 || m.Bounds().Dy() != 40 || off(m, 10, 10, clay) > 8 || p.Taken != fullTaken {
			t.Errorf("%v of %v, taken %q", m.Bounds(), m.At(10, 10), p.Taken)
		}
	}
}

// TestInksAreRead reads a JPEG of four inks. It stores 255 less the ink; light
// is what the ink and the black leave (common practice, no source).
func TestInksAreRead(t *testing.T) {
	m := seen(t, ready(t, inkJPEG([4]int{228, 40, 28, 200}), photo.Options{Quality: 95}))
	want := color.RGBA{uint8(228 * 200 / 255), uint8(40 * 200 / 255), uint8(28 * 200 / 255), 255}
	if d := off(m, 4, 4, want); d > 10 {
		t.Errorf("the colour is %v, want %v", m.At(4, 4), want)
	}
}

func TestWhatIsClearIsWhite(t *testing.T) {
	m := image.NewNRGBA(image.Rect(0, 0, 16, 16))
	for i := range 8 * 16 {
		m.SetNRGBA(i%16, i/16, color.NRGBA{R: 200, A: 255})
	}
	got := seen(t, ready(t, asPNG(t, m), photo.Options{}))
	if off(got, 4, 3, color.RGBA{R: 200, A: 255}) > 12 || off(got, 4, 13, color.RGBA{255, 255, 255, 255}) > 12 {
		t.Errorf("above %v, below %v", got.At(4, 3), got.At(4, 13))
	}
}

func TestGreyStaysGrey(t *testing.T) {
	for name, m := range map[string]image.Image{"8 bits": image.NewGray(image.Rect(0, 0, 20, 10)), "16 bits": image.NewGray16(image.Rect(0, 0, 20, 10))} {
		if p := ready(t, asPNG(t, m), photo.Options{}); !p.Picture.Grey {
			t.Errorf("%s: the picture has colours", name)
		}
	}
	if p := ready(t, asJPEG(t, image.NewGray(image.Rect(0, 0, 20, 10)), 90), photo.Options{}); !p.Picture.Grey {
		t.Error("JPEG: the picture has colours")
	}
}

func TestSizesAreBounded(t *testing.T) {
	for _, c := range []struct{ wide, high, long, toWide, toHigh int }{
		{400, 300, 100, 100, 75}, {300, 400, 100, 75, 100}, {400, 300, 400, 400, 300}, {400, 300, 0, 400, 300},
		{1000, 1, 100, 100, 1}, {1, 1000, 100, 1, 100}, {399, 301, 97, 97, 73}, {2, 2, 1, 1, 1}, {1, 1, 1600, 1, 1},
	} {
		p := ready(t, asJPEG(t, scene(c.wide, c.high), 80), photo.Options{LongSide: c.long})
		seen(t, p)
		if p.Picture.Wide != c.toWide || p.Picture.High != c.toHigh {
			t.Errorf("%d x %d at %d: %d x %d, want %d x %d", c.wide, c.high, c.long, p.Picture.Wide, p.Picture.High, c.toWide, c.toHigh)
		}
	}
	if p := ready(t, asJPEG(t, scene(1700, 10), 80), photo.Options{}); p.Picture.Wide != 1600 {
		t.Errorf("by default %d dots wide, want 1600", p.Picture.Wide)
	}
	small, large := ready(t, asJPEG(t, grainy(200, 200), 95), photo.Options{Quality: 20}), ready(t, asJPEG(t, grainy(200, 200), 95), photo.Options{Quality: 95})
	if len(small.Picture.JPEG)*2 > len(large.Picture.JPEG) {
		t.Errorf("quality 20 has %d bytes, 95 has %d", len(small.Picture.JPEG), len(large.Picture.JPEG))
	}
}

// sized puts another size into the head of a picture.
func sized(data []byte, wide, high uint32) []byte {
	out := bytes.Clone(data)
	switch {
	case bytes.HasPrefix(out, []byte("\x89PNG")):
		binary.BigEndian.PutUint32(out[16:], wide)
		binary.BigEndian.PutUint32(out[20:], high)
		copy(out[8:], pngChunk("IHDR", out[16:29]))
	case bytes.HasPrefix(out, []byte("GIF")):
		binary.LittleEndian.PutUint16(out[6:], uint16(wide))
		binary.LittleEndian.PutUint16(out[8:], uint16(high))
	case bytes.HasPrefix(out, []byte("BM")):
		binary.LittleEndian.PutUint32(out[18:], wide)
		binary.LittleEndian.PutUint32(out[22:], high)
	default:
		at := bytes.Index(out, []byte{0xFF, 0xC0})
		binary.BigEndian.PutUint16(out[at+5:], uint16(high))
		binary.BigEndian.PutUint16(out[at+7:], uint16(wide))
	}
	return out
}

func TestEnormousPicturesAreRefusedUnread(t *testing.T) {
	m := scene(16, 16)
	var g, b bytes.Buffer
	if err := errors.Join(gif.Encode(&g, m, nil), bmp.Encode(&b, m)); err != nil {
		t.Fatal(err)
	}
	begin := time.Now()
	for name, data := range map[string][]byte{
		"JPEG": sized(asJPEG(t, m, 90), 60_000, 60_000),
		"PNG":  sized(asPNG(t, m), 60_000, 60_000),
		"GIF":  sized(g.Bytes(), 60_000, 60_000),
		"BMP":  sized(b.Bytes(), 60_000, 60_000),
		"WebP": plainWebP(16_384, 16_384, color.RGBA{R: 1, G: 2, B: 3}),
	} {
		_, err := photo.Prepare(folder(map[string][]byte{"p": data}), "p", photo.Options{})
		if err == nil || !strings.Contains(err.Error(), "it has "+map[bool]string{true: "16384 x 16384", false: "60000 x 60000"}[name == "WebP"]+" dots") {
			t.Errorf("%s: error %v", name, err)
		}
	}
	if took := time.Since(begin); took > 5*time.Second {
		t.Errorf("it took %v to refuse them", took)
	}
	if _, err := photo.Prepare(folder(map[string][]byte{"p": asPNG(t, m)}), "p", photo.Options{MaxDots: 255}); err == nil {
		t.Error("256 dots were read where 255 are allowed")
	}
	ready(t, asPNG(t, m), photo.Options{MaxDots: 256})
}

func TestAJPEGOfEndlessPassesIsRefused(t *testing.T) {
	data := asJPEG(t, scene(16, 16), 90)
	scan := data[bytes.Index(data, []byte{0xFF, 0xDA}) : len(data)-2]
	for range 50 {
		data = append(data[:len(data)-2], append(bytes.Clone(scan), 0xFF, 0xD9)...)
	}
	_, err := photo.Prepare(folder(map[string][]byte{"p": data}), "p", photo.Options{})
	if err == nil || !strings.Contains(err.Error(), "more than 40 passes") {
		t.Errorf("error %v", err)
	}
}

func TestWhatIsWrongIsSaidInWords(t *testing.T) {
	good := asJPEG(t, scene(64, 48), 90)
	cut := asPNG(t, grainy(64, 48))
	damaged := bytes.Clone(good)
	copy(damaged[len(damaged)/2:], bytes.Repeat([]byte{0xFF, 0xC4, 0, 2}, 20))
	twelve := bytes.Clone(good)
	twelve[bytes.Index(twelve, []byte{0xFF, 0xC0})+4] = 12
	files := folder(map[string][]byte{
		"empty.jpg": nil, "text.jpg": []byte("This is no picture. ½ “quoted”\n"), "page.jpg": []byte("%PDF-1.5\n"),
		"phone.jpg": []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00"), "new.jpg": []byte("\x00\x00\x00\x1cftypavif\x00\x00"),
		"film.jpg": []byte("\x00\x00\x00\x18ftypqt  \x00\x00"), "odd.jpg": {0, 1, 2, 3, 4, 5, 6, 7, 8, 9},
		"cut.jpg": good[:len(good)/2], "head.jpg": good[:20], "cut.png": cut[:len(cut)*2/3], "damaged.jpg": damaged, "twelve.jpg": twelve,
		"photos/box.jpg": good, "large.jpg": append(bytes.Clone(good), make([]byte, 100_000)...),
		"long text.jpg": []byte(strings.Repeat("½", 300)),
	})
	files["pipe.jpg"] = &fstest.MapFile{Mode: fs.ModeNamedPipe}
	for name, words := range map[string]string{
		"empty.jpg": "it is empty; copy it again", "text.jpg": "it is a text, not a picture; give a JPEG", "long text.jpg": "it is a text",
		"page.jpg": "it is a PDF; save the page", "phone.jpg": "it is a HEIC picture, which is not read here; save or send it as JPEG",
		"new.jpg": "it is an AVIF picture", "film.jpg": "it is a film", "odd.jpg": "it begins with the bytes 00 01 02 03 04 05 06 07",
		"cut.jpg": "end in the middle of the JPEG; copy it again", "head.jpg": "its 20 bytes end in the middle", "cut.png": "end in the middle of the PNG",
		"damaged.jpg": "it is a damaged JPEG", "twelve.jpg": "of a kind that is not read here",
		"gone.jpg": "there is no such file", "photos": "it is a folder", "pipe.jpg": "it is no plain file",
		"large.jpg": "it has 0.1 MB, and at most 0.1 MB are read", "../up.jpg": "its name must be a path below the job's folder",
		"/root.jpg": "its name must be a path", "": "its name must be a path", `photos\box.jpg`: "there is no such file",
	} {
		p, err := photo.Prepare(files, name, photo.Options{MaxBytes: 90_000})
		if err == nil || !strings.Contains(err.Error(), words) || !strings.HasPrefix(err.Error(), fmt.Sprintf("photo %q: ", name)) {
			t.Errorf("%s: error %v, want %q", name, err, words)
		}
		if p.Picture != nil {
			t.Errorf("%s: a picture beside an error", name)
		}
	}
}

// TestAPipeIsNotWaitedFor names a pipe of the real file system, which nobody
// writes to.
func TestAPipeIsNotWaitedFor(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe.jpg"), 0o600); err != nil {
		t.Skip(err)
	}
	if _, err := photo.Prepare(os.DirFS(dir), "pipe.jpg", photo.Options{}); err == nil || !strings.Contains(err.Error(), "no plain file") {
		t.Errorf("error %v", err)
	}
}

// growing is a file that holds more than it says.
type growing struct{ fs.FileInfo }

func (growing) Read(p []byte) (int, error)   { return len(p), nil }
func (g growing) Stat() (fs.FileInfo, error) { return g, nil }
func (growing) Close() error                 { return nil }
func (growing) Size() int64                  { return 10 }
func (growing) IsDir() bool                  { return false }
func (growing) Mode() fs.FileMode            { return 0o600 }

// panicking is a file whose reading fails as no error.
type panicking struct{ growing }

func (panicking) Read([]byte) (int, error) { panic("out of range") }

type oneFile struct{ fs.File }

func (f oneFile) Open(string) (fs.File, error) { return f.File, nil }

func TestAFileThatGrowsIsStillBounded(t *testing.T) {
	if _, err := photo.Prepare(oneFile{growing{}}, "log.jpg", photo.Options{MaxBytes: 1 << 20}); err == nil || !strings.Contains(err.Error(), "at most 1.0 MB") {
		t.Errorf("error %v", err)
	}
}

func TestAPanicIsToldAsWords(t *testing.T) {
	_, err := photo.Prepare(oneFile{panicking{}}, "p.jpg", photo.Options{})
	if err == nil || !strings.Contains(err.Error(), "its reader failed on it (out of range); it is damaged") {
		t.Errorf("error %v", err)
	}
}

package photo_test

import (
	"bytes"
	"encoding/binary"
	"image/color"
	"image/gif"
	"strings"
	"testing"

	"golang.org/x/image/bmp"
	"golang.org/x/image/tiff"

	"undersod/internal/photo"
)

// FuzzPrepare reads any bytes as a picture: either a whole picture comes out,
// or words.
func FuzzPrepare(f *testing.F) {
	m := scene(24, 16)
	var g, b, tf bytes.Buffer
	if gif.Encode(&g, m, nil) != nil || bmp.Encode(&b, m) != nil || tiff.Encode(&tf, m, nil) != nil {
		f.Fatal("no seeds")
	}
	png := asPNG(f, m)
	for _, seed := range [][]byte{
		withExif(asJPEG(f, m, 80), fullExif(binary.LittleEndian, 6)), inkJPEG([4]int{200, 40, 60, 220}),
		append(append(bytes.Clone(png[:33]), pngChunk("eXIf", fullExif(binary.BigEndian, 3))...), png[33:]...),
		g.Bytes(), b.Bytes(), tf.Bytes(), plainWebP(20, 10, color.RGBA{R: 9}, webpChunk("EXIF", fullExif(binary.BigEndian, 8))),
		nil, []byte("text"), []byte("\x00\x00\x00\x18ftypheic"), []byte("RIFF\x00\x00\x00\x00WEBP"), {0xFF, 0xD8, 0xFF},
	} {
		f.Add(seed)
	}
	o := photo.Options{LongSide: 8, MaxDots: 10_000, MaxBytes: 50_000, KeepLocation: true}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := photo.Prepare(folder(map[string][]byte{"p": data}), "p", o)
		if err != nil {
			if p.Picture != nil || !strings.HasPrefix(err.Error(), `photo "p": `) || strings.Contains(err.Error(), "its reader failed") {
				t.Fatalf("%v beside %v", err, p.Picture)
			}
			return
		}
		seen(t, p)
		if p.Picture.Wide > 8 || p.Picture.High > 8 {
			t.Fatalf("%d x %d dots", p.Picture.Wide, p.Picture.High)
		}
	})
}

// FuzzExif reads any bytes as EXIF data.
func FuzzExif(f *testing.F) {
	for _, order := range orders {
		f.Add(fullExif(order, 5))
	}
	f.Add([]byte("II*\x00\x08\x00\x00\x00\xff\xff"))
	f.Fuzz(func(t *testing.T, data []byte) {
		orientation, taken, location := photo.ReadExif(data)
		if orientation < 1 || orientation > 8 {
			t.Fatalf("orientation %d", orientation)
		}
		if taken != "" && len(taken) != len(fullTaken) || len(location) > len("180.00000 N, 180.00000 W") {
			t.Fatalf("taken %q at %q", taken, location)
		}
	})
}

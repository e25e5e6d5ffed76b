package photo

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/gif"
	"image/jpeg"
	"image/png"
	"io"
	"strings"
	"unicode/utf8"

	"golang.org/x/image/bmp"
	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"
)

// kind is a kind of picture file and its readers.
type kind struct {
	name   string
	config func(io.Reader) (image.Config, error)
	decode func(io.Reader) (image.Image, error)
	exif   func(data []byte) []byte // where its EXIF data lie, none for nil
	// perDot returns how many bytes its reader takes for a dot, at most.
	perDot func(data []byte) (float64, error)
}

// kinds are the kinds that are read, by how a file begins. A dot stands for any
// byte.
var kinds = []struct {
	start string
	kind
}{
	{"\xFF\xD8\xFF", kind{"JPEG", jpeg.DecodeConfig, decodeJPEG, jpegExif, jpegPerDot}},
	{"\x89PNG\r\n\x1a\n", kind{"PNG", png.DecodeConfig, png.Decode, pngExif, pngPerDot}},
	{"GIF87a", kind{"GIF", gif.DecodeConfig, gif.Decode, nil, always(1)}},
	{"GIF89a", kind{"GIF", gif.DecodeConfig, gif.Decode, nil, always(1)}},
	{"RIFF....WEBP", kind{"WebP", webp.DecodeConfig, webp.Decode, webpExif, always(8)}},
	{"II*\x00", kind{"TIFF", tiff.DecodeConfig, tiff.Decode, whole, always(16)}},
	{"MM\x00*", kind{"TIFF", tiff.DecodeConfig, tiff.Decode, whole, always(16)}},
	{"BM", kind{"BMP", bmp.DecodeConfig, bmp.Decode, nil, always(4)}},
}

func always(bytesPerDot float64) func([]byte) (float64, error) {
	return func([]byte) (float64, error) { return bytesPerDot, nil }
}

func whole(data []byte) []byte { return data }

// readKinds ends an error about a file of another kind.
const readKinds = "give a JPEG, PNG, GIF, WebP, TIFF or BMP picture"

// kindOf returns what kind of picture a file is by its content.
func kindOf(data []byte) (kind, error) {
	for _, k := range kinds {
		if begins(data, k.start) {
			if k.exif == nil {
				k.exif = func([]byte) []byte { return nil }
			}
			return k.kind, nil
		}
	}
	return kind{}, errors.New(otherKind(data))
}

func begins(data []byte, start string) bool {
	if len(data) < len(start) {
		return false
	}
	for i := range len(start) {
		if start[i] != '.' && start[i] != data[i] {
			return false
		}
	}
	return true
}

// Brands of the ISO base media file format for pictures (registered by the
// MP4 Registration Authority; from memory).
const (
	heicBrands = "heic heix heim heis hevc hevx hevm hevs mif1 msf1"
	avifBrands = "avif avis"
)

// otherKind says what a file is that is none of the kinds that are read.
func otherKind(data []byte) string {
	switch {
	case begins(data, "....ftyp") && len(data) >= 12:
		brand := string(data[8:12])
		switch {
		case strings.Contains(heicBrands, brand):
			return "it is a HEIC picture, which is not read here; save or send it as JPEG. In the settings of a phone's camera, look for a format named JPEG or most compatible for the next ones"
		case strings.Contains(avifBrands, brand):
			return "it is an AVIF picture, which is not read here; " + saveAnew
		}
		return "it is a film or another medium, not a picture; " + readKinds
	case begins(data, "%PDF"):
		return "it is a PDF; save the page or the picture in it as JPEG"
	case isText(data):
		return "it is a text, not a picture; " + readKinds
	}
	return fmt.Sprintf("it begins with the bytes % X, as no kind of picture that is read here; %s", data[:min(len(data), 8)], readKinds)
}

// isText reports whether the start of a file is plain text.
func isText(data []byte) bool {
	start := data[:min(len(data), 512)]
	for len(start) > 0 {
		r, n := utf8.DecodeRune(start)
		cut := n == 1 && len(start) < utf8.UTFMax && len(data) > 512
		if r == utf8.RuneError && !cut || r < ' ' && !strings.ContainsRune("\t\r\n\f", r) {
			return false
		}
		start = start[n:]
	}
	return true
}

// mostMemory is the most that reading one picture may take, in bytes.
const mostMemory = 400_000_000

// memory reads the size of a picture and returns how many bytes reading its
// dots takes, at most. One that is too large is refused before any are read.
func (k kind) memory(data []byte, mostDots int) (int64, error) {
	c, err := k.config(bytes.NewReader(data))
	if err != nil {
		return 0, k.damaged(data, err)
	}
	if c.Width <= 0 || c.Height <= 0 {
		return 0, fmt.Errorf("its size is %d x %d dots; it is damaged: %s", c.Width, c.Height, copyAgain)
	}
	dots := float64(c.Width) * float64(c.Height)
	perDot, err := k.perDot(data)
	if err != nil {
		return 0, err
	}
	if dots > float64(mostDots) || dots*perDot > mostMemory {
		return 0, fmt.Errorf("it has %d x %d dots, which is %.1f million; at most %.1f million are read of such a %s; %s with fewer dots",
			c.Width, c.Height, dots/1e6, min(float64(mostDots), mostMemory/perDot)/1e6, k.name, saveAnew)
	}
	return int64(dots * perDot), nil
}

// dots reads the picture.
func (k kind) dots(data []byte) (image.Image, error) {
	m, err := k.decode(bytes.NewReader(data))
	if err != nil {
		return nil, k.damaged(data, err)
	}
	return m, nil
}

// damaged turns the error of a reader into words.
func (k kind) damaged(data []byte, err error) error {
	var jpegKind jpeg.UnsupportedError
	var pngKind png.UnsupportedError
	var tiffKind tiff.UnsupportedError
	switch {
	case errors.As(err, &jpegKind), errors.As(err, &pngKind), errors.As(err, &tiffKind), errors.Is(err, bmp.ErrUnsupported):
		return fmt.Errorf("it is a %s of a kind that is not read here (%w); %s", k.name, err, saveAnew)
	case errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, io.EOF),
		k.name == "JPEG" && !ended(data), k.name == "PNG" && !bytes.Contains(data, []byte("IEND")):
		return fmt.Errorf("its %d bytes end in the middle of the %s; %s", len(data), k.name, copyAgain)
	}
	return fmt.Errorf("it is a damaged %s (%w); %s", k.name, err, copyAgain)
}

package photo

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/jpeg"
	"io"
)

// Markers of a JPEG (ITU-T T.81, 1992, table B.1).
const (
	startOfScan  = 0xDA
	endOfPicture = 0xD9
	appOne       = 0xE1
)

// decodeJPEG reads a JPEG, also one that lacks nothing but the mark at its end.
func decodeJPEG(r io.Reader) (image.Image, error) {
	return jpeg.Decode(io.MultiReader(r, bytes.NewReader([]byte{0xFF, endOfPicture})))
}

// ended reports whether a JPEG ends as it should, but for zeros after it.
func ended(data []byte) bool {
	return bytes.HasSuffix(bytes.TrimRight(data, "\x00"), []byte{0xFF, endOfPicture})
}

// eachSegment calls visit with the marker and the content of each segment of a
// JPEG until visit returns false, the picture ends or the file makes no sense.
func eachSegment(data []byte, visit func(marker byte, content []byte) bool) {
	for at := 2; ; {
		skip := bytes.IndexByte(data[min(at, len(data)):], 0xFF)
		if skip < 0 {
			return
		}
		at += skip + 1
		for at < len(data) && data[at] == 0xFF {
			at++
		}
		if at >= len(data) || data[at] == endOfPicture {
			return
		}
		marker := data[at]
		at++
		if marker == 0 || marker == 1 || marker >= 0xD0 && marker <= 0xD7 {
			continue // a stuffed byte or a mark without content
		}
		if at+2 > len(data) {
			return
		}
		size := int(binary.BigEndian.Uint16(data[at:]))
		if size < 2 || at+size > len(data) {
			return
		}
		if !visit(marker, data[at+2:at+size]) {
			return
		}
		at += size
	}
}

// exifStart comes before EXIF data in a JPEG.
const exifStart = "Exif\x00\x00"

func jpegExif(data []byte) []byte {
	var found []byte
	eachSegment(data, func(marker byte, content []byte) bool {
		if rest, ok := bytes.CutPrefix(content, []byte(exifStart)); ok && marker == appOne {
			found = rest
		}
		return found == nil && marker != startOfScan
	})
	return found
}

// mostScans is how many passes over its dots a JPEG may have. Common ones have
// one or about ten; one with thousands is made to keep a reader busy.
const mostScans = 40

// jpegPerDot returns what the reader takes for a dot: a byte for each sample,
// four more for each where the picture comes in passes, and four for colours
// that are not stored as light and two differences.
func jpegPerDot(data []byte) (float64, error) {
	scans, perDot := 0, 4.0
	eachSegment(data, func(marker byte, content []byte) bool {
		switch {
		case marker == startOfScan:
			scans++
		case marker >= 0xC0 && marker <= 0xC2:
			perDot = samplesPerDot(content)
			if marker == 0xC2 {
				perDot *= 5
			}
		}
		return scans <= mostScans
	})
	if scans > mostScans {
		return 0, fmt.Errorf("it is a JPEG of more than %d passes; %s", mostScans, saveAnew)
	}
	return perDot, nil
}

// samplesPerDot reads the head of a frame (ITU-T T.81, 1992, B.2.2).
func samplesPerDot(frame []byte) float64 {
	const fixed, each, most = 6, 3, 4
	if len(frame) < fixed {
		return most
	}
	n := int(frame[5])
	if n < 1 || n > most || len(frame) < fixed+each*n {
		return most
	}
	var sum, widest, highest int
	for i := range n {
		across, down := int(frame[fixed+each*i+1]>>4), int(frame[fixed+each*i+1]&15)
		sum += across * down
		widest, highest = max(widest, across), max(highest, down)
	}
	if sum == 0 {
		return most
	}
	perDot := float64(sum) / float64(widest*highest)
	if n != 1 && (n == 4 || sum == 3*widest*highest) {
		perDot += 4 // perhaps stored as red, green and blue, or as inks
	}
	return perDot
}

package holding

import (
	"bytes"
	"image/jpeg"

	"undersod/internal/archive"
)

// keeping leaves a picture as it is, byte for byte, where it is one that the
// archive could have written itself: a JPEG of the size that is kept, whole, and
// with nothing in it but its dots. A site that goes from one archive to the
// next thus loses nothing. Every picture is read all the same, and every other
// is written anew.
func keeping(rewrite archive.Rewrite) archive.Rewrite {
	return func(picture []byte) (full, thumbnail []byte, width, height int, err error) {
		full, thumbnail, width, height, err = rewrite(picture)
		if err == nil && bare(picture) && sized(picture, width, height) {
			full = picture
		}
		return full, thumbnail, width, height, err
	}
}

func sized(picture []byte, width, height int) bool {
	c, err := jpeg.DecodeConfig(bytes.NewReader(picture))
	return err == nil && c.Width == width && c.Height == height
}

// Markers of a JPEG (ITU-T T.81, 1992, table B.1).
const (
	sof0, dht, soi, eoi, sos, dqt = 0xc0, 0xc4, 0xd8, 0xd9, 0xda, 0xdb
)

// bare reports whether a JPEG is baseline, has one scan, and holds no segment
// but frame, tables and scan, nor anything behind its end.
func bare(b []byte) bool {
	if len(b) < 4 || b[0] != 0xff || b[1] != soi {
		return false
	}
	for b = b[2:]; len(b) >= 4 && b[0] == 0xff; {
		length := 2 + int(b[2])<<8 + int(b[3])
		if length < 4 || length > len(b) {
			return false
		}
		switch b[1] {
		case sof0, dht, dqt:
			b = b[length:]
		case sos:
			return endsAt(b[length:])
		default:
			return false
		}
	}
	return false
}

// endsAt reports whether the first marker in the data of a scan is the end of
// the picture, and stands at the end of the bytes.
func endsAt(scan []byte) bool {
	for {
		at := bytes.IndexByte(scan, 0xff)
		if at < 0 || at+1 >= len(scan) {
			return false
		}
		if scan[at+1] != 0 { // 0 stands for a byte 0xff of the data
			return scan[at+1] == eoi && at+2 == len(scan)
		}
		scan = scan[at+2:]
	}
}

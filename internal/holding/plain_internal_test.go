package holding

import (
	"bytes"
	"errors"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"testing"
)

// drawn is a picture of noise.
func drawn(t testing.TB, side int) []byte {
	t.Helper()
	m, r := image.NewGray(image.Rect(0, 0, side, side)), rand.New(rand.NewPCG(1, 2))
	for i := range m.Pix {
		m.Pix[i] = byte(r.Uint32())
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// hidden puts a segment behind the first marker of a JPEG.
func hidden(b []byte, marker byte, content string) []byte {
	segment := append([]byte{0xff, marker, 0, byte(2 + len(content))}, content...)
	return append(append(bytes.Clone(b[:2]), segment...), b[2:]...)
}

func TestBare(t *testing.T) {
	plain := drawn(t, 64)
	torn := plain[:len(plain)-40]
	for name, c := range map[string]struct {
		b    []byte
		want bool
	}{
		"plain": {plain, true}, "nothing": {nil, false}, "torn": {torn, false}, "torn in its head": {plain[:30], false},
		"with Exif": {hidden(plain, 0xe1, "Exif\x00\x00"), false}, "with a comment": {hidden(plain, 0xfe, "here"), false},
		"with more behind": {append(bytes.Clone(plain), "PK\x03\x04"...), false}, "two pictures": {append(bytes.Clone(plain), plain...), false},
		"no picture": {[]byte("undersod: 1\n"), false}, "a length past the end": {[]byte{0xff, soi, 0xff, dqt, 0xff, 0xff}, false},
		"a length of nothing": {[]byte{0xff, soi, 0xff, dqt, 0, 0, 0xff, eoi}, false},
	} {
		if got := bare(c.b); got != c.want {
			t.Errorf("%s: %v", name, got)
		}
	}
}

func TestKeeping(t *testing.T) {
	plain := drawn(t, 64)
	rewrite := func(width int, err error) func([]byte) ([]byte, []byte, int, int, error) {
		return keeping(func([]byte) ([]byte, []byte, int, int, error) {
			return []byte("anew"), []byte("small"), width, 64, err
		})
	}
	for name, c := range map[string]struct {
		picture []byte
		width   int
		want    string
	}{
		"as the archive writes it": {plain, 64, string(plain)}, "made smaller": {plain, 32, "anew"}, "with Exif": {hidden(plain, 0xe1, "Exif"), 64, "anew"},
	} {
		full, small, _, _, err := rewrite(c.width, nil)(c.picture)
		if string(full) != c.want || string(small) != "small" || err != nil {
			t.Errorf("%s: %.10q, %q, %v", name, full, small, err)
		}
	}
	if _, _, _, _, err := rewrite(64, errors.New("no picture"))(plain); err == nil {
		t.Error("a picture that cannot be read was taken")
	}
}

// FuzzBare holds that no bytes break it, and that what is bare ends at its end.
func FuzzBare(f *testing.F) {
	f.Add(drawn(f, 16))
	f.Add([]byte{0xff, soi, 0xff, sos, 0, 2, 0xff, eoi})
	f.Fuzz(func(t *testing.T, b []byte) {
		if bare(b) && !bytes.HasSuffix(b, []byte{0xff, eoi}) {
			t.Errorf("%x", b)
		}
	})
}

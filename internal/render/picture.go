package render

import (
	"bytes"
	"encoding/base64"
	"errors"
	"fmt"
	"hash/fnv"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"strings"

	"golang.org/x/image/draw"

	"undersod/core/sheet"
)

// mostDots is the largest picture that is drawn, in dots: decoded it takes 160
// MB of memory.
const mostDots = 40_000_000

func checkImage(v sheet.Image) error {
	if err := checkPos("its place", v.At); err != nil {
		return err
	}
	if !(v.Width > 0 && v.Width <= largestSheet) || !(v.Height > 0 && v.Height <= largestSheet) {
		return fmt.Errorf("it is %v x %v mm; give a width and a height above 0 and up to %v mm, as 80 x 60", v.Width, v.Height, largestSheet)
	}
	return checkPicture(v.Picture)
}

// checkPicture compares what is said of a picture with the head of its file,
// because a viewer trusts the former.
func checkPicture(p *sheet.Picture) error {
	if p == nil {
		return errors.New("it has no picture")
	}
	head, err := jpeg.DecodeConfig(bytes.NewReader(p.JPEG))
	if err != nil {
		return fmt.Errorf("its picture is no JPEG: %w", err)
	}
	if head.Width != p.Wide || head.Height != p.High {
		return fmt.Errorf("its picture is said to have %d x %d dots, but its file has %d x %d", p.Wide, p.High, head.Width, head.Height)
	}
	if grey := head.ColorModel == color.GrayModel; grey != p.Grey || head.ColorModel == color.CMYKModel {
		return errors.New("its picture has other colours than are said; give a grey JPEG with Grey set, or one in red, green and blue without")
	}
	if head.Width*head.Height > mostDots {
		return fmt.Errorf("its picture has %d x %d dots; at most %d million can be drawn", p.Wide, p.High, mostDots/1_000_000)
	}
	return nil
}

// pictureNumbers numbers pictures in the order of their first use.
type pictureNumbers map[*sheet.Picture]int

// eachImage calls visit for every image of a scene, in drawing order.
func eachImage(s sheet.Scene, visit func(sheet.Image)) {
	for _, l := range s.Layers {
		for _, shape := range l.Shapes {
			if v, ok := shape.(sheet.Image); ok {
				visit(v)
			}
		}
	}
}

// pictures adds each picture of the scenes once, as the JPEG that it is.
func (d *pdfDocument) pictures(scenes []sheet.Scene) (pictureNumbers, []pdfRef) {
	numbers := pictureNumbers{}
	var refs []pdfRef
	for _, s := range scenes {
		eachImage(s, func(v sheet.Image) {
			p := v.Picture
			if _, known := numbers[p]; known {
				return
			}
			numbers[p] = len(refs)
			colours := "RGB"
			if p.Grey {
				colours = "Gray"
			}
			refs = append(refs, d.packed(fmt.Sprintf("/Type /XObject /Subtype /Image /Width %d /Height %d /ColorSpace /Device%s"+
				" /BitsPerComponent 8 /Filter /DCTDecode ", p.Wide, p.High, colours), p.JPEG))
		})
	}
	return numbers, refs
}

// shown returns the entry of a page's resources for its pictures.
func shown(s sheet.Scene, numbers pictureNumbers, refs []pdfRef) string {
	var b strings.Builder
	seen := map[int]bool{}
	eachImage(s, func(v sheet.Image) {
		if n := numbers[v.Picture]; !seen[n] {
			seen[n] = true
			fmt.Fprintf(&b, "/P%d %s ", n, refs[n])
		}
	})
	if b.Len() == 0 {
		return ""
	}
	return " /XObject << " + b.String() + ">>"
}

// pdfImage sets a picture, with what it shows as its alternate description
// (ISO 32000-1:2008, 14.9.3).
func pdfImage(b *strings.Builder, v sheet.Image, n int) {
	set := fmt.Sprintf("q %s 0 0 %s %s cm /P%d Do Q\n", number(float64(v.Width)), number(-float64(v.Height)),
		place(sheet.Pos{X: v.At.X, Y: v.At.Y + v.Height}), n)
	if v.Name != "" {
		set = "/Span << /Alt " + pdfText(v.Name) + " >> BDC\n" + set + "EMC\n"
	}
	b.WriteString(set)
}

// svgPictures defines each picture of a scene once, one millimetre square.
func svgPictures(b *strings.Builder, s sheet.Scene) {
	seen := map[string]bool{}
	eachImage(s, func(v sheet.Image) {
		id := svgPicture(v.Picture)
		if seen[id] {
			return
		}
		seen[id] = true
		fmt.Fprintf(b, `<defs><image xmlns:xlink="http://www.w3.org/1999/xlink" id="%s" width="1" height="1" preserveAspectRatio="none"`+
			` xlink:href="data:image/jpeg;base64,%s"/></defs>`+"\n", id, base64.StdEncoding.EncodeToString(v.Picture.JPEG))
	})
}

// svgPicture returns a name that depends on the picture alone, so that two
// sheets on one page of HTML do not show each other's pictures.
func svgPicture(p *sheet.Picture) string {
	h := fnv.New128a()
	h.Write(p.JPEG) // never fails
	return fmt.Sprintf("picture-%x", h.Sum(nil))
}

func svgImage(b *strings.Builder, v sheet.Image) {
	name := ""
	if v.Name != "" {
		name = svgName(v.Name) + ` role="img" aria-label="` + xmlEscape(v.Name) + `"`
	}
	fmt.Fprintf(b, `<use xmlns:xlink="http://www.w3.org/1999/xlink"%s transform="translate(%s) scale(%s)" xlink:href="#%s"/>`+"\n",
		name, place(v.At), place(sheet.Pos{X: v.Width, Y: v.Height}), svgPicture(v.Picture))
}

// image draws a picture into its rectangle, to the nearest pixel.
func (c *canvas) image(v sheet.Image) error {
	from, ok := c.decoded[v.Picture]
	if !ok {
		var err error
		if from, err = jpeg.Decode(bytes.NewReader(v.Picture.JPEG)); err != nil {
			return fmt.Errorf("its picture cannot be read: %w", err)
		}
		c.decoded[v.Picture] = from
	}
	corner := func(p sheet.Pos) image.Point {
		q := c.pixel(p)
		return image.Pt(int(math.Round(q.X)), int(math.Round(q.Y)))
	}
	to := image.Rectangle{Min: corner(v.At), Max: corner(sheet.Pos{X: v.At.X + v.Width, Y: v.At.Y + v.Height})}
	for from.Bounds().Dx() > 2*to.Dx() && from.Bounds().Dy() > 2*to.Dy() && to.Dx() > 0 && to.Dy() > 0 {
		from = halved(from)
	}
	draw.ApproxBiLinear.Scale(c.picture, to, from, from.Bounds(), draw.Src, nil)
	return nil
}

// halved returns a picture of half the size whose dots are the means of four.
// An approximate filter looks at few dots, so that a picture must first come
// near its size on paper.
func halved(from image.Image) image.Image {
	size := from.Bounds().Size().Div(2)
	out := image.NewRGBA(image.Rectangle{Max: size})
	// At exactly half the size each dot is taken between four.
	draw.ApproxBiLinear.Scale(out, out.Bounds(), from, image.Rectangle{from.Bounds().Min, from.Bounds().Min.Add(size.Mul(2))}, draw.Src, nil)
	return out
}

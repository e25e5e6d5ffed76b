package flow

import (
	"rsc.io/qr"

	"undersod/core/sheet"
)

// The measures of a code (ISO/IEC 18004:2015 asks for a quiet zone of four
// modules; from memory): no module smaller than a phone reads well from paper.
const (
	quietZone              = 4
	leastModule   sheet.MM = 0.5
	largestModule sheet.MM = 0.8
)

// Code is a QR code and how large it is drawn, quiet zone included.
type Code struct {
	modules *qr.Code
	module  sheet.MM
	Side    sheet.MM
}

// NewCode chooses the strongest error correction with which a text fits the
// room, and the weakest where none does; the code is then larger than the room.
// False where the text is empty or too long for any code.
func NewCode(text string, room sheet.MM) (Code, bool) {
	var last Code
	for _, level := range []qr.Level{qr.Q, qr.M, qr.L} {
		c, err := qr.Encode(text, level)
		if err != nil || text == "" {
			continue
		}
		wide := sheet.MM(c.Size + 2*quietZone)
		last = Code{c, min(max(room/wide, leastModule), largestModule), 0}
		last.Side = last.module * wide
		if last.Side <= room+1e-9 {
			break
		}
	}
	return last, last.modules != nil
}

// Draw fills the dark modules, those side by side as one piece.
func (c Code) Draw(l *Page, at sheet.Pos) {
	black := sheet.Colour{}
	p := sheet.Path{Fill: &black, Name: "QR code"}
	place := func(x, y int) sheet.Pos {
		return sheet.Pos{X: at.X + sheet.MM(x+quietZone)*c.module, Y: at.Y + sheet.MM(y+quietZone)*c.module}
	}
	for y := range c.modules.Size {
		for x := 0; x < c.modules.Size; x++ {
			if !c.modules.Black(x, y) {
				continue
			}
			end := x
			for end < c.modules.Size && c.modules.Black(end, y) {
				end++
			}
			p.Runs = append(p.Runs, sheet.Run{Start: place(x, y), Closed: true, Pieces: []sheet.Piece{
				{To: place(end, y)}, {To: place(end, y+1)}, {To: place(x, y+1)},
			}})
			x = end
		}
	}
	l.Put(p)
}

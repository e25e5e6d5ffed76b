package flow

import (
	"strings"

	"undersod/core/sheet"
)

// Picture is a photograph with the words below it.
type Picture struct {
	Picture *sheet.Picture
	Words   string
}

// Pictures sets pictures side by side in rows, so many across, all their
// aspects kept. One without width or height is left out.
func (f *Flow) Pictures(all []Picture, across int) {
	var row []Picture
	for i, p := range all {
		if p.Picture != nil && p.Picture.Wide > 0 && p.Picture.High > 0 {
			row = append(row, p)
		}
		if len(row) == across || i == len(all)-1 && len(row) > 0 {
			it, rest := f.pictureRow(row, across)
			f.Add(it)
			for _, words := range rest {
				f.Note(words)
			}
			row = nil
		}
	}
}

// pictureSet is a picture with its place in a row.
type pictureSet struct {
	Picture
	w, h  sheet.MM
	lines []string
}

// pictureRow makes a row, and returns the words that find no room below its
// pictures.
func (f *Flow) pictureRow(row []Picture, across int) (it Item, rest []string) {
	const between sheet.MM = 4
	words := f.Small.In(Ink)
	each := (f.Width - between*sheet.MM(across-1)) / sheet.MM(across)
	highest := min(0.28*f.Room, each)
	most := max(int(0.4*f.Room/f.M.Lead(words)), 1)
	var sets []pictureSet
	var tall, deep sheet.MM
	for _, p := range row {
		scale := min(each/sheet.MM(p.Picture.Wide), highest/sheet.MM(p.Picture.High))
		s := pictureSet{p, scale * sheet.MM(p.Picture.Wide), scale * sheet.MM(p.Picture.High), f.M.Wrap(Tidy(p.Words), words, each)}
		if len(s.lines) > most {
			rest = append(rest, strings.Join(s.lines[most:], " "))
			s.lines = s.lines[:most]
		}
		sets = append(sets, s)
		tall, deep = max(tall, s.h), max(deep, 1+sheet.MM(len(s.lines))*f.M.Lead(words))
	}
	return Item{Height: tall + deep, Before: 1.1 * f.Text.Size, Draw: func(l *Page, at sheet.Pos) {
		for i, s := range sets {
			x := at.X + sheet.MM(i)*(each+between)
			l.Put(sheet.Image{At: sheet.Pos{X: x, Y: at.Y + tall - s.h}, Width: s.w, Height: s.h, Picture: s.Picture.Picture, Name: Tidy(s.Words)})
			for k, line := range s.lines {
				l.Write(sheet.Pos{X: x, Y: at.Y + tall + 1 + f.M.Rise(words) + sheet.MM(k)*f.M.Lead(words)}, line, words, sheet.AlignLeft)
			}
		}
	}}, rest
}

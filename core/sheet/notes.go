package sheet

import (
	"fmt"
	"strconv"
)

// blocksFor lists the blocks of the panel at a column width, in their order:
// the scale first, the long tables after what must never be left out.
func (f *facts) blocksFor(width MM) []block {
	if b, ok := f.blocks[width]; ok {
		return b
	}
	b := []block{
		f.bearings(width), f.numbers(width), f.tieTable(width), f.legend(width),
		f.paragraphs("Not located", f.c.lost, width, "part", clay),
		f.paragraphs("Notes", f.notes(), width, "note", ink),
		f.paragraphs("About this drawing", f.about(), width, "", ink),
	}
	f.blocks[width] = b
	return b
}

func (f *facts) notes() []string {
	var out []string
	for _, n := range f.c.job.Visit.Notes {
		if n = clean(n); n != "" {
			out = append(out, n)
		}
	}
	return out
}

// paragraphs makes a block of texts; noun names one that may be left out.
func (f *facts) paragraphs(head string, texts []string, width MM, noun string, c Colour) block {
	b := block{head: head, noun: noun}
	for _, t := range texts {
		lines := f.m.wrap(t, Regular, sizeFine, width)
		for len(lines) > 0 { // a text longer than a column is torn between its lines
			n := min(len(lines), 8)
			b.rows = append(b.rows, f.textRow(lines[:n], c, len(lines) == n))
			lines = lines[n:]
		}
	}
	return b
}

func (f *facts) textRow(lines []string, c Colour, last bool) row {
	lead := f.m.lead(Regular, sizeFine)
	h := MM(len(lines)) * lead
	if last {
		h += 0.9
	}
	return row{h, func(k *furniture, in rect) {
		for i, l := range lines {
			k.write(in.X0, in.Y0+MM(i)*lead, l, Regular, sizeFine, c)
		}
	}}
}

// numbers is the list of the labels that stand on the drawing as numbers. Its
// room is kept by words; what it prints is known when the labels are placed.
func (f *facts) numbers(width MM) block {
	b := block{head: "Numbers on the drawing"}
	if len(f.room) == 0 {
		return b
	}
	const indent MM = 6
	lead := f.m.lead(Regular, sizeTable)
	n := 0
	for _, words := range f.room {
		n += len(f.m.wrap(words+noRoom, Regular, sizeTable, width-indent))
	}
	b.rows = []row{{MM(n)*lead + 0.6, func(k *furniture, in rect) {
		y := in.Y0
		for _, key := range f.keys {
			words := key.words
			if !key.shown {
				words += noRoom
			}
			k.write(in.X0, y, strconv.Itoa(key.number), Bold, sizeTable, ink)
			for _, l := range f.m.wrap(words, Regular, sizeTable, width-indent) {
				k.write(in.X0+indent, y, l, Regular, sizeTable, ink)
				y += lead
			}
		}
	}}}
	return b
}

// noRoom follows a label for which not even its number found room.
const noRoom = " (no room for the number)"

// continued tells what was left out for want of paper.
func continued(lost int) string {
	return fmt.Sprintf("Continued: %d more in the check.", lost)
}

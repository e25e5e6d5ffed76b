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
	still, ok := f.still[width]
	if !ok { // what no change of the drawing changes
		still = [3]block{
			f.tieTable(width),
			f.paragraphs("Not located or in doubt", f.c.lost, width, "part", clay),
			f.paragraphs("Notes", f.notes(), width, "note", ink),
		}
		f.still[width] = still
	}
	b := []block{
		f.bearings(width), f.numbers(width), still[0], f.legend(width), still[1],
		f.paragraphs("Beyond the drawing", f.beyond, width, "part", ink),
		f.paragraphs("Where the distances come from", f.c.sources, width, "source", ink), still[2],
		f.paragraphs("About this drawing", f.about(), width, "", ink),
	}
	b[len(b)-1].whole = true
	f.blocks[width] = b
	return b
}

func (f *facts) notes() []string {
	var out []string
	for _, n := range f.c.job.Visit.Notes {
		if n = tidy(n); n != "" {
			out = append(out, n)
		}
	}
	return out
}

// paragraphs makes a block of texts; noun names one that may be left out.
func (f *facts) paragraphs(head string, texts []string, width MM, noun string, c Colour) block {
	made, more := within(len(texts))
	b := block{head: head, noun: noun, more: more}
	for _, t := range texts[:made] {
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
	made, more := within(len(f.room))
	b := block{head: "Numbers on the drawing", noun: "number", more: more}
	const indent MM = 6
	lead := f.m.lead(Regular, sizeTable)
	for i, words := range f.room[:made] {
		n := len(f.m.wrap(words+noRoom, Regular, sizeTable, width-indent))
		b.rows = append(b.rows, row{MM(n) * lead, func(k *furniture, in rect) {
			key, ok := k.facts.keyAt(i)
			if !ok {
				return
			}
			k.write(in.X0, in.Y0, strconv.Itoa(key.number), Bold, sizeTable, ink)
			for j, l := range f.m.wrap(key.told(), Regular, sizeTable, width-indent) {
				k.write(in.X0+indent, in.Y0+MM(j)*lead, l, Regular, sizeTable, ink)
			}
		}})
	}
	return b
}

// keyAt returns the number that stands at entry i of the list: labels of the
// same words take their entries in turn.
func (f *facts) keyAt(i int) (keyed, bool) {
	before := 0
	for _, w := range f.room[:i] {
		if w == f.room[i] {
			before++
		}
	}
	for _, k := range f.keys {
		if k.words == f.room[i] {
			if before == 0 {
				return k, true
			}
			before--
		}
	}
	return keyed{}, false
}

// told returns the words of a number's entry.
func (k keyed) told() string {
	if k.shown {
		return k.words
	}
	return k.words + noRoom
}

// noRoom follows a label for which not even its number found room.
const noRoom = " (no room for the number)"

// continued tells what was left out for want of paper.
func continued(lost int) string {
	return fmt.Sprintf("Continued: %d more in the check.", lost)
}

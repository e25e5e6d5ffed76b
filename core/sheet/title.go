package sheet

// field is one entry of the title block; one that is kept is shown as an empty
// line to be filled in by hand when there is nothing to print.
type field struct {
	label, value string
	kept         bool
}

func (f *facts) fields() []field {
	s, v := &f.c.job.Site, &f.c.job.Visit
	all := []field{
		{"Address", s.Address, true},
		{"County", s.County, true},
		{"Parcel", s.Parcel, false},
		{"Owner", s.Owner, true},
		{"Permit no.", s.Permit, true},
		{"Authority", s.Authority, false},
		{"Fieldwork", v.Date, true},
		{"Measured by", v.By, true},
		{"Company", v.Company, true},
		{"Licence no.", v.Licence, true},
		{"Datum", f.datum(), false},
	}
	var out []field
	for _, e := range all {
		if e.value = clean(e.value); e.value != "" || e.kept {
			out = append(out, e)
		}
	}
	return out
}

// titleRow returns the title block at a column width, made once.
func (f *facts) titleRow(width MM) row {
	r, ok := f.titles[width]
	if !ok {
		r = f.titleBlock(width).rows[0]
		f.titles[width] = r
	}
	return r
}

// titleBlock is the block with what the sheet is and who made it.
func (f *facts) titleBlock(width MM) block {
	const inset MM = 2
	w := width - 2*inset
	var rows []row
	if s := f.c.stamp(); s != "" {
		rows = append(rows, f.stamped(s, w))
	}
	rows = append(rows, paragraph(f.m, f.title(), Bold, sizeTitle, w, ink))
	if name := clean(f.c.job.Site.Name); name != "" {
		rows = append(rows, paragraph(f.m, name, Bold, 3.1, w, clay))
	}
	across := 1
	if w >= 110 {
		across = 2
	}
	each := (w - 4*MM(across-1)) / MM(across)
	var fields []row
	for _, e := range f.fields() {
		fields = append(fields, f.field(e, each))
	}
	fields = append(fields, f.scaleField(each))
	half := (len(fields) + across - 1) / across
	for i := range half {
		pair := []row{fields[i]}
		if across == 2 && half+i < len(fields) {
			pair = append(pair, fields[half+i])
		}
		rows = append(rows, sideBySide(pair, each, 4))
	}
	return block{rows: []row{boxed(rows, inset)}, whole: true}
}

// boxed puts rows into a frame with a bold edge at its top.
func boxed(rows []row, inset MM) row {
	return row{heightOf(rows) + 2*inset, func(k *furniture, in rect) {
		k.frame(in, 0.25, ink)
		k.line(Pos{in.X0, in.Y0}, Pos{in.X1, in.Y0}, 1, soil)
		y := in.Y0 + inset
		for _, r := range rows {
			r.draw(k, rect{in.X0 + inset, y, in.X1 - inset, y + r.height})
			y += r.height
		}
	}}
}

// fieldLabel is the width of the labels in the title block.
const fieldLabel MM = 19

func (f *facts) field(e field, width MM) row {
	lines := f.m.wrap(e.value, Regular, sizeTable, width-fieldLabel)
	lead := f.m.lead(Regular, sizeTable)
	return row{max(MM(len(lines)), 1)*lead + 0.5, func(k *furniture, in rect) {
		k.write(in.X0, in.Y0, e.label, Regular, sizeTable, stone)
		for i, l := range lines {
			k.write(in.X0+fieldLabel, in.Y0+MM(i)*lead, l, Regular, sizeTable, ink)
		}
		if len(lines) == 0 {
			k.line(Pos{in.X0 + fieldLabel, in.Y1 - 0.8}, Pos{in.X1, in.Y1 - 0.8}, 0.15, stone)
		}
	}}
}

// scaleField is the field whose words are known only when the scale is chosen.
func (f *facts) scaleField(width MM) row {
	lead := f.m.lead(Regular, sizeTable)
	return row{lead + 0.5, func(k *furniture, in rect) {
		k.write(in.X0, in.Y0, "Scale", Regular, sizeTable, stone)
		k.write(in.X0+fieldLabel, in.Y0, f.say.scale(k.facts.scale), Regular, sizeTable, ink)
	}}
}

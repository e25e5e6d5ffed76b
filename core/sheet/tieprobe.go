package sheet

// probed lists the tanks found with a probe.
func (f *facts) probed() []tieRow {
	var out []tieRow
	for _, o := range f.c.plan.Outlines {
		if o.Fitted && f.c.outlined(o.Part) {
			size := f.say.length(o.Length) + " x " + f.say.length(o.Width)
			out = append(out, tieRow{name: clean(string(o.Part)), cells: []string{"outline from " + count(len(o.Hits), "probe hit") + ", " + size}})
		}
	}
	return out
}

package sheet

import (
	"strings"

	"undersod/core/adjust"
	"undersod/core/site"
)

// stamp says in capitals why the drawing is not final; empty where it is, or
// where the plan carries no verdict.
func (c *content) stamp() string {
	const head = "NOT FINAL: "
	switch v := c.plan.Verdict; {
	case v.Words == "" || v.Fill == adjust.FillYes:
		return ""
	case v.Fill == adjust.FillUnsure:
		return head + "not everything is checked"
	}
	var why []string
	if c.disagree() {
		why = append(why, "readings disagree")
	}
	if c.open() {
		why = append(why, "not everything is located")
	}
	if len(why) == 0 {
		why = append(why, "see the check")
	}
	return head + strings.Join(why, "; ")
}

// disagree tells whether the readings contradict each other.
func (c *content) disagree() bool {
	s := &c.plan.Search
	if len(s.Accused) > 0 || s.Unexplained {
		return true
	}
	for i := range c.plan.Readings {
		if c.plan.Readings[i].Flagged {
			return true
		}
	}
	return false
}

// open tells whether a buried part or the bend of a line is not located.
func (c *content) open() bool {
	for _, p := range c.plan.Points {
		buried := p.Role == site.RolePart || p.Role == site.RoleHit || c.OnLine(p.Name)
		if buried && c.Given(p.Name) && p.State != adjust.Determined {
			return true
		}
	}
	for _, o := range c.plan.Outlines {
		if !o.Fitted {
			return true
		}
	}
	return false
}

// stamped makes a row of light letters on a dark bar, which reads the same
// without colour.
func (f *facts) stamped(text string, width MM) row {
	const inset MM = 1.6
	lines := f.m.wrap(text, Bold, sizeStamp, width-2*inset)
	lead := f.m.lead(Bold, sizeStamp)
	return row{MM(len(lines))*lead + 2*inset + 1.2, func(k *furniture, in rect) {
		k.put(Path{Runs: []Run{straight([]Pos{{in.X0, in.Y0}, {in.X1, in.Y0}, {in.X1, in.Y1 - 1.2}, {in.X0, in.Y1 - 1.2}}, true)}, Fill: &ink})
		for i, l := range lines {
			k.write(in.X0+inset, in.Y0+inset+MM(i)*lead, l, Bold, sizeStamp, paper)
		}
	}}
}

package sheet

import (
	"undersod/core/adjust"
	"undersod/core/site"
	"undersod/core/ties"
)

// missing lists what could not be drawn as located, and what is in doubt.
func (c *content) missing() {
	switch v := c.plan.Verdict; {
	case v.Words == "": // no verdict was given
	case v.Fill == adjust.FillNo:
		c.lost = append(c.lost, "Not final: readings disagree, or a part is not located. See the check.")
	case v.Fill == adjust.FillUnsure:
		c.lost = append(c.lost, "Not everything is checked: see the check.")
	}
	for _, p := range c.plan.Points {
		if !c.Given(p.Name) || p.Role == site.RoleHit {
			continue
		}
		if words := c.lacks(p); words != "" {
			c.lost = append(c.lost, clean(string(p.Name))+": "+words)
		}
	}
	c.unfitted()
}

// lacks says what a point lacks to be drawn as located without doubt.
func (c *content) lacks(p adjust.Point) string {
	switch _, ok := c.Located(p.Name); {
	case ok && c.Doubtful(p.Name):
		if p.Role == site.RoleFeature {
			return "two answers, the likelier is drawn"
		}
		return "two answers, both drawn with a question mark"
	case !ok:
		if why := clean(p.Why); why != "" {
			return why
		}
		return "the readings do not fix it"
	case c.shaken(p):
		return "readings disagree; without the accused ones it lies " + c.say.Small(p.Doubt) + " from where it is drawn"
	}
	return ""
}

// unfitted lists the outlines that the probe hits do not give.
func (c *content) unfitted() {
	for i := range c.plan.Outlines {
		if o := &c.plan.Outlines[i]; !o.Fitted {
			why := clean(o.Why)
			if why == "" {
				why = "the probe hits do not fix it"
			}
			c.lost = append(c.lost, clean(string(o.Part))+": its outline is not fitted: "+why)
		}
	}
}

// shaken tells whether accused readings put a point in doubt by more than half
// of what its own uncertainty says.
func (c *content) shaken(p adjust.Point) bool {
	return p.Doubt > p.Ellipse.Radius/2 && p.Doubt < ties.Farthest
}

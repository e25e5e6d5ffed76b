package card

import (
	"fmt"
	"math"
	"strings"

	"undersod/core/english"
	"undersod/core/unit"
)

// length prints a length in the job's form; whole feet without their inches.
func (g *ground) length(l unit.Length) string {
	s := g.say.Format(l)
	if strings.HasSuffix(s, `' 0"`) {
		return strings.TrimSuffix(s, ` 0"`)
	}
	return s
}

// up prints an uncertainty, rounded up to a whole inch, a tenth of a foot or a
// centimetre.
func (g *ground) up(l unit.Length) string {
	step := unit.Inch
	switch g.say.Form {
	case unit.DecimalFeet:
		step = unit.Foot / 10
	case unit.Metres, unit.Centimetres, unit.Millimetres:
		step = unit.Centimetre
	}
	return g.length(unit.Length(math.Ceil(float64(l/step)-1e-6)) * step)
}

// steps tells step by step how to find the part.
func (g *ground) steps(t *target, c *Card) []string {
	what := string(t.name)
	if t.middle {
		what = "the middle of " + what
	}
	a, b := c.Ties[0], c.Ties[1]
	out := []string{
		fmt.Sprintf("Hold the zero of one tape at %s, and that of another at %s.", a.Words, b.Words),
		fmt.Sprintf("Pull both level and tight; bring %s of the first and %s of the second together, %s.", g.length(a.Distance), g.length(b.Distance), c.Side),
		fmt.Sprintf("There, within %s (95 %%), lies %s: probe from the crossing outward.", g.up(c.Expected), what),
	}
	if len(c.Ties) > 2 {
		k := c.Ties[2]
		out = append(out, fmt.Sprintf("Check: the tape from %s should read %s, give or take %s. If it does not, look on the other side of the line or measure again before you dig.",
			k.Words, g.length(k.Distance), g.up(k.Within)))
	} else {
		out = append(out, "No third mark checks this: mind the side, and measure both tapes twice.")
	}
	return append(out, g.further(t, c)...)
}

// further tells the depth and what else to know.
func (g *ground) further(t *target, c *Card) []string {
	var out []string
	if c.Depth != nil {
		out = append(out, "It lay "+g.length(*c.Depth)+" below the ground"+g.onDate()+".")
	}
	if lids := g.lids(t); len(lids) > 0 {
		out = append(out, "On it: "+english.And(lids)+"; each has a card of its own.")
	}
	for i := range g.obstacles {
		if o := &g.obstacles[i]; o.covers(t.at) {
			out = append(out, "It lies under "+string(o.name)+".")
		}
	}
	if c.InDoubt {
		out = append(out, "The readings that placed it disagree: find the wrong one before you rely on this card.")
	}
	for _, tie := range c.Ties {
		if tie.Distance > longTape {
			out = append(out, "The tape from "+tie.Words+" is a long one: have somebody hold it up midway.")
		}
	}
	if len(g.unseen) > 0 {
		out = append(out, "The outline of "+english.And(g.unseen)+" is not located: see that no tape has to run through it.")
	}
	return append(out, "Open with care: keep people and flames away, cover it again at once, and never enter.")
}

func (g *ground) onDate() string {
	if d := g.job.Visit.Date; d != "" {
		return " on " + d
	}
	return ""
}

// longest is how many bytes the text may have.
const longest = 600

// text tells the card in short for a QR code: plain ASCII, ties first, so that
// what must be cut is cut behind them.
func (g *ground) text(c *Card) string {
	var b strings.Builder
	line := func(limit int, parts ...string) {
		b.WriteString(clip(strings.Join(parts, ""), limit))
		b.WriteByte('\n')
	}
	head := string(c.Part)
	if c.Kind != "" && !strings.EqualFold(c.Kind, head) {
		head += ", " + c.Kind
	}
	line(70, g.job.Site.Name)
	line(70, head)
	for i, t := range c.Ties {
		what := []string{"1 ", "2 ", "check "}[min(i, 2)]
		distance := ": " + ascii(g.length(t.Distance))
		b.WriteString(clip(what+t.Words, 60-len(distance)) + distance + "\n")
	}
	line(90, c.Side)
	line(40, "within ", g.up(c.Expected), " (95 %)")
	if c.Depth != nil {
		line(40, "depth ", g.length(*c.Depth))
	}
	if c.InDoubt {
		line(60, "readings disagree: check first")
	}
	if d := g.job.Visit.Date; d != "" {
		line(30, "measured ", d)
	}
	b.WriteString("Open with care, cover at once, never enter.")
	return b.String()[:min(b.Len(), longest)]
}

// clip writes s in ASCII with at most limit bytes.
func clip(s string, limit int) string {
	s = ascii(s)
	if len(s) <= limit {
		return s
	}
	return s[:limit-2] + ".."
}

// plain writes letters that are not ASCII as near as it goes.
var plain = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss", "Ä", "Ae", "Ö", "Oe", "Ü", "Ue",
	"à", "a", "á", "a", "â", "a", "ã", "a", "å", "a", "æ", "ae", "ç", "c", "è", "e", "é", "e", "ê", "e", "ë", "e",
	"ì", "i", "í", "i", "î", "i", "ï", "i", "ñ", "n", "ò", "o", "ó", "o", "ô", "o", "õ", "o", "ø", "o", "ù", "u", "ú", "u", "û", "u",
	"À", "A", "Á", "A", "Â", "A", "Å", "A", "Ç", "C", "È", "E", "É", "E", "Ê", "E", "Í", "I", "Ñ", "N", "Ó", "O", "Ô", "O", "Ø", "O", "Ú", "U",
	"½", "1/2", "¼", "1/4", "¾", "3/4", "°", " deg", "–", "-", "—", "-", "’", "'", "‘", "'", "′", "'", "“", `"`, "”", `"`, "″", `"`, "×", "x", "\u00a0", " ", "\u202f", " ")

// ascii writes s with printable ASCII alone; what cannot be written becomes a
// question mark, a line end a blank.
func ascii(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= ' ' && r < 0x7f:
			return r
		case r < ' ' || r == 0x7f:
			return ' '
		}
		return '?'
	}, plain.Replace(s))
}

package report

import (
	"fmt"
	"strings"

	"undersod/core/adjust"
	"undersod/core/caution"
	"undersod/core/judge"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/report/flow"
)

// Owner sets the report for the owner of a system: in plain words what matters,
// what can wait and what is fine, the drawing, the photos and the cautions. It
// fails only where Metrics is nil.
func Owner(in Input) ([]sheet.Scene, error) {
	r, err := begin(in)
	if err != nil {
		return nil, err
	}
	r.sizes(3.9, 3, 3.3)
	r.title = "Report for the owner: " + r.siteName()
	r.ownerHead()
	r.ownerVerdict()
	r.ownerActions()
	r.ownerFine()
	r.ownerSize()
	r.book.Owner(r.in.Fits, r.in.Unfitted, r.in.Capacity, plain)
	r.ownerStorage()
	r.ownerNext()
	r.ownerAges()
	r.ownerMissing()
	r.ownerSafe()
	r.ownerSure()
	r.ownerPhotos()
	return r.bound(), nil
}

func (r *report) ownerHead() {
	s, v := &r.in.Job.Site, &r.in.Job.Visit
	r.Flow.Title("Your septic system")
	r.Lines(r.place(), r.Text.InBold(), 0, 0)
	r.KeepLast()
	words := "Measured"
	if d := visitDay(r.in.Job); d != "" {
		words += " " + d
	}
	if by := tidy(v.By); by != "" {
		words += " by " + by
	}
	if c := tidy(v.Company); c != "" {
		words += ", " + c
	}
	if l := tidy(v.Licence); l != "" {
		words += ", licence " + l
	}
	if words == "Measured" {
		words = "The date and the person who measured are not stated"
	}
	if p := tidy(s.Permit); p != "" {
		words += ". Permit " + p
	}
	r.Lines(words+".", r.Small, 0, 0.5)
	r.KeepLast()
}

// of picks the actions of one urgency.
func (r *report) of(u judge.Urgency) []judge.Action {
	var out []judge.Action
	for _, a := range r.in.Judgement.Actions {
		if a.Urgency == u || u == judge.CanWait && a.Urgency > judge.CanWait {
			out = append(out, a)
		}
	}
	return out
}

// ownerVerdict says in two or three sentences how things stand.
func (r *report) ownerVerdict() {
	now, soon := len(r.of(judge.Now)), len(r.of(judge.Soon))
	ground, bar, words := leaf, grass, "Nothing needs to be done now."
	switch {
	case !r.judged:
		ground, bar, words = sand, stone, "The condition of the system was not judged on this visit. This report tells where its parts lie."
	case now > 0 && soon > 0:
		ground, bar, words = pale, clay, fmt.Sprintf("%s now, and %s in the coming weeks.", crew(now), needs(soon))
	case now > 0:
		ground, bar, words = pale, clay, crew(now)+" now."
	case soon > 0:
		ground, bar, words = straw, ochre, sentenceStart(needs(soon))+" in the coming weeks. Nothing is urgent."
	}
	all := []flow.Said{flow.Say(words, flow.Type(1.2*r.Text.Size, sheet.Bold, ink)), flow.Say(r.measuredWords(), r.Text)}
	if n := r.in.Mistakes; n > 0 {
		all = append(all, flow.Say(sentence(count(n, "entry of the job file could not be read and is", "entries of the job file could not be read and are")+" not part of this report"), r.Text))
	}
	if r.in.Plan == nil || r.in.Plan.Verdict.Fill == adjust.FillNo {
		if ground == leaf {
			ground, bar = straw, ochre
		}
	}
	r.Callout(ground, bar, all...)
}

// crew says how much is left to those who measured.
func crew(n int) string {
	return "Your contractor still has " + count(n, "thing", "things") + " to do"
}

func needs(n int) string { return count(n, "thing needs to be done", "things need to be done") }

func sentenceStart(s string) string {
	s = sentence(s)
	return s[:len(s)-1]
}

// measuredWords says honestly whether the measurements are finished.
func (r *report) measuredWords() string {
	if r.in.Plan == nil {
		return "No plan was made from the measurements, so this report has no drawing."
	}
	switch r.in.Plan.Verdict.Fill {
	case adjust.FillYes:
		return "The measurements agree with each other, and every buried part on the drawing was checked by a further measurement."
	case adjust.FillUnsure:
		return "The measurements agree with each other, but not every part on the drawing was checked by a further one. The hole should stay open until they are."
	default:
		return "The measurements are not finished: some disagree, or a part was not located. Places on the drawing may still change, and the hole is not to be filled yet."
	}
}

func (r *report) ownerActions() {
	matters := append(r.of(judge.Now), r.of(judge.Soon)...)
	if len(matters) > 0 {
		r.Heading("What matters")
		for _, a := range matters {
			r.action(a)
		}
	}
	if wait := r.of(judge.CanWait); len(wait) > 0 {
		r.Heading("What can wait")
		for _, a := range wait {
			r.action(a)
		}
	}
}

// forOwner words what is to be done for the owner: what stands before the hole
// is filled is the work of those who measured.
func (r *report) forOwner(a judge.Action) string {
	what := unasked(a.What)
	if a.Urgency != judge.Now {
		return what
	}
	for _, n := range a.About {
		if strings.HasPrefix(what, string(n)) {
			return "Your contractor still has to: " + what
		}
	}
	return "Your contractor still has to: " + small(what)
}

// action sets one thing to do: what, by when, and why.
func (r *report) action(a judge.Action) {
	colour, when := clay, "Now"
	switch a.Urgency {
	case judge.Now:
	case judge.Soon:
		colour, when = ochre, "In the coming weeks"
	default:
		colour, when = stone, "At the next visit"
	}
	if d := day(a.By); d != "" && a.Urgency == judge.Now {
		when = "Now, at the latest by " + d
	} else if d != "" {
		when = "By " + d
	}
	why := plain(a.Why)
	if r.in.Plan != nil && why == sentence(r.in.Plan.Verdict.Words) { // said to the crew, and above in plain words
		why = ""
	}
	r.Bullet(r.forOwner(a), when, why, colour)
}

func (r *report) ownerFine() {
	if len(r.in.Judgement.Fine) == 0 {
		return
	}
	r.Heading("What is fine")
	for _, w := range r.in.Judgement.Fine {
		r.Bullet("", "", plain(w), grass)
	}
}

// ownerSize says whether the system is large enough for the household.
func (r *report) ownerSize() {
	c := &r.in.Judgement.Capacity
	said := [][2]string{{"The field", c.FieldWords}, {"The tank", c.Tank.Words}}
	planned := r.in.Capacity != nil && len(r.in.Fits)+len(r.in.Unfitted) > 0 // told under what is planned
	if a := r.in.Judgement.Added; a != nil && !planned {
		more := " with " + count(r.in.Judgement.AddedRooms, "more bedroom", "more bedrooms")
		said = append(said, [2]string{"The field" + more, a.FieldWords}, [2]string{"The tank" + more, a.Tank.Words})
	}
	began, fine := false, map[string]bool{} // what is fine was said so
	for _, w := range r.in.Judgement.Fine {
		fine[plain(w)] = true
	}
	for _, s := range said {
		words := plain(s[1])
		if words == "" || fine[words] {
			continue
		}
		if !began {
			r.Heading("Is it large enough?")
			began = true
		}
		r.Bullet(s[0], "", words, stone)
	}
	if began {
		r.Note("The rules and sources behind these answers are in the packet for the authority, which decides.")
	}
}

// ownerStorage says how the field does where a line is out of use: what stands
// idle then matters to those who use the water.
func (r *report) ownerStorage() {
	out := r.idle()
	if len(out) == 0 {
		return
	}
	r.Heading("With " + names(out) + " out of use")
	if s := r.in.Judgement.Storage; s != nil {
		for _, w := range s.Words {
			r.Bullet("", "", plain(w), stone)
		}
		return
	}
	r.Para("How the rest of the field fills and drains could not be reckoned.")
}

// idle names the drain lines that are out of use.
func (r *report) idle() []site.Name {
	var out []site.Name
	for _, l := range r.in.Job.Site.Lines {
		if l.OutOfUse && l.Kind == site.DrainLine {
			out = append(out, l.Name)
		}
	}
	return out
}

// ownerNext says how often to pump and when to look again.
func (r *report) ownerNext() {
	pump := plain(r.in.Judgement.Capacity.Pumping.Words)
	told := map[string]bool{}
	for _, a := range r.in.Judgement.Actions {
		told[sentence(a.What)] = true
	}
	t := flow.Table{Columns: []flow.Column{{Title: "When", Bold: true}, {Title: "What"}, {Title: "Why"}}}
	for _, m := range r.in.Judgement.Reminders {
		if !told[sentence(m.Words)] { // what is to be done stands above with its date
			t.Row(day(m.On), sentence(m.Words), plain(m.Why))
		}
	}
	if pump == "" && len(t.Rows) == 0 {
		return
	}
	r.Heading("When to pump, and when to look again")
	if pump != "" {
		r.Para(pump)
	}
	r.Table(t)
}

func (r *report) ownerAges() {
	if len(r.in.Judgement.Lives) == 0 {
		return
	}
	r.Heading("How old it is")
	const source = " (common practice, no source)"
	common := false
	for _, l := range r.in.Judgement.Lives {
		common = common || strings.Contains(l.Words, source)
		r.Bullet("", "", sentence(strings.ReplaceAll(l.Words, source, "")), stone)
	}
	if common {
		r.Note("What is usual is common practice, no source.")
	}
}

func (r *report) ownerMissing() {
	if len(r.in.Judgement.Missing) == 0 {
		return
	}
	r.Heading("What could not be told")
	for _, w := range r.in.Judgement.Missing {
		r.Bullet("", "", unasked(w), stone)
	}
}

// forOwner are the cautions for those who live with a system. Common practice,
// no source.
var forOwner = []string{
	"Keep every lid closed and sound. A child or an animal that falls into a tank is dead within minutes. A cracked or loose lid is an emergency: stand something heavy over it, keep everyone away, and call.",
	"Never enter a tank, and never lean into an open one. The gas in it kills without warning, and it has killed those who went in to help.",
	"Never drive, park or build over the tank, the box or the lines. Keep to the drawing when a truck or a digger comes.",
	"Before anyone digs, have the buried cables and pipes marked. That includes digging for a lid.",
	"Grass is the right cover. Trees and shrubs send their roots into the lines.",
	"Wash your hands after touching anything that was under ground here, and keep children off wet ground over the lines.",
}

func (r *report) ownerSafe() {
	r.Heading("Living with it safely")
	for _, w := range forOwner {
		r.Bullet("", "", w, clay)
	}
	r.Para(caution.Decides)
}

// ownerSure explains the uncertainty in plain words.
func (r *report) ownerSure() {
	if r.in.Plan == nil {
		return
	}
	r.Heading("How sure the places are")
	words := "No measurement is perfect. Beside each buried part the drawing prints how far off its place may be: if such a place were measured anew a hundred times over, about 95 of them would fall within that distance. Dig a little wider than the number says."
	if name, radius, ok := r.leastSure(); ok {
		words += fmt.Sprintf(" The least sure of the parts that were located is %s: within %s.", name, within(r.say, radius))
	}
	r.Para(words)
	if r.in.Plan.Verdict.Fill != adjust.FillYes {
		r.Para("These numbers hold only where the measurements agree and are checked. Here that is not so everywhere, as is said at the top.")
	}
}

// leastSure finds the located part of the widest 95 % circle.
func (r *report) leastSure() (name string, radius unit.Length, ok bool) {
	for _, p := range r.parts() {
		if p.State == adjust.Determined && p.Placed && p.Ellipse.Radius > radius {
			name, radius, ok = tidy(string(p.Name)), p.Ellipse.Radius, true
		}
	}
	return name, radius, ok
}

// ownerPhotos sets the photos, and after them the drawing on a page of its own.
func (r *report) ownerPhotos() {
	all := album(r.in)
	var good, bad []shown
	for _, s := range all {
		if s.picture == nil {
			bad = append(bad, s)
		} else {
			good = append(good, s)
		}
	}
	if len(all) > 0 {
		r.Heading("Photos")
	}
	row := 3
	if len(good) == 2 || len(good) == 4 { // no picture alone in a row
		row = len(good)
	}
	r.pictures(good, row)
	r.pictures(bad, 2)
	r.ownerDrawing()
}

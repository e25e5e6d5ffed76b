package answer

import (
	"bytes"
	"context"
	"io/fs"
	"slices"
	"strconv"
	"strings"

	"undersod/core/adjust"
	"undersod/core/card"
	"undersod/core/look"
	"undersod/core/overlay"
	"undersod/core/rules"
	"undersod/core/setback"
	"undersod/core/sheet"
	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/archive"
	"undersod/internal/judgefile"
	"undersod/internal/photo"
	"undersod/internal/planned"
	"undersod/internal/render"
	"undersod/internal/report"
)

// Drawing is how the record drawing is asked for. Empty fields leave the choice
// to the sheet.
type Drawing struct {
	Format   string // pdf, svg, png or dxf
	Paper    string // letter, tabloid, a4 or a3
	Scale    int    // 1 to this; 0 for the one that fills the sheet
	Ties     bool   // draw the tie lines
	Setbacks bool   // draw the ground that setbacks keep free
}

// types are the media types of what is drawn, by format. DXF's is that of the
// IANA registry, image/vnd.dxf.
func types() map[string]string {
	return map[string]string{"pdf": "application/pdf", "svg": "image/svg+xml", "png": "image/png", "dxf": "image/vnd.dxf"}
}

// Type returns the media type of a format that is drawn, empty for any other.
func Type(format string) string { return types()[format] }

// keptFile returns a file that is kept, or makes it.
func (d *Desk) keptFile(ctx context.Context, j Job, what string, f func(o *opened, pack *rules.Pack) (File, error)) (File, error) {
	o, err := d.open(ctx, j)
	if err != nil {
		return File{}, err
	}
	pack, _, err := o.pack(j.Pack)
	if err != nil {
		return File{}, err
	}
	name := key(what, j.name(), string(j.Bytes), pack.Name, j.Pictures)
	return once(ctx, d, d.files, name, func(f File) int { return len(f.Bytes) + 512 }, func(context.Context) (File, error) { return f(o, pack) })
}

// Draw draws the record drawing.
func (d *Desk) Draw(ctx context.Context, j Job, how Drawing) (File, error) {
	options, err := how.options()
	if err != nil {
		return File{}, err
	}
	what := key("draw", how.Format, string(options.Paper), strconv.Itoa(how.Scale), flag(how.Ties), flag(how.Setbacks))
	return d.keptFile(ctx, j, what, func(o *opened, pack *rules.Pack) (File, error) {
		job := &o.result.Job
		if how.Setbacks {
			options.Clear = overlay.OfTable(job, setback.Judge(job, o.plan, pack))
		}
		options.Findings = report.Marks(job, look.Lay(job, o.plan))
		scene, err := sheet.Draw(*job, *o.plan, render.Metrics(), options)
		if err != nil {
			return File{}, refused("the sheet cannot be drawn: %v", err)
		}
		return draw(how.Format, scene, job)
	})
}

func flag(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}

// options checks what is asked of a drawing.
func (how Drawing) options() (sheet.Options, error) {
	o := sheet.Options{Ties: how.Ties, Paper: sheet.Paper(strings.ToLower(how.Paper)), Scale: sheet.Scale(how.Scale)}
	if Type(how.Format) == "" {
		return o, refused("the format %.20q is not drawn; pdf, svg, png and dxf are", how.Format)
	}
	if how.Paper != "" {
		if _, _, ok := o.Paper.Size(); !ok {
			return o, refused("the paper %.20q is not known; letter, tabloid, a4 and a3 are", how.Paper)
		}
	}
	if how.Scale < 0 || how.Scale > 120000 {
		return o, refused("the scale 1:%d is not drawn; write a ratio as 240, which is 20 feet to the inch", how.Scale)
	}
	return o, nil
}

// draw writes a scene in a format.
func draw(format string, scene sheet.Scene, job *site.Job) (File, error) {
	ground := render.Feet
	if job.Show.Form == unit.Metres {
		ground = render.Metres
	}
	write, _ := render.ByName("drawing."+format, ground)
	var b bytes.Buffer
	if err := write(&b, scene); err != nil {
		return File{}, refused("the sheet cannot be drawn: %v", err)
	}
	return File{Type(format), "." + format, b.Bytes()}, nil
}

// Owner makes the owner's report as a PDF.
func (d *Desk) Owner(ctx context.Context, j Job) (File, error) {
	return d.book(ctx, j, "owner", report.Owner)
}

// County makes the county packet as a PDF.
func (d *Desk) County(ctx context.Context, j Job) (File, error) {
	return d.book(ctx, j, "county", report.County)
}

func (d *Desk) book(ctx context.Context, j Job, what string, pages func(report.Input) ([]sheet.Scene, error)) (File, error) {
	return d.keptFile(ctx, j, what, func(o *opened, pack *rules.Pack) (File, error) {
		in := o.input(pack)
		in.Photos, in.Unreadable = photos(j.Photos, &o.result.Job)
		planned.Fill(&in, pack)
		all, err := pages(in)
		if err != nil {
			return File{}, refused("the report cannot be made: %v", err)
		}
		var b bytes.Buffer
		if err := render.Book(&b, all); err != nil {
			return File{}, refused("the report cannot be drawn: %v", err)
		}
		return File{Type("pdf"), ".pdf", b.Bytes()}, nil
	})
}

// input is what a report is made of, without the photos.
func (o *opened) input(pack *rules.Pack) report.Input {
	return report.Input{Job: &o.result.Job, Plan: o.plan, Judgement: o.judgement(pack), Metrics: render.Metrics(), Mistakes: o.result.Mistakes()}
}

// photos prepares the pictures that a job names.
func photos(folder fs.FS, job *site.Job) (map[string]photo.Prepared, map[string]string) {
	names := job.PhotoFiles()
	if folder == nil {
		missing := map[string]string{}
		for _, name := range names {
			missing[name] = "it has not been added to this visit"
		}
		return nil, missing
	}
	return photo.PrepareAll(folder, names[:min(len(names), archive.MostPhotos)], photo.Options{}, nil)
}

// Calendar makes the reminders as an iCalendar file.
func (d *Desk) Calendar(ctx context.Context, j Job) (File, error) {
	return d.keptFile(ctx, j, "calendar", func(o *opened, pack *rules.Pack) (File, error) {
		text, err := report.Calendar(o.input(pack))
		if err != nil {
			return File{}, notThere("there is no calendar: %v", err)
		}
		return File{"text/calendar; charset=utf-8", ".ics", text}, nil
	})
}

// Lids lists the parts that a tie card can be made for, in the order of the job.
func (d *Desk) Lids(ctx context.Context, j Job) ([]site.Name, error) {
	return with(ctx, d, j, func(o *opened, _ *rules.Pack, _ []site.Problem) ([]site.Name, error) {
		names := []site.Name{}
		for _, name := range partNames(&o.result.Job) {
			if _, err := card.Make(&o.result.Job, o.plan, name); err == nil {
				names = append(names, name)
			}
		}
		return names, nil
	})
}

// partNames lists the parts of the system that lie at one place.
func partNames(job *site.Job) []site.Name {
	var names []site.Name
	for _, p := range job.Site.Points {
		if p.Role == site.RolePart {
			names = append(names, p.Name)
		}
	}
	for _, p := range job.Site.Parts {
		if !slices.Contains(names, p.Name) {
			names = append(names, p.Name)
		}
	}
	return names
}

// Card tells how to find one part again, as card --json does.
func (d *Desk) Card(ctx context.Context, j Job, part site.Name) (judgefile.Card, error) {
	return with(ctx, d, j, func(o *opened, _ *rules.Pack, _ []site.Problem) (judgefile.Card, error) {
		made, err := makeCard(&o.result.Job, o.plan, part)
		return judgefile.MakeCard(made), err
	})
}

// CardFile draws the tie card of one part.
func (d *Desk) CardFile(ctx context.Context, j Job, part site.Name, format string) (File, error) {
	if Type(format) == "" {
		return File{}, refused("the format %.20q is not drawn; pdf, svg, png and dxf are", format)
	}
	return d.keptFile(ctx, j, key("card", string(part), format), func(o *opened, pack *rules.Pack) (File, error) {
		made, err := makeCard(&o.result.Job, o.plan, part)
		if err != nil {
			return File{}, err
		}
		scene, err := report.Card(report.Input{Job: &o.result.Job, Plan: o.plan, Metrics: render.Metrics()}, made)
		if err != nil {
			return File{}, refused("the card cannot be made: %v", err)
		}
		return draw(format, scene, &o.result.Job)
	})
}

func makeCard(job *site.Job, plan *adjust.Plan, part site.Name) (card.Card, error) {
	made, err := card.Make(job, plan, part)
	if err != nil {
		return made, notThere("%v", err)
	}
	return made, nil
}

package cli

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"undersod/core/adjust"
	"undersod/core/judge"
	"undersod/core/sheet"
	"undersod/internal/checkfile"
	"undersod/internal/judgefile"
	"undersod/internal/photo"
	"undersod/internal/planned"
	"undersod/internal/render"
	"undersod/internal/report"
)

// reporting is what the report command was asked for.
type reporting struct {
	owner, county, calendar string
	pack                    string
	keepLocation, asJSON    bool
}

func (p *Program) reportCommand() *cobra.Command {
	var r reporting
	c := &cobra.Command{
		Use:   "report JOB",
		Short: "The owner's report, the county packet and a calendar of what is due",
		Long: `report writes the owner's report in plain words, the county packet with sheet,
the authority's checklist, setbacks, tables and method, and a calendar file of
reminders. What the job proposes gets a section and a drawing of its own in the
packet, and a part in the owner's report. Without a flag all three are written
beside where you are, named after the job. With flags only those named are
written.

Photos named in the job are turned upright, resized, and stripped of the data
that a camera hides in them, place included; --keep-location prints the place
under each photo that has one.

The report is made even where the readings do not allow the hole to be filled;
it then says so, and the exit status is 1.`,
		Example: "  undersod report job.yaml\n  undersod report job.yaml --owner owner.pdf --county packet.pdf\n  undersod report job.yaml --json",
		Args:    oneJob,
		RunE:    func(_ *cobra.Command, args []string) error { return p.report(args[0], r) },
	}
	c.Flags().StringVar(&r.owner, "owner", "", "write the owner's report into this PDF")
	c.Flags().StringVar(&r.county, "county", "", "write the county packet into this PDF")
	c.Flags().StringVar(&r.calendar, "calendar", "", "write reminders into this iCalendar file (.ics)")
	c.Flags().BoolVar(&r.keepLocation, "keep-location", false, "print where each photo was taken, where the camera noted it")
	c.Flags().BoolVar(&r.asJSON, "json", false, "print the judgement as JSON and write no file")
	rulesFlag(c, &r.pack)
	return c
}

func (p *Program) report(job string, r reporting) error {
	if err := r.check(); err != nil {
		return err
	}
	o, err := p.open(job)
	if err != nil {
		return err
	}
	j, err := p.judged(o, r.pack)
	if err != nil {
		return err
	}
	if o.plan.Verdict.Fill != adjust.FillYes {
		p.exit = ExitFound
	}
	if r.asJSON {
		document, err := encode(judgefile.ReportDocument{Undersod: 1, Kind: "report", Job: jobHead(o), Document: judgefile.Make(j)})
		if err != nil {
			return err
		}
		return p.write(document)
	}
	if r.owner == "" && r.county == "" && r.calendar == "" {
		base := baseName(o)
		r.owner, r.county, r.calendar = base+"-owner.pdf", base+"-county.pdf", base+"-reminders.ics"
	}
	if err := p.writeReports(o, j, r); err != nil {
		return err
	}
	if p.exit == ExitFound {
		p.complain("The report is made, but: %s Run undersod check %s.", o.plan.Verdict.Words, job)
	}
	return nil
}

// jobHead names the job of a document.
func jobHead(o *opened) checkfile.Job {
	return checkfile.Job{File: o.name, Site: o.result.Job.Site.Name, Date: o.result.Job.Visit.Date}
}

// check looks at the names of the files.
func (r reporting) check() error {
	for _, f := range []struct{ name, ending string }{{r.owner, ".pdf"}, {r.county, ".pdf"}, {r.calendar, ".ics"}} {
		if f.name != "" && filepath.Ext(f.name) != f.ending {
			return usagef("%s: the name must end in %s", f.name, f.ending)
		}
	}
	return nil
}

// writeReports prepares the photos once and writes what is named.
func (p *Program) writeReports(o *opened, j *judge.Judgement, r reporting) error {
	in := report.Input{Job: &o.result.Job, Plan: o.plan, Judgement: j, Metrics: render.Metrics(), Mistakes: o.result.Mistakes()}
	if r.owner != "" || r.county != "" {
		folder, err := folderOf(o)
		if err != nil {
			return usagef("%v", err)
		}
		// A root, so that no link leads a photo's name out of the job's folder.
		root, err := os.OpenRoot(folder)
		if err != nil {
			return usagef("%s", plainPathError(folder, err))
		}
		defer root.Close()
		in.Photos, in.Unreadable = p.photos(root.FS(), o.result.Job.PhotoFiles(), r.keepLocation)
	}
	if r.owner != "" || r.county != "" {
		pack, err := packFor(o, r.pack)
		if err != nil {
			return err
		}
		planned.Fill(&in, pack)
	}
	if err := p.writeBook(r.owner, in, report.Owner); err != nil {
		return err
	}
	if err := p.writeBook(r.county, in, report.County); err != nil {
		return err
	}
	if r.calendar == "" {
		return nil
	}
	text, err := report.Calendar(in)
	if err != nil {
		return usagef("%s cannot be written: %v", r.calendar, err)
	}
	return p.wrote(r.calendar, text)
}

// writeBook makes the pages of one report and writes them.
func (p *Program) writeBook(name string, in report.Input, pages func(report.Input) ([]sheet.Scene, error)) error {
	if name == "" {
		return nil
	}
	all, err := pages(in)
	if err != nil {
		return usagef("%s cannot be made: %v", name, err)
	}
	var b bytes.Buffer
	if err := render.Book(&b, all); err != nil {
		return usagef("%s cannot be drawn: %v", name, err)
	}
	return p.wrote(name, b.Bytes())
}

// wrote writes a file and says so.
func (p *Program) wrote(name string, data []byte) error {
	if err := writeFile(name, data); err != nil {
		return err
	}
	return p.write(fmt.Appendf(nil, "wrote %s\n", name))
}

// photos prepares the photos, telling of progress where a person waits.
func (p *Program) photos(folder fs.FS, names []string, keepLocation bool) (map[string]photo.Prepared, map[string]string) {
	progress := func(done, total int) {
		if p.Notes && total > 3 {
			fmt.Fprintf(p.Err, "\rphotos: %d of %d ", done, total)
			if done == total {
				fmt.Fprintln(p.Err)
			}
		}
	}
	good, bad := photo.PrepareAll(folder, names, photo.Options{KeepLocation: keepLocation}, progress)
	for _, name := range names {
		if why, ok := bad[name]; ok {
			p.complain("photo %s is left out: %s", name, why)
		}
	}
	return good, bad
}

package keeping

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"undersod/core/english"
	"undersod/core/site"
	"undersod/internal/archive"
	"undersod/internal/holding"
	"undersod/internal/jobfile"
)

func (p *Outside) exportCommand() *cobra.Command {
	var from archiveFolder
	var out string
	var asJSON bool
	c := &cobra.Command{
		Use:   "export SITE",
		Short: "Write one site as an open zip, or its newest plan as GeoJSON",
		Long: `export writes one site of an archive, also while it is served. SITE is its ID,
or words that find it alone: of its name, address, owner, permit or parts.

A zip holds every visit's job file as it was written, its photos, the job files
as they stood before a change, and manifest.json, which tells the rest: any
program opens it, and undersod import reads it back. A .geojson holds the places
of the newest visit in longitude and latitude, where the job knows them.`,
		Example: "  undersod export \"quarry hollow\" -o quarry-hollow.zip\n  undersod export \"quarry hollow\" -o quarry-hollow.geojson",
		Args:    cobra.MinimumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			return p.export(from, strings.Join(args, " "), out, asJSON)
		},
	}
	from.flag(c)
	c.Flags().StringVarP(&out, "output", "o", "", "file to write: .zip or .geojson")
	c.Flags().BoolVar(&asJSON, "json", false, "print what was done as JSON")
	return c
}

func (p *Outside) export(from archiveFolder, words, out string, asJSON bool) error {
	ctx := context.Background()
	ending := strings.ToLower(filepath.Ext(out))
	if ending != ".zip" && ending != ".geojson" {
		return fmt.Errorf("name the file to write with -o; it must end in .zip or .geojson")
	}
	a, err := from.look(ctx)
	if err != nil {
		return err
	}
	defer a.Close()
	id, err := a.Find(ctx, words)
	if err != nil {
		return fmt.Errorf("%v", err)
	}
	site, visits, err := a.Records.Site(ctx, archive.Program(), id)
	if err != nil {
		return fmt.Errorf("%v", err)
	}
	write := func(w io.Writer) error { return a.Export(ctx, archive.Program(), id, w) }
	if ending == ".geojson" {
		text, err := a.GeoJSON(ctx, id)
		if err != nil {
			return fmt.Errorf("%s cannot be written: %v", out, err)
		}
		write = func(w io.Writer) error { _, err := w.Write(text); return err }
	}
	if err := p.streamed(out, write); err != nil {
		return err
	}
	d := keptDocument{Did: "export", Folder: from.path, File: out, Site: string(id), Name: site.Heading.Name}
	for _, v := range visits {
		d.Visits = append(d.Visits, string(v.ID))
	}
	return p.tellKept(d, fmt.Sprintf("wrote %s: %s, %s\n", out, nameOf(site.Heading), english.Count(len(visits), "visit")), asJSON)
}

func nameOf(h archive.Heading) string {
	if h.Name == "" {
		return "a site without a name"
	}
	return jobfile.Visible(h.Name)
}

// streamed writes a file that is whole or not there.
func (p *Outside) streamed(name string, write func(io.Writer) error) error {
	f, err := os.CreateTemp(filepath.Dir(name), ".undersod-*")
	if err != nil {
		return fmt.Errorf("%s", p.WriteWords(name, err))
	}
	defer os.Remove(f.Name())
	b := bufio.NewWriterSize(f, 1<<20)
	failed := write(b)
	err = errors.Join(b.Flush(), f.Chmod(0o644), f.Sync(), f.Close())
	switch {
	case failed != nil && !isPath(failed):
		return fmt.Errorf("%s cannot be written: %v", name, failed)
	case failed != nil:
		return fmt.Errorf("%s", p.WriteWords(name, failed))
	case err == nil:
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		return fmt.Errorf("%s", p.WriteWords(name, err))
	}
	return nil
}

// isPath tells whether an error came from a file.
func isPath(err error) bool {
	_, ok := errors.AsType[*os.PathError](err)
	return ok
}

// bringing is what the import command was asked for.
type bringing struct {
	to     archiveFolder
	site   string
	asJSON bool
}

func (p *Outside) importCommand() *cobra.Command {
	var b bringing
	c := &cobra.Command{
		Use:   "import FILE...",
		Short: "Bring exported sites and job files into an archive",
		Long: `import brings files into an archive: a zip that undersod exported, under the IDs
that it has there, or a job file with the photos that lie beside it, as a site of
its own or, with --site, as one more visit of a site that is there. The same file
brought in again changes nothing; what is there and differs is left as it is.

A photo is written anew without what a camera hides in it. An archive keeps job
files that stand alone: readings that a job imports from a file beside it must be
written into it first. The folder must not be open in another undersod; its pages
take the same files.

The exit status is 1 where something was left out.`,
		Example: "  undersod import site.zip\n  undersod import job.yaml --data archive\n  undersod import second-visit.yaml --site \"quarry hollow\"",
		Args:    cobra.MinimumNArgs(1),
		RunE:    func(_ *cobra.Command, args []string) error { return p.bring(b, args) },
	}
	b.to.flag(c)
	c.Flags().StringVar(&b.site, "site", "", "site that a job file is a visit of: its ID, or words that find it alone")
	c.Flags().BoolVar(&b.asJSON, "json", false, "print what was done as JSON, a document for each file")
	return c
}

func (p *Outside) bring(b bringing, files []string) error {
	ctx := context.Background()
	if err := b.to.found(true); err != nil {
		return err
	}
	begun := b.to.empty(ctx)
	a, err := b.to.open(ctx)
	if err != nil {
		return err
	}
	defer a.Close()
	if begun && !b.asJSON {
		if err := p.Write(fmt.Appendf(nil, "A new archive is begun in %s.\n", b.to.path)); err != nil {
			return err
		}
	}
	var site archive.ID
	if b.site != "" {
		if site, err = a.Find(ctx, b.site); err != nil {
			return fmt.Errorf("%v", err)
		}
	}
	g := p.progress()
	defer g.end()
	for i, name := range files {
		g.at("brought in", int64(i), int64(len(files)))
		carried, err := p.bringOne(ctx, a, name, site)
		if err != nil {
			return fmt.Errorf("%s: %v", name, err)
		}
		g.end()
		if err := p.tellBrought(b, name, carried); err != nil {
			return err
		}
	}
	return nil
}

func (p *Outside) bringOne(ctx context.Context, a *holding.Archive, name string, of archive.ID) (holding.Carried, error) {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".zip":
		if of != "" {
			return holding.Carried{}, errors.New("an exported site keeps its own ID; leave out --site")
		}
		return p.bringZip(ctx, a, name)
	case ".yaml", ".yml":
		return p.bringJob(ctx, a, name, "yaml", of)
	case ".json":
		return p.bringJob(ctx, a, name, "json", of)
	}
	return holding.Carried{}, errors.New("a file that ends in .zip, .yaml or .json is expected")
}

func (p *Outside) bringZip(ctx context.Context, a *holding.Archive, name string) (holding.Carried, error) {
	f, err := os.Open(name)
	if err != nil {
		return holding.Carried{}, errors.New(p.PathWords(name, err))
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return holding.Carried{}, err
	}
	return a.ImportUnchanged(ctx, archive.Write{By: archive.Program()}, f, info.Size())
}

// bringJob brings in a job file. What it says without the files beside it is
// what the archive keeps, and whoever brings it is told of the difference.
func (p *Outside) bringJob(ctx context.Context, a *holding.Archive, name, format string, of archive.ID) (holding.Carried, error) {
	photos, err := p.Photos(name)
	if err != nil {
		return holding.Carried{}, err
	}
	text, err := os.ReadFile(name)
	if err != nil {
		return holding.Carried{}, errors.New(p.PathWords(name, err))
	}
	folder, err := os.OpenRoot(filepath.Dir(name))
	if err != nil {
		return holding.Carried{}, err
	}
	defer folder.Close()
	c, err := a.BringJob(ctx, holding.Job{Format: format, Bytes: text, Photos: folder.FS(), Names: photos, Site: of})
	if err != nil {
		return c, err
	}
	alone, err := jobfile.Read(name, bytes.NewReader(text))
	if err == nil && slices.ContainsFunc(alone.Problems, func(p site.Problem) bool { return p.Subject == "import" }) {
		c.Left = append(c.Left, "the readings that it imports from a file beside it; write them into the job file")
	}
	return c, nil
}

func (p *Outside) tellBrought(b bringing, name string, c holding.Carried) error {
	words := fmt.Sprintf("%s: %s, %s, %s", name, nameOf(c.Heading), english.Count(len(c.Visits), "visit"), english.Count(c.Photos, "photo"))
	if c.Changed == 0 {
		words += "; all of it was here already"
	}
	d := keptDocument{Did: "import", Folder: b.to.path, File: name, Site: string(c.Site), Name: c.Heading.Name, Photos: &c.Photos, Changed: &c.Changed}
	for _, v := range c.Visits {
		d.Visits = append(d.Visits, string(v))
	}
	for _, l := range c.Left {
		d.Trouble = append(d.Trouble, fmt.Sprintf("%s: left out: %s", name, l))
	}
	return p.tellKept(d, words+"\n  site "+string(c.Site)+"\n", b.asJSON)
}

package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"undersod/core/card"
	"undersod/core/overlay"
	"undersod/core/setback"
	"undersod/examples"
	"undersod/internal/text"
	"undersod/internal/wish"
)

func (p *Program) demoCommand() *cobra.Command {
	var folder string
	var force bool
	c := &cobra.Command{
		Use:   "demo",
		Short: "Run the main job on an invented property, wrong reading included",
		Long: `demo writes an invented job with its pictures into a folder, checks it, draws its
sheet, writes the owner's report, the county packet, a tie card, the table of
setbacks, where the workshop that the owner wants may stand, and a calendar, and
prints what it found: one reading was written down wrong on purpose. Nothing in
it is a real place or person.

The exit status is 0: that the check finds the wrong reading is the point.`,
		Example: "  undersod demo\n  undersod demo --folder try-it",
		Args:    cobra.NoArgs,
		RunE:    func(*cobra.Command, []string) error { return p.demo(folder, force) },
	}
	c.Flags().StringVar(&folder, "folder", "undersod-demo", "folder to write into")
	c.Flags().BoolVar(&force, "force", false, "write over a job file changed since")
	return c
}

func (p *Program) demo(folder string, force bool) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return usagef("%s", plainPathError(folder, err))
	}
	job := filepath.Join(folder, "quarry-hollow.yaml")
	if err := layOut(folder, force); err != nil {
		return err
	}
	o, err := p.open(job)
	if err != nil {
		return err
	}
	j, err := p.judged(o, "")
	if err != nil {
		return err
	}
	in := func(name string) string { return filepath.Join(folder, name) }
	drawing := drawing{outputs: []string{in("quarry-hollow.pdf"), in("quarry-hollow.svg"), in("quarry-hollow.png"), in("quarry-hollow.dxf")}}
	if err := p.drawAll(o, drawing); err != nil {
		return err
	}
	if err := p.writeCheck(o, folder); err != nil {
		return err
	}
	quiet := *p
	quiet.Out = io.Discard
	reports := reporting{owner: in("owner.pdf"), county: in("county.pdf"), calendar: in("reminders.ics")}
	if err := quiet.writeReports(o, j, reports); err != nil {
		return err
	}
	made, err := card.Make(&o.result.Job, o.plan, "Tank outlet lid")
	if err != nil {
		return usagef("%v", err)
	}
	if err := p.drawCard(o, made, in("tank-lid-card.pdf")); err != nil {
		return err
	}
	if err := quiet.drawSection(o, j, in("d-box.pdf")); err != nil {
		return err
	}
	if err := p.writeClear(o, folder); err != nil {
		return err
	}
	return p.write(fmt.Appendf(nil, `
Written into %s:
  quarry-hollow.yaml  the job, with its pictures in photos/
  quarry-hollow.pdf   its sheet (also .svg, .png, .dxf)
  owner.pdf           the owner's report
  county.pdf          the county packet
  tank-lid-card.pdf   how to find the tank's outlet lid again
  d-box.pdf           the opened box and its shares
  setbacks.txt        every distance against its rule (also setbacks.json)
  fit.pdf             where the workshop may stand (also fit.txt)
  reminders.ics       what is due, for a calendar
  check.txt           this check (also check.json)
Correct the reading in the job file, then run: undersod check %s
`, folder, job))
}

// writeClear leaves the setbacks and where the proposed workshop fits.
func (p *Program) writeClear(o *opened, folder string) error {
	pack, err := packFor(o, "")
	if err != nil {
		return err
	}
	table := setback.Judge(&o.result.Job, o.plan, pack)
	named := *o
	named.name = filepath.Base(o.name) // the folder is not the document's
	for name, asJSON := range map[string]bool{"setbacks.txt": false, "setbacks.json": true} {
		words, err := p.setbacksText(&named, pack, table, asJSON, false)
		if err != nil {
			return err
		}
		if err := writeFile(filepath.Join(folder, name), words); err != nil {
			return err
		}
	}
	asked, err := proposals(&named, nil, wish.Flags{Bedrooms: wish.NotTyped})
	if err != nil {
		return err
	}
	found, wrong, err := find(o, pack, asked[:1], "")
	if err != nil || len(found) == 0 {
		return usagef("where the workshop fits cannot be told: %s", strings.Join(wrong, "; "))
	}
	fitted := drawing{outputs: []string{filepath.Join(folder, "fit.pdf")}, clear: overlay.OfFit(&o.result.Job, found[0].Fit)}
	if err := p.drawAll(o, fitted); err != nil {
		return err
	}
	words, err := p.fitText(&named, pack, found, nil, false, false)
	if err != nil {
		return err
	}
	return writeFile(filepath.Join(folder, "fit.txt"), words)
}

// layOut writes the demo's job and its pictures.
func layOut(folder string, force bool) error {
	files := examples.DemoFiles()
	return fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return usagef("the demo cannot be read out of the program: %v", err)
		}
		target := filepath.Join(folder, filepath.FromSlash(name))
		if d.IsDir() {
			if err := os.MkdirAll(target, 0o755); err != nil {
				return usagef("%s", plainPathError(target, err))
			}
			return nil
		}
		data, err := fs.ReadFile(files, name)
		if err != nil {
			return usagef("the demo cannot be read out of the program: %v", err)
		}
		return keepOr(target, data, force)
	})
}

// keepOr writes a file unless a different one is there: a person's file is
// never written over without being told to.
func keepOr(name string, data []byte, force bool) error {
	there, err := os.ReadFile(name)
	switch {
	case errors.Is(err, os.ErrNotExist) || force:
		return writeFile(name, data)
	case err != nil:
		return usagef("%s", plainPathError(name, err))
	case !bytes.Equal(there, data):
		return usagef("%s was changed since the demo wrote it; use another --folder, or --force to write over it", name)
	}
	return nil
}

// writeCheck prints the check and leaves it in the folder as text and JSON.
func (p *Program) writeCheck(o *opened, folder string) error {
	var kept, shown bytes.Buffer
	text.Check(&kept, o.of(false), o.judgement, false)
	text.Check(&shown, o.of(p.Colour), o.judgement, false)
	document, err := encode(checkDocument(o, filepath.Base(o.name)))
	if err != nil {
		return err
	}
	if err := writeFile(filepath.Join(folder, "check.txt"), kept.Bytes()); err != nil {
		return err
	}
	if err := writeFile(filepath.Join(folder, "check.json"), document); err != nil {
		return err
	}
	return p.write(shown.Bytes())
}

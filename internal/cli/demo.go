package cli

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"undersod/examples"
)

func (p *Program) demoCommand() *cobra.Command {
	var folder string
	var force bool
	c := &cobra.Command{
		Use:   "demo",
		Short: "Run the main job on an invented property, wrong reading included",
		Long: `demo writes an invented job into a folder, checks it, draws its sheet, and prints
what it found: one reading was written down wrong on purpose. Nothing in it is a
real place or person.

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
	if err := keepOr(job, examples.Demo(), force); err != nil {
		return err
	}
	o, err := p.open(job)
	if err != nil {
		return err
	}
	drawing := drawing{outputs: []string{
		filepath.Join(folder, "quarry-hollow.pdf"), filepath.Join(folder, "quarry-hollow.svg"),
		filepath.Join(folder, "quarry-hollow.png"), filepath.Join(folder, "quarry-hollow.dxf"),
	}}
	if err := p.drawAll(o, drawing); err != nil {
		return err
	}
	if err := p.writeCheck(o, folder); err != nil {
		return err
	}
	return p.write(fmt.Appendf(nil, "\nWritten into %s: the job (quarry-hollow.yaml), its sheet (.pdf, .svg, .png, .dxf) and this check (check.txt, check.json).\n"+
		"Correct the reading in the job file, then run: undersod check %s\n", folder, job))
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
	var text, shown bytes.Buffer
	if _, err := p.judged(o, ""); err != nil {
		return err
	}
	tell(&text, false, o, false)
	tell(&shown, p.Colour, o, false)
	document, err := encode(checkDocument(o, filepath.Base(o.name)))
	if err != nil {
		return err
	}
	if err := writeFile(filepath.Join(folder, "check.txt"), text.Bytes()); err != nil {
		return err
	}
	if err := writeFile(filepath.Join(folder, "check.json"), document); err != nil {
		return err
	}
	return p.write(shown.Bytes())
}

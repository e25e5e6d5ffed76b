package cli

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"undersod/core/adjust"
	"undersod/core/look"
	"undersod/core/overlay"
	"undersod/core/setback"
	"undersod/core/sheet"
	"undersod/core/unit"
	"undersod/internal/render"
	"undersod/internal/report"
)

// drawing is what the draw command was asked for.
type drawing struct {
	outputs  []string
	paper    string
	scale    string
	pack     string
	ties     bool
	setbacks bool
	clear    *sheet.Clear // setbacks or a fit to be drawn too, nil for none
}

func (p *Program) drawCommand() *cobra.Command {
	var d drawing
	c := &cobra.Command{
		Use:   "draw JOB -o FILE...",
		Short: "Draw the record drawing to scale, as PDF, SVG, PNG or DXF",
		Long: `draw lays the plan out on a sheet at a round scale with labels, tie table,
legend, north arrow, scale bar and title block, and with what the camera found
at its place. The ending of each file name chooses the format: .pdf, .svg, .png
or .dxf. Without --paper and --scale the sheet that the drawing fills best is
chosen.

The drawing is made even where the readings do not allow the hole to be filled
or not everything is checked; the sheet then says so, a line tells it, and the
exit status is 1. Exit status 0: the hole may be filled.`,
		Example: "  undersod draw job.yaml -o drawing.pdf\n  undersod draw job.yaml -o drawing.pdf -o drawing.dxf --paper tabloid --ties",
		Args:    oneJob,
		RunE:    func(_ *cobra.Command, args []string) error { return p.draw(args[0], d) },
	}
	c.Flags().StringArrayVarP(&d.outputs, "output", "o", nil, "file to write; may be given more than once")
	c.Flags().StringVar(&d.paper, "paper", "", "letter, tabloid, a4 or a3")
	c.Flags().StringVar(&d.scale, "scale", "", "feet per inch (20) or a ratio (1:200)")
	c.Flags().BoolVar(&d.ties, "ties", false, "draw the tie lines")
	c.Flags().BoolVar(&d.setbacks, "setbacks", false, "draw the ground that setbacks keep free, and the distances that are short, too close to call or tightest")
	rulesFlag(c, &d.pack)
	return c
}

func (p *Program) draw(job string, d drawing) error {
	if len(d.outputs) == 0 {
		return usagef("say where to draw: undersod draw %s -o drawing.pdf", job)
	}
	if err := drawable(d.outputs); err != nil {
		return err
	}
	if d.pack != "" && !d.setbacks {
		return usagef("--rules draws nothing by itself; add --setbacks")
	}
	o, err := p.open(job)
	if err != nil {
		return err
	}
	if d.setbacks {
		pack, err := packFor(o, d.pack)
		if err != nil {
			return err
		}
		d.clear = overlay.OfTable(&o.result.Job, setback.Judge(&o.result.Job, o.plan, pack))
	}
	if err := p.drawAll(o, d); err != nil {
		return err
	}
	if o.plan.Verdict.Fill != adjust.FillYes {
		p.exit = ExitFound
		p.complain("The drawing is made, but: %s Run undersod check %s.", o.plan.Verdict.Words, job)
	}
	return nil
}

// drawable checks that every name has the ending of a format.
func drawable(names []string) error {
	for _, name := range names {
		if _, ok := render.ByName(name); !ok {
			return usagef("%s: the name must end in .pdf, .svg, .png or .dxf", name)
		}
	}
	return nil
}

// drawAll draws one scene into every file.
func (p *Program) drawAll(o *opened, d drawing) error {
	options, err := d.options()
	if err != nil {
		return err
	}
	options.Findings = report.Marks(&o.result.Job, look.Lay(&o.result.Job, o.plan))
	scene, err := sheet.Draw(o.result.Job, *o.plan, render.Metrics(), options)
	if err != nil {
		return usagef("the sheet cannot be drawn: %v", err)
	}
	for _, name := range d.outputs {
		if err := p.drawInto(name, o, scene); err != nil {
			return err
		}
	}
	return nil
}

// drawInto draws a scene into a file, in the format of its ending.
func (p *Program) drawInto(name string, o *opened, scene sheet.Scene) error {
	write, _ := render.ByName(name, ground(o))
	var b bytes.Buffer
	if err := write(&b, scene); err != nil {
		return usagef("%s cannot be drawn: %v", name, err)
	}
	if err := writeFile(name, b.Bytes()); err != nil {
		return err
	}
	if p.Notes {
		p.complain("wrote %s", name)
	}
	return nil
}

// ground is the unit in which a DXF holds the ground: metres for a metric job.
func ground(o *opened) render.GroundUnit {
	if o.result.Job.Show.Form == unit.Metres {
		return render.Metres
	}
	return render.Feet
}

// writeFile writes a whole file beside its place and then puts it there, so
// that a full disk never leaves half a drawing under the right name.
func writeFile(name string, data []byte) error {
	f, err := os.CreateTemp(filepath.Dir(name), ".undersod-*")
	if err != nil {
		return usagef("%s", plainWriteError(name, err))
	}
	defer os.Remove(f.Name())
	_, err = f.Write(data)
	if err == nil {
		err = f.Chmod(0o644)
	}
	if closeErr := f.Close(); err == nil {
		err = closeErr
	}
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		return usagef("%s", plainWriteError(name, err))
	}
	return nil
}

// plainWriteError tells in words why a file could not be written, naming the
// folder where that is at fault.
func plainWriteError(name string, err error) string {
	folder := filepath.Dir(name)
	info, statErr := os.Stat(folder)
	switch {
	case errors.Is(statErr, os.ErrNotExist):
		return fmt.Sprintf("%s cannot be written: the folder %s does not exist", name, folder)
	case statErr == nil && !info.IsDir():
		return fmt.Sprintf("%s cannot be written: %s is no folder", name, folder)
	case errors.Is(err, os.ErrPermission):
		return fmt.Sprintf("%s cannot be written: permission to write in the folder %s is missing", name, folder)
	}
	return plainPathError(name, err)
}

// options reads the flags.
func (d drawing) options() (sheet.Options, error) {
	o := sheet.Options{Ties: d.ties, Clear: d.clear}
	if d.paper != "" {
		o.Paper = sheet.Paper(strings.ToLower(d.paper))
		if _, _, ok := o.Paper.Size(); !ok {
			return o, usagef("--paper %s is not known; letter, tabloid, a4 and a3 are", d.paper)
		}
	}
	if d.scale == "" {
		return o, nil
	}
	scale, err := readScale(d.scale)
	o.Scale = scale
	return o, err
}

// readScale reads feet per inch, as 20, or a ratio, as 1:200.
func readScale(text string) (sheet.Scale, error) {
	ratio, isRatio := strings.CutPrefix(text, "1:")
	v, err := strconv.Atoi(ratio)
	if err != nil || v < 1 || v > 10000 {
		return 0, usagef("--scale %s is not understood; write feet per inch, as 20, or a ratio, as 1:200", text)
	}
	if !isRatio {
		v *= 12
	}
	return sheet.Scale(v), nil
}

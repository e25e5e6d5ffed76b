package cli

import (
	"slices"

	"github.com/spf13/cobra"

	"undersod/core/site"
	"undersod/internal/cli/keeping"
)

// keepCommands are the commands that keep an archive.
func (p *Program) keepCommands() []*cobra.Command {
	return keeping.Commands(&keeping.Outside{
		Err: p.Err, Notes: p.Notes, Write: p.write, Complain: p.complain, Encode: encode,
		Found:     func() { p.exit = ExitFound },
		PathWords: plainPathError, WriteWords: plainWriteError,
		Photos: func(name string) ([]string, error) {
			o, err := p.open(name)
			if err != nil {
				return nil, err
			}
			return keptPhotos(&o.result.Job), nil
		},
	})
}

// keptPhotos lists every picture that a job names: photos, and the scan of an
// old drawing.
func keptPhotos(job *site.Job) []string {
	names := job.PhotoFiles()
	if r := job.Site.Record; r != nil && r.Drawing != nil && r.Drawing.File != "" && !slices.Contains(names, r.Drawing.File) {
		names = append(names, r.Drawing.File)
	}
	return names
}

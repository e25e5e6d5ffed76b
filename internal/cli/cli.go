// Package cli is the command line: it opens files, calls the core and prints.
// It computes nothing about the site itself.
package cli

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"undersod/core/adjust"
	"undersod/core/judge"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/internal/checkfile"
	"undersod/internal/jobfile"
	"undersod/internal/text"
)

// Exit statuses.
const (
	ExitDone  = 0 // all is well
	ExitFound = 1 // the check found something
	ExitUsage = 2 // bad usage or input
)

// Program is the command line with everything it touches of the outside.
type Program struct {
	In       io.Reader
	Out, Err io.Writer
	Colour   bool // Out is a terminal that shows colour
	Notes    bool // Err is a terminal: tell of progress
	exit     int
}

// usageError is an error whose words are for the user as they stand.
type usageError struct{ words string }

func (e usageError) Error() string { return e.words }

func usagef(format string, args ...any) error { return usageError{fmt.Sprintf(format, args...)} }

// Run runs one command line, without the program's own name, and returns the
// exit status.
func (p *Program) Run(args []string) int {
	p.exit = ExitDone
	root := p.root()
	root.SetArgs(args)
	root.SetIn(p.In)
	root.SetOut(p.Out)
	root.SetErr(p.Err)
	if err := root.Execute(); err != nil {
		p.complain("undersod: %v", err)
		return ExitUsage
	}
	return p.exit
}

func (p *Program) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "undersod",
		Short: "From tape readings to a trusted record of a septic system",
		Long: `undersod adjusts the tape ties, offsets, bearings, satellite fixes and probe
hits of one visit into a plan, says how sure each buried part is, finds readings
that cannot be right while the hole is still open, and draws the record drawing
to scale. It lays camera runs along the lines, reckons how the distribution box
shares its flow, holds field and tank against the house and the permit against
the ground, measures setbacks and says where something new may stand, and writes
the owner's report and the county packet. It keeps sites and their visits in an
archive, and shows them in a browser.

Exit status: 0 done, 1 the check found something, 2 bad usage or input.`,
		Example:       "  undersod demo\n  undersod check job.yaml\n  undersod draw job.yaml -o drawing.pdf\n  undersod report job.yaml\n  undersod card job.yaml D-box\n  undersod fit job.yaml --size 24x16\n  undersod serve --demo",
		SilenceErrors: true, SilenceUsage: true,
	}
	root.CompletionOptions.DisableDefaultCmd = true
	root.AddCommand(p.demoCommand(), p.checkCommand(), p.drawCommand(), p.splitCommand(), p.reportCommand(), p.cardCommand(),
		p.setbacksCommand(), p.fitCommand(), p.checklistCommand(), p.compareCommand(), p.rulesCommand(),
		p.licencesCommand(), p.schemaCommand())
	root.AddCommand(p.keepCommands()...)
	return root
}

// opened is a job file as read, with its plan.
type opened struct {
	name      string
	result    jobfile.Result
	plan      *adjust.Plan
	pack      *rules.Pack      // nil until it is asked for
	judgement *judge.Judgement // nil until it is asked for
}

// of is the job for a text about it.
func (o *opened) of(colour bool) text.Of {
	return text.Of{Name: o.name, Read: o.result, Plan: o.plan, Colour: colour}
}

// open reads and adjusts a job file; "-" is standard input.
func (p *Program) open(name string) (*opened, error) {
	var result jobfile.Result
	var err error
	if name == "-" {
		result, err = jobfile.Read("standard input", p.In)
	} else {
		f, openErr := os.Open(name)
		if openErr != nil {
			return nil, usagef("%s", plainPathError(name, openErr))
		}
		defer f.Close()
		result, err = jobfile.ReadBeside(name, f, os.DirFS(filepath.Dir(name)))
	}
	if err != nil {
		return nil, usagef("%s", plainError(name, err))
	}
	if result.Mistakes() > 0 && len(result.Job.Site.Points) == 0 {
		return nil, usagef("%s", nothingRead(name, result))
	}
	plan := adjust.Solve(&result.Job, adjust.Settings{})
	checkfile.CountMistakes(plan, result.Mistakes())
	return &opened{name: name, result: result, plan: plan}, nil
}

// nothingRead tells that a file holds no job, with everything wrong in it.
func nothingRead(name string, r jobfile.Result) string {
	words := name + " cannot be used: nothing in it could be read as a job"
	for _, p := range r.Problems {
		words += "\n" + strings.TrimRight(r.Show(p), "\n")
	}
	return words
}

// plainError keeps a problem's own words, and hides anything else.
func plainError(name string, err error) string {
	var problem site.Problem
	if errors.As(err, &problem) {
		return problem.Error()
	}
	return plainPathError(name, err)
}

// plainPathError tells in words why a file could not be used.
func plainPathError(name string, err error) string {
	switch {
	case errors.Is(err, os.ErrNotExist):
		return fmt.Sprintf("there is no file %s", name)
	case errors.Is(err, os.ErrPermission):
		return fmt.Sprintf("%s may not be opened: permission is missing", name)
	case errors.Is(err, os.ErrExist):
		return fmt.Sprintf("%s exists already", name)
	}
	var path *os.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	return fmt.Sprintf("%s cannot be used: %v", name, err)
}

// oneJob checks that a command got exactly one job.
func oneJob(c *cobra.Command, args []string) error {
	if len(args) != 1 {
		return usagef("name one job file, as in: %s job.yaml (- reads standard input)", c.CommandPath())
	}
	return nil
}

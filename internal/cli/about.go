package cli

import (
	"github.com/spf13/cobra"

	"undersod/docs"
	"undersod/docs/schema"
)

func (p *Program) licencesCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "licences",
		Short:   "The licence of this program and of everything linked into it",
		Long:    "licences prints the licence of this program and of every module and font linked into it.",
		Example: "  undersod licences",
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			return p.write([]byte(docs.Licences))
		},
	}
}

func (p *Program) schemaCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "schema job|check",
		Short: "Print the JSON Schema of the job file or of check --json",
		Long: `schema prints the published JSON Schema of the job file, for editors that complete
and check while you type, or of what check --json prints.`,
		Example: "  undersod schema job > job.schema.json",
		Args:    cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			var text []byte
			switch args[0] {
			case "job":
				text = schema.Job()
			case "check":
				text = schema.Check()
			default:
				return usagef("there is no schema %q; there are job and check", args[0])
			}
			return p.write(text)
		},
	}
}

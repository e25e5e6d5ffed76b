package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"undersod/core/english"
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
	names := strings.Join(schema.Names(), "|")
	return &cobra.Command{
		Use:   "schema " + names,
		Short: "Print the JSON Schema of the job file, of a rule pack, or of what --json prints",
		Long: `schema prints the published JSON Schema of the job file or of a rule pack, for
editors that complete and check while you type, or of what a command prints with
--json.`,
		Example: "  undersod schema job > job.schema.json",
		Args:    cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			text, ok := schema.ByName(args[0])
			if !ok {
				return usagef("there is no schema %q; there are %s", args[0], english.Join(schema.Names(), "and"))
			}
			return p.write(text)
		},
	}
}

package cli

import (
	"bytes"
	"strings"

	"github.com/spf13/cobra"

	"undersod/core/rules"
	"undersod/internal/clearfile"
	"undersod/internal/text"
)

func (p *Program) rulesCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "rules",
		Short: "The rule packs that setbacks, field, tank and ages are judged by",
		Long: `rules lists the rule packs and shows the numbers of one, each with its source and
how far it can be trusted. To change a number, for a county of your own or a
service life, write a pack into a file, edit it, and name the file in the job
(rules: my-county.json) or with --rules; lying beside the job it is found by its
name alone, as my-county. rules check tells what is wrong in it, and in every
pack of a folder. rules show common has the service lives
and how often to look, which hold for every pack without its own: copy them into
yours to change them. A pack is a copy of numbers, not the law: the local
authority decides.`,
		Example: "  undersod rules list\n  undersod rules show washington > my-county.json",
		Args:    cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return usagef("undersod rules has no %q; it has list, show and check", args[0])
			}
			return c.Help()
		},
	}
	c.AddCommand(p.rulesList(), p.rulesShow(), p.rulesCheck())
	return c
}

func (p *Program) rulesList() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "list",
		Short: "The rule packs that the program carries",
		Args:  cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			if asJSON {
				return p.writeJSON(clearfile.MakePacks(clearfile.Builtin()))
			}
			var out bytes.Buffer
			text.Packs(&out, p.Colour)
			return p.write(out.Bytes())
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print the list as JSON")
	return c
}

// writeJSON prints a document.
func (p *Program) writeJSON(document any) error {
	data, err := encode(document)
	if err != nil {
		return err
	}
	return p.write(data)
}

func (p *Program) rulesShow() *cobra.Command {
	return &cobra.Command{
		Use:     "show NAME",
		Short:   "The numbers of one pack with their sources, as a file to edit",
		Example: "  undersod rules show federal > my-county.json",
		Args:    cobra.ArbitraryArgs,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return usagef("name one rule pack: %s", strings.Join(rules.Names(), ", "))
			}
			if args[0] == rules.CommonName {
				return p.write(rules.CommonText())
			}
			pack, ok := rules.ByName(args[0])
			if !ok {
				return usagef("%s", rules.NoPack(args[0]))
			}
			text, _ := rules.Text(pack.Name)
			return p.write(text)
		},
	}
}

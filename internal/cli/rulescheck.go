package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"undersod/internal/clearfile"
	"undersod/internal/text"
)

func (p *Program) rulesCheck() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "check FILE...",
		Short: "Read rule packs of your own and tell what is wrong, by line and key",
		Long: `check reads rule packs of your own, or every .json file of a folder, and tells
everything that is wrong in them: the file, the line, the key, what was read,
what was expected, and an example.

Exit status: 0 every pack can be used, 1 one has errors, 2 a file cannot be
opened.`,
		Example: "  undersod rules check my-county.json\n  undersod rules check rule-packs",
		Args:    cobra.ArbitraryArgs,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usagef("name a rule pack of your own, or a folder of them, as in: undersod rules check my-county.json")
			}
			return p.checkPacks(args, asJSON)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print what was found as JSON")
	return c
}

// checkPacks reads each file and tells what is wrong in it.
func (p *Program) checkPacks(args []string, asJSON bool) error {
	var out bytes.Buffer
	var packs []clearfile.Pack
	for _, arg := range args {
		files, err := packFiles(arg)
		if err != nil {
			return err
		}
		for _, name := range files {
			data, err := os.ReadFile(name)
			if err != nil {
				return usagef("%s", plainPathError(name, err))
			}
			packs = append(packs, clearfile.ReadPack(name, data))
			if !text.Pack(&out, p.Colour, name, data) {
				p.exit = ExitFound
			}
		}
	}
	if asJSON {
		return p.writeJSON(clearfile.MakePacks(packs))
	}
	return p.write(out.Bytes())
}

// packFiles lists the files that an argument names: itself, or every .json file
// of a folder.
func packFiles(name string) ([]string, error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, usagef("%s", plainPathError(name, err))
	}
	if !info.IsDir() {
		return []string{name}, nil
	}
	entries, err := os.ReadDir(name)
	if err != nil {
		return nil, usagef("%s", plainPathError(name, err))
	}
	var out []string
	for _, e := range entries {
		if !e.IsDir() && filepath.Ext(e.Name()) == ".json" {
			out = append(out, filepath.Join(name, e.Name()))
		}
	}
	if len(out) == 0 {
		return nil, usagef("there is no .json file in the folder %s", name)
	}
	slices.Sort(out)
	return out, nil
}

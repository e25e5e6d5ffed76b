package cli

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"undersod/core/judge"
	"undersod/core/rules"
	"undersod/core/site"
)

// rulesFlag adds the choice of a rule pack to a command.
func rulesFlag(c *cobra.Command, pack *string) {
	c.Flags().StringVar(pack, "rules", "", "rule pack to judge by: a name, or a file of your own; the job's choice without it")
}

// judged draws the judgements of an opened job by a rule pack, once.
func (p *Program) judged(o *opened, pack string) (*judge.Judgement, error) {
	if o.judgement != nil {
		return o.judgement, nil
	}
	chosen, err := choosePack(o, pack)
	if err != nil && pack != "" {
		return nil, err
	}
	if err != nil { // the job names it: the rest of the job still opens
		o.result.Problems = append(o.result.Problems, site.Problem{Place: site.Place{File: o.name}, Subject: "rules",
			Found: o.result.Job.Site.Rules, Expected: "a rule pack: " + packNames(), Advice: err.Error() + ". Nothing is judged by rules until then."})
		chosen, _ = rules.ByName(ownPack)
	}
	o.judgement = judge.Judge(&o.result.Job, o.plan, chosen)
	return o.judgement, nil
}

// ownPack is the pack without a number in it.
const ownPack = "own"

// choosePack finds the rule pack that a flag or the job names.
func choosePack(o *opened, flag string) (*rules.Pack, error) {
	name := flag
	if name == "" {
		name = o.result.Job.Site.Rules
	}
	if name == "" {
		return rules.Default(), nil
	}
	if pack, ok := rules.ByName(name); ok {
		return pack, nil
	}
	if filepath.Ext(name) != ".json" {
		return nil, usagef("%s, or name a file of your own that ends in .json", noPack(name))
	}
	if flag == "" { // the job names it: beside the job
		name = filepath.Join(filepath.Dir(o.name), name)
	}
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, usagef("%s", plainPathError(name, err))
	}
	pack, err := rules.Parse(name, data)
	if err != nil {
		return nil, usagef("%v", err)
	}
	return pack, nil
}

// noPack tells that no pack has a name, with the nearest that one has.
func noPack(name string) string {
	words := fmt.Sprintf("there is no rule pack %q; there are %s", name, packNames())
	if near, ok := rules.Nearest(name); ok {
		words += fmt.Sprintf("; did you mean %q?", near)
	}
	return words
}

func packNames() string {
	var names []string
	for _, p := range rules.Builtin() {
		names = append(names, p.Name)
	}
	return strings.Join(names, ", ")
}

// folderOf is the folder that the files of a job lie in.
func folderOf(o *opened) (string, error) {
	if o.name == "-" {
		folder, err := os.Getwd()
		if err != nil {
			return "", errors.New("the folder of the job's files is not known; name the job file instead of -")
		}
		return folder, nil
	}
	return filepath.Dir(o.name), nil
}

// baseName is a job's file name without its ending, for what is made of it.
func baseName(o *opened) string {
	if o.name == "-" {
		return "job"
	}
	base := filepath.Base(o.name)
	return strings.TrimSuffix(base, filepath.Ext(base))
}

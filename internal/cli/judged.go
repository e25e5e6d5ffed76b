package cli

import (
	"errors"
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
	c.Flags().StringVar(pack, "rules", "", "rule pack to judge by: a name (of rules list, or of NAME.json beside the job) or a file; without it the job's choice")
}

// judged draws the judgements of an opened job by a rule pack, once.
func (p *Program) judged(o *opened, pack string) (*judge.Judgement, error) {
	if o.judgement != nil {
		return o.judgement, nil
	}
	chosen, err := packFor(o, pack)
	if err != nil {
		return nil, err
	}
	o.judgement = judge.Judge(&o.result.Job, o.plan, chosen)
	return o.judgement, nil
}

// packFor finds the rule pack of an opened job, once: one that a flag names
// must be there; one that the job names is told among its problems where it is
// not, and the rest of the job still opens.
func packFor(o *opened, flag string) (*rules.Pack, error) {
	if o.pack != nil {
		return o.pack, nil
	}
	chosen, err := choosePack(o, flag)
	if err != nil && flag != "" {
		return nil, err
	}
	if err != nil {
		expected, advice := rules.Absent(err.Error())
		o.result.Problems = append(o.result.Problems, site.Problem{Place: site.Place{File: o.name}, Subject: "rules",
			Found: o.result.Job.Site.Rules, Expected: expected, Advice: advice})
		chosen, _ = rules.ByName(rules.OwnName)
	}
	o.pack = chosen
	return chosen, nil
}

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
	beside := filepath.Join(filepath.Dir(o.name), name)
	switch {
	case filepath.Ext(name) != ".json": // by its name alone: a file beside the job
		switch {
		case isFile(beside + ".json"):
			name = beside + ".json"
		case flag != "" && isFile(name+".json"):
			name += ".json"
		default:
			return nil, usagef("%s, or name a file of your own that ends in .json", rules.NoPack(name))
		}
	case flag == "": // the job names it: beside the job
		name = beside
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

func isFile(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.Mode().IsRegular()
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

package jobfile

import (
	"fmt"
	"io"

	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile/tree"
)

// ReadProposed reads what is to be built in place of what a known job proposes:
// YAML or JSON in the shape of proposed in a job file. bare is what a number
// without a unit means. The result's Job is the known one with what was read
// under Proposed; the Problems are those of what was read. The error is as of
// Read.
func ReadProposed(name string, r io.Reader, known site.Job, bare unit.Form) (result Result, err error) {
	src, err := readAll(name, r)
	if err != nil {
		return Result{}, err
	}
	root, _, err := tree.Parse(name, src)
	if err != nil {
		return Result{}, err
	}
	defer func() {
		if p := recover(); p != nil {
			result = Result{}
			err = tree.Refusal(name, 0, 0, "", "", fmt.Sprintf("Reading it failed inside the program (%v). Please report this with the file.", p))
		}
	}()
	rd := newReader(name, src, nil)
	rd.adopt(known)
	rd.Bare = bare
	for _, f := range known.Site.Features {
		rd.featured[f.Name] = true
	}
	for _, b := range known.Site.Buildings {
		rd.built[b.Name] = true
	}
	rd.job.Site.Proposed = nil
	rd.readProposed(root)
	return Result{Job: rd.job, Problems: rd.Problems, Sources: rd.sources}, nil
}

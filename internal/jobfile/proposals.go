package jobfile

import (
	"io"

	"undersod/core/site"
	"undersod/core/unit"
	"undersod/internal/jobfile/tree"
)

// ReadProposed reads what is to be built in place of what a known job proposes,
// in the shape of proposed in a job file. bare is what a number without a unit
// means. The result's Job is the known one with what was read; the Problems are
// those of what was read. The error is as of Read.
func ReadProposed(name string, r io.Reader, known site.Job, bare unit.Form) (result Result, err error) {
	defer rescue(name, &result, &err)
	src, err := readAll(name, r)
	if err != nil {
		return Result{}, err
	}
	root, _, err := tree.Parse(name, src)
	if err != nil {
		return Result{}, err
	}
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
	return Result{rd.job, rd.Problems, rd.sources}, nil
}

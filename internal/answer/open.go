package answer

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"strings"
	"sync"

	"undersod/core/adjust"
	"undersod/core/english"
	"undersod/core/judge"
	"undersod/core/rules"
	"undersod/core/site"
	"undersod/internal/checkfile"
	"undersod/internal/jobfile"
)

// opened is a job as read and adjusted. Nothing changes it afterwards but the
// judgements, which are drawn when they are asked for.
type opened struct {
	name   string
	result jobfile.Result
	plan   *adjust.Plan

	mu     sync.Mutex
	judged map[string]*judge.Judgement // by pack
}

// key names what an answer is made from.
func key(parts ...string) string {
	h := sha256.New()
	for _, p := range parts {
		fmt.Fprintf(h, "%d:%s,", len(p), p)
	}
	return string(h.Sum(nil))
}

// make once makes a value that is not kept yet, in a turn of its own.
func once[T any](ctx context.Context, d *Desk, k *kept[T], name string, size func(T) int, f func(context.Context) (T, error)) (T, error) {
	var none T
	for {
		if v, ok := k.get(name); ok {
			return v, nil
		}
		m, first := k.begin(name)
		if first {
			return lead(ctx, d, k, m, name, size, f)
		}
		select {
		case <-m.done:
			if m.err == nil || !errors.Is(m.err, context.Canceled) && !errors.Is(m.err, context.DeadlineExceeded) {
				return m.value, m.err
			} // whoever made it gave up, which is not this one's affair
		case <-ctx.Done():
			return none, ctx.Err()
		}
	}
}

// lead makes a value for everybody who waits for it. A fault in what makes it
// must not keep the others waiting, nor take the server down.
func lead[T any](ctx context.Context, d *Desk, k *kept[T], m *making[T], name string, size func(T) int, f func(context.Context) (T, error)) (T, error) {
	defer k.end(name, m)
	done, err := d.turn(ctx)
	if err != nil {
		if done != nil {
			done()
		}
		m.err = err
		return m.value, err
	}
	defer done()
	m.value, m.err = guarded(ctx, f)
	if m.err == nil {
		k.put(name, m.value, size(m.value))
	}
	return m.value, m.err
}

// guarded turns a fault of the program into an error.
func guarded[T any](ctx context.Context, f func(context.Context) (T, error)) (v T, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			err = faulty{fault}
		}
	}()
	return f(ctx)
}

// faulty is a fault of the program, whose words are not for a person.
type faulty struct{ fault any }

func (f faulty) Error() string { return fmt.Sprintf("a fault in the program: %v", f.fault) }

// open reads and adjusts a job.
func (d *Desk) open(ctx context.Context, j Job) (*opened, error) {
	name := key(j.name(), string(j.Bytes))
	return once(ctx, d, d.jobs, name, func(*opened) int { return 4*len(j.Bytes) + 1<<14 }, func(ctx context.Context) (*opened, error) { return read(ctx, j) })
}

// read reads a job, which stands alone: files that it imports are not here.
func read(ctx context.Context, j Job) (*opened, error) {
	result, err := jobfile.Read(j.name(), bytes.NewReader(j.Bytes))
	if err != nil {
		return nil, refused("%s", problemWords(err))
	}
	job := &result.Job
	switch {
	case result.Mistakes() > 0 && len(job.Site.Points) == 0:
		return nil, refused("%s", nothingRead(result))
	case len(job.Site.Points) > MostPoints:
		return nil, refused("the job has %d points; at most %d are answered here, and the command line answers more", len(job.Site.Points), MostPoints)
	case len(job.Visit.Readings) > MostRead:
		return nil, refused("the job has %d readings; at most %d are answered here, and the command line answers more", len(job.Visit.Readings), MostRead)
	case ctx.Err() != nil:
		return nil, ctx.Err()
	}
	plan := adjust.Solve(job, adjust.Settings{})
	checkfile.CountMistakes(plan, result.Mistakes())
	return &opened{name: j.name(), result: result, plan: plan, judged: map[string]*judge.Judgement{}}, nil
}

// problemWords keeps a problem's own words, and hides anything else.
func problemWords(err error) string {
	if p, ok := errors.AsType[site.Problem](err); ok {
		return p.Error()
	}
	return "the job file cannot be read"
}

// nothingRead tells that a file holds no job, with the first of what is wrong.
func nothingRead(r jobfile.Result) string {
	const most = 5
	var words strings.Builder
	words.WriteString("nothing in the file could be read as a job")
	for i, p := range r.Problems {
		if i == most {
			fmt.Fprintf(&words, "\nand %d more", len(r.Problems)-most)
			break
		}
		words.WriteString("\n" + jobfile.Visible(p.Error()))
	}
	return words.String()
}

// pack finds the rule pack that is asked for, or else the job's choice. The
// pack without numbers, and a problem to tell, where the job names one that is
// not here: a pack of one's own lies beside a job in a folder.
func (o *opened) pack(asked string) (*rules.Pack, []site.Problem, error) {
	name := asked
	if name == "" {
		name = o.result.Job.Site.Rules
	}
	if name == "" {
		name = rules.DefaultName
	}
	if pack, ok := builtin()[english.Plain(strings.TrimSpace(name))]; ok {
		return pack, nil, nil
	}
	if asked != "" {
		return nil, nil, refused("%s", rules.NoPack(asked))
	}
	expected, advice := rules.Absent(rules.NoPack(name))
	return builtin()[rules.OwnName], []site.Problem{{Place: site.Place{File: o.name}, Subject: "rules", Found: name, Expected: expected, Advice: advice}}, nil
}

// builtin is the packs that come with the program by their plain names, read
// once: an answer only looks at them.
var builtin = sync.OnceValue(func() map[string]*rules.Pack {
	packs := map[string]*rules.Pack{}
	for _, p := range rules.Builtin() {
		packs[english.Plain(p.Name)] = p
	}
	return packs
})

// judgement draws the judgements by a pack, once.
func (o *opened) judgement(pack *rules.Pack) *judge.Judgement {
	o.mu.Lock()
	defer o.mu.Unlock()
	j, ok := o.judged[pack.Name]
	if !ok {
		j = judge.Judge(&o.result.Job, o.plan, pack)
		o.judged[pack.Name] = j
	}
	return j
}

// head names the job of a document.
func (o *opened) head() checkfile.Job {
	return checkfile.Job{File: o.name, Site: o.result.Job.Site.Name, Date: o.result.Job.Visit.Date}
}

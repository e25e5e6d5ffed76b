// Package answer is what the command line computes, for whoever holds a job's
// bytes in place of a folder: whether the hole may be filled, how the box
// splits, what setbacks ask, where something fits, the reports, cards and
// drawings, and the heading by which an archive finds it again.
//
// The same bytes give the same answer, so that answers are kept for a while by
// what they were made from. Every error is in words for a person, and of one of
// the kinds that archive lists, or ErrBusy.
package answer

import (
	"context"
	"encoding/json"
	"errors"
	"io/fs"
	"time"

	"undersod/internal/archive"
)

// Job is what is asked about.
type Job struct {
	Format string // "yaml" or "json", for the name that messages give the file
	Bytes  []byte
	// Photos holds the pictures by the names that the job gives them; nil for none.
	// They count as changed when Pictures does.
	Photos   fs.FS
	Pictures string // tells one state of the pictures from another: their hashes
	Pack     string // name of the rule pack to judge by; empty for the job's choice
}

// name is what messages call the file.
func (j Job) name() string {
	if j.Format == "json" {
		return "job.json"
	}
	return "job.yaml"
}

// File is an answer that is a file.
type File struct {
	Type   string // media type
	Ending string // of a file's name, with its dot
	Bytes  []byte
}

// ErrBusy says that so many answers are being made that this one must wait.
var ErrBusy = errors.New("many answers are being made at this moment; try again soon")

// What a desk does at most. The search for wrong readings is what costs: 300
// points of which fifty readings are wrong hold a processor for some seconds, 500
// for half a minute, 2,000 for many minutes (measured, on a busy machine of two
// processors). A property has a tenth of that.
const (
	atOnce      = 2
	mostWaiting = 64
	MostPoints  = 300  // of a job that is answered; it can be kept all the same
	MostRead    = 1500 // readings

	openedKept = 64       // jobs
	openedRoom = 64 << 20 // bytes of what they were read from, times what reading adds
	filesRoom  = 64 << 20 // bytes of files
)

// Desk answers, and keeps what it answered last. Its methods may be called from
// many sides at once.
type Desk struct {
	slots    chan struct{}
	waiting  chan struct{}
	pictures chan struct{} // being written anew
	jobs     *kept[*opened]
	files    *kept[File]
}

// New returns a desk.
func New() *Desk {
	return &Desk{
		slots: make(chan struct{}, atOnce), waiting: make(chan struct{}, mostWaiting), pictures: make(chan struct{}, atOnce),
		jobs: newKept[*opened](openedKept, openedRoom), files: newKept[File](256, filesRoom),
	}
}

// slotPatience is how long an answer waits for its turn.
const slotPatience = 20 * time.Second

// turn waits for a processor. Whoever got one must call done.
func (d *Desk) turn(ctx context.Context) (done func(), err error) {
	select {
	case d.waiting <- struct{}{}:
	default:
		return nil, ErrBusy
	}
	defer func() { <-d.waiting }()
	timer := time.NewTimer(slotPatience)
	defer timer.Stop()
	select {
	case d.slots <- struct{}{}:
		return func() { <-d.slots }, ctx.Err()
	case <-timer.C:
		return nil, ErrBusy
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// JSON returns a document of a job as JSON, kept by what names it: what is asked
// and all that it is asked with beside the job.
func (d *Desk) JSON(ctx context.Context, j Job, what string, f func(context.Context) (any, error)) ([]byte, error) {
	name := key("JSON", what, j.Pack, j.name(), string(j.Bytes))
	if kept, ok := d.files.get(name); ok {
		return kept.Bytes, nil
	}
	document, err := f(ctx)
	if err != nil {
		return nil, err
	}
	text, err := json.Marshal(document)
	if err != nil {
		return nil, err
	}
	d.files.put(name, File{"application/json", ".json", text}, len(text)+512)
	return text, nil
}

func refused(format string, args ...any) error {
	return archive.Told(archive.ErrRefused, format, args...)
}

func notThere(format string, args ...any) error {
	return archive.Told(archive.ErrNotFound, format, args...)
}

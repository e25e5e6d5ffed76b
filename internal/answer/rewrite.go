package answer

import (
	"bytes"
	"errors"
	"io/fs"
	"path"
	"time"

	"undersod/internal/photo"
)

// How large pictures are kept, in dots along the longer side, and how fine.
const (
	fullSide      = 2400
	fullQuality   = 85
	smallSide     = 320
	smallQuality  = 75
	pictureInside = "picture"
)

// Rewrite implements archive.Rewrite: it checks a picture, bounds it and writes
// it anew as a JPEG from its dots, in full and small. Two at a time are made,
// as each may fill hundreds of megabytes while it is open.
func (d *Desk) Rewrite(picture []byte) (full, thumbnail []byte, width, height int, err error) {
	d.pictures <- struct{}{}
	defer func() { <-d.pictures }()
	defer func() {
		if fault := recover(); fault != nil {
			err = errors.New("the picture could not be read; save it as a JPEG and send it again")
		}
	}()
	large, err := photo.Prepare(lone(picture), pictureInside, photo.Options{LongSide: fullSide, Quality: fullQuality})
	if err != nil {
		return nil, nil, 0, 0, err
	}
	// The small one is made of the bounded one, which is quickly opened.
	small, err := photo.Prepare(lone(large.Picture.JPEG), pictureInside, photo.Options{LongSide: smallSide, Quality: smallQuality})
	if err != nil {
		return nil, nil, 0, 0, err
	}
	return large.Picture.JPEG, small.Picture.JPEG, large.Picture.Wide, large.Picture.High, nil
}

// lone is a folder of one file.
type lone []byte

// Open opens the file.
func (l lone) Open(name string) (fs.File, error) {
	if name != pictureInside {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return Open(name, l), nil
}

// Open returns bytes as an open file of a name, for a folder of one's own.
func Open(name string, content []byte) fs.File {
	return &inMemory{bytes.NewReader(content), path.Base(name), int64(len(content))}
}

// inMemory is bytes as an open file.
type inMemory struct {
	*bytes.Reader
	name string
	size int64
}

func (f *inMemory) Stat() (fs.FileInfo, error) { return f, nil }
func (f *inMemory) Close() error               { return nil }
func (f *inMemory) Name() string               { return f.name }
func (f *inMemory) Size() int64                { return f.size }
func (f *inMemory) Mode() fs.FileMode          { return 0o444 }
func (f *inMemory) ModTime() time.Time         { return time.Time{} }
func (f *inMemory) IsDir() bool                { return false }
func (f *inMemory) Sys() any                   { return nil }

package photo

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
)

// What to do about a file, at the end of an error.
const (
	copyAgain = "copy it again from the camera or phone"
	saveAnew  = "open it in a picture program and save it as JPEG"
)

// readFile returns the whole content of a plain file of bounded size.
func readFile(fsys fs.FS, name string, most int) ([]byte, error) {
	if !fs.ValidPath(name) {
		return nil, errors.New("its name must be a path below the job's folder with / between folders, as photos/box.jpg")
	}
	// Asked first, because opening a pipe would wait for ever.
	info, err := fs.Stat(fsys, name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, errors.New("there is no such file; compare the name with that of the file, capital letters too")
	case err != nil:
		return nil, unreadable(err)
	case info.IsDir():
		return nil, errors.New("it is a folder; name a picture in it, as photos/box.jpg")
	case !info.Mode().IsRegular():
		return nil, errors.New("it is no plain file; give a picture")
	case info.Size() > int64(most):
		return nil, tooLarge(info.Size(), most)
	}
	f, err := fsys.Open(name)
	if err != nil {
		return nil, unreadable(err)
	}
	defer f.Close()
	var b bytes.Buffer
	b.Grow(int(info.Size()) + bytes.MinRead)
	n, err := b.ReadFrom(io.LimitReader(f, int64(most)+1)) // it may have grown since
	switch {
	case err != nil:
		return nil, unreadable(err)
	case n > int64(most):
		return nil, tooLarge(n, most)
	case n == 0:
		return nil, fmt.Errorf("it is empty; %s", copyAgain)
	}
	return b.Bytes(), nil
}

func tooLarge(size int64, most int) error {
	return fmt.Errorf("it has %.1f MB, and at most %.1f MB are read; %s with fewer dots", float64(size)/1e6, float64(most)/1e6, saveAnew)
}

// unreadable leaves out the path, which the reader of the error knows.
func unreadable(err error) error {
	if path := (*fs.PathError)(nil); errors.As(err, &path) {
		err = path.Err
	}
	return fmt.Errorf("it cannot be opened: %w; see whether you may read it", err)
}

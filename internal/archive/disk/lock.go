package disk

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// ErrTaken means that another program has a folder open.
var ErrTaken = errors.New("another undersod has this folder open; end it first")

// Lock keeps every other program that asks out of a folder, until it is closed
// or the process ends, however it ends. The file it makes stays: it means
// nothing by itself.
type Lock struct{ f *os.File }

// TakeLock takes the lock of a folder by a file in it; ErrTaken where another
// process, or this one, has it.
func TakeLock(file string) (*Lock, error) {
	f, err := openAlone(file)
	if taken(err) {
		return nil, fmt.Errorf("%s: %w", filepath.Base(filepath.Dir(file)), ErrTaken)
	}
	if err != nil {
		return nil, Fault(file, err)
	}
	return &Lock{f}, nil
}

// Close gives the folder free.
func (l *Lock) Close() error { return l.f.Close() }
